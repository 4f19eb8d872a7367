package printouts

import (
	"fmt"
	"time"

	"nospark/printouts/page"
	"nospark/scenarios"
)

// newDocument begins a document of a handout. Its title names the lab and what the document is, nobody and no sheet.
func newDocument(h scenarios.Handout, what string) (*page.Document, error) {
	date, err := time.Parse(time.DateOnly, h.Date)
	if err != nil {
		return nil, fmt.Errorf("date %q of the lab: must be like 2026-10-05", h.Date)
	}
	return page.New(page.Options{Paper: h.Paper, Title: h.Title + ", " + what, Subject: h.Program, Date: date}), nil
}

// Only gives the handout with one sheet alone, for a copy that was lost.
func Only(h scenarios.Handout, code string) (scenarios.Handout, error) {
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
func Split(h scenarios.Handout, n int) []scenarios.Handout {
	var parts []scenarios.Handout
	for from := 0; from < len(h.Worksheets); from += n {
		to := min(from+n, len(h.Worksheets))
		part := h
		part.Worksheets, part.Readings = h.Worksheets[from:to], h.Readings[from:to]
		parts = append(parts, part)
	}
	return parts
}
