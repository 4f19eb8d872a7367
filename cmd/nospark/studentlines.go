package main

import (
	"bytes"
	"errors"
	"regexp"
	"slices"
	"strings"

	"golang.org/x/text/encoding/unicode"

	"nospark/scenarios/roster"
	"nospark/scenarios/tabular"
)

// lineEnd is an end of a line as people's programs write it.
var lineEnd = regexp.MustCompile("\r\n|\n|\r")

// withoutLines takes the student's lines out of a list and gives them; every other byte stays, but that UTF-16 becomes
// UTF-8. Lines are the student's by a column that tells who somebody is or, where that says nothing, whose sheet it is.
// In a list of a lab, which has codes, their ends stay: what the instructor decided names lines by their numbers. No
// line, no bytes.
func (s *studentIn) withoutLines(data []byte, codes []string) (kept []byte, gone []string, err error) {
	if order, wide := tabular.WideOrder(data); wide {
		if data, err = unicode.UTF16(order, unicode.UseBOM).NewDecoder().Bytes(data); err != nil {
			return nil, nil, err
		}
	}
	text, err := tabular.Read(data, tabular.Options{Known: roster.IsIdentity})
	if err != nil {
		return nil, nil, err
	}
	begins := []int{0} // of lines, in bytes
	for _, end := range lineEnd.FindAllIndex(data, -1) {
		begins = append(begins, end[1])
	}
	at := 0
	var columns identities
	for i, row := range text.Rows {
		if columns == nil {
			columns = identitiesOf(row.Cells)
			continue
		}
		if !s.ownLine(row.Cells, columns, codes) || row.Line > len(begins) {
			continue
		}
		from, to := begins[row.Line-1], len(data)
		if i+1 < len(text.Rows) && text.Rows[i+1].Line <= len(begins) {
			to = begins[text.Rows[i+1].Line-1]
		}
		gone = append(gone, strings.TrimRight(string(data[from:to]), "\r\n"))
		kept = append(kept, data[at:from]...)
		if codes != nil {
			kept = append(kept, bytes.Join(lineEnd.FindAll(data[from:to], -1), nil)...)
		}
		at = to
	}
	if len(gone) == 0 {
		return nil, nil, nil
	}
	kept = append(kept, data[at:]...)
	if again, err := tabular.Read(kept, tabular.Options{Known: roster.IsIdentity}); err != nil ||
		written(again.Rows) != written(text.Rows)-len(gone) {
		return nil, nil, errors.New("its lines cannot be told apart for sure; take the student's out by hand")
	}
	return kept, gone, nil
}

// written counts the rows in which something stands.
func written(rows []tabular.Row) int {
	n := 0
	for _, row := range rows {
		if strings.Join(row.Cells, "") != "" {
			n++
		}
	}
	return n
}

// identities are the columns of a list that say who somebody is, and whose sheet something is.
type identities []identity

type identity struct {
	column int
	sheet  bool
}

// identitiesOf finds them in a heading; nil for a line that is none.
func identitiesOf(cells []string) identities {
	var list identities
	for i, cell := range cells {
		sheet := slices.Contains([]string{"sheet", "sheet code"}, tabular.Fold(cell))
		if sheet || roster.IsIdentity(cell) || slices.Contains([]string{"student", "old"}, tabular.Fold(cell)) {
			list = append(list, identity{i, sheet})
		}
	}
	return list
}

// ownLine tells a line of the student. Somebody else can have worked on the student's sheet: then the id says so.
func (s *studentIn) ownLine(cells []string, columns identities, codes []string) bool {
	anybody, onSheet := false, false
	for _, c := range columns {
		switch {
		case c.column >= len(cells) || strings.TrimSpace(cells[c.column]) == "":
		case c.sheet:
			onSheet = onSheet || slices.Contains(codes, strings.ToUpper(cells[c.column]))
		case s.is(cells[c.column]):
			return true
		default:
			anybody = true
		}
	}
	return onSheet && !anybody
}

// block is where a block of a list of corrections begins.
var block = regexp.MustCompile(`(?m)^[ \t]*\[`)

// whoseBlock finds the line of a block that says who or whose sheet is meant.
var whoseBlock = regexp.MustCompile(`(?m)^[ \t]*(?:student|sheet)[ \t]*=[ \t]*["']([^"'\r\n]*)["']`)

// withoutBlocks takes the student's blocks out of adjust.toml and gives them.
func (s *studentIn) withoutBlocks(data []byte, codes []string) (kept []byte, gone []string) {
	begins := block.FindAllIndex(data, -1)
	if len(begins) == 0 {
		return data, nil
	}
	kept = bytes.Clone(data[:begins[0][0]])
	for i, b := range begins {
		end := len(data)
		if i+1 < len(begins) {
			end = begins[i+1][0]
		}
		text := data[b[0]:end]
		own := false
		for _, m := range whoseBlock.FindAllSubmatch(text, -1) {
			own = own || s.is(string(m[1])) || slices.Contains(codes, strings.ToUpper(string(m[1])))
		}
		if own {
			gone = append(gone, strings.TrimRight(string(text), "\r\n"))
			continue
		}
		kept = append(kept, text...)
	}
	return kept, gone
}
