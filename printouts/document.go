package printouts

import (
	"fmt"
	"time"

	"nospark/printouts/page"
	"nospark/scenarios/handout"
)

// newDocument begins a document of a handout. Its title names the lab and what the document is, nobody and no sheet.
func newDocument(h handout.Handout, what string) (*page.Document, error) {
	options, err := optionsOf(h, what)
	return page.New(options), err
}

// newSheets begins a document whose sections are handed out one by one: printed on both sides, each begins on a front, so that no piece
// of paper belongs to two students.
func newSheets(h handout.Handout, what string) (*page.Document, error) {
	options, err := optionsOf(h, what)
	options.FrontPages = true
	return page.New(options), err
}

func optionsOf(h handout.Handout, what string) (page.Options, error) {
	date, err := time.Parse(time.DateOnly, h.Date)
	if err != nil {
		err = fmt.Errorf("date %q of the lab: must be like 2026-10-05", h.Date)
	}
	return page.Options{Paper: h.Paper, Title: h.Title + ", " + what, Subject: h.Program, Date: date}, err
}

// Only gives the handout with one sheet alone, for a copy that was lost.
func Only(h handout.Handout, code string) (handout.Handout, error) {
	for i, w := range h.Worksheets {
		if w.Code == code {
			h.Worksheets, h.Readings = h.Worksheets[i:i+1], h.Readings[i:i+1]
			return h, nil
		}
	}
	return h, fmt.Errorf("sheet %q: the lab has no such sheet", code)
}

// Split cuts a handout into handouts of at most n sheets. A document holds all its pages in memory until it is complete, so a large
// school prints several.
func Split(h handout.Handout, n int) []handout.Handout {
	var parts []handout.Handout
	n = max(n, 1)
	for from := 0; from < len(h.Worksheets); from += n {
		to := min(from+n, len(h.Worksheets))
		part := h
		part.Worksheets, part.Readings = h.Worksheets[from:to], h.Readings[from:to]
		parts = append(parts, part)
	}
	return parts
}
