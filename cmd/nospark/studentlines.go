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
// UTF-8. Lines are the student's by a column that tells who somebody is, or whose sheet. No line, no bytes.
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
	var columns []int
	for i, row := range text.Rows {
		if columns == nil {
			columns = identities(row.Cells)
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
		at = to
	}
	if len(gone) == 0 {
		return nil, nil, nil
	}
	kept = append(kept, data[at:]...)
	if again, err := tabular.Read(kept, tabular.Options{Known: roster.IsIdentity}); err != nil ||
		len(again.Rows) != len(text.Rows)-len(gone) {
		return nil, nil, errors.New("its lines cannot be told apart for sure; take the student's out by hand")
	}
	return kept, gone, nil
}

// identities finds the columns of a heading that say who or whose sheet something is; nil for a line that is none.
func identities(cells []string) []int {
	var columns []int
	for i, cell := range cells {
		if roster.IsIdentity(cell) || slices.Contains([]string{"student", "old", "sheet", "sheet code"},
			tabular.Fold(cell)) {
			columns = append(columns, i)
		}
	}
	return columns
}

func (s *studentIn) ownLine(cells []string, columns []int, codes []string) bool {
	for _, c := range columns {
		if c < len(cells) && (s.is(cells[c]) || slices.Contains(codes, strings.ToUpper(cells[c]))) {
			return true
		}
	}
	return false
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
