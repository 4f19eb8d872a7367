package tabular

import (
	"fmt"
	"strings"
)

// Options say what is known of a text before it is read.
type Options struct {
	// Separator is the separator, 0 for the one that the text itself suggests.
	Separator rune
	// Known tells headings that the caller looks for, in their folded form. It
	// decides between separators and may be nil.
	Known func(heading string) bool
	// Rows and Columns bound what is kept of a text; 0 is no bound.
	Rows, Columns int
}

// Text is a text taken apart.
type Text struct {
	Encoding string // "" for UTF-8, else what it was read as, for people
	Rows     []Row  // all of them, blank ones too: row i is row i+1 of a spreadsheet
	Cut      bool   // something lies outside of the bounds and was not kept
	Findings []Finding

	separator rune
}

// Row is one row. Its cells are without white space around them and without a
// protective apostrophe.
type Row struct {
	Line  int // of the text, from 1, where the row begins
	Cells []string

	broken bool // a quote in it was not closed, or stood where none may stand
}

// Blank recognizes the rows of separators that deleted ones leave behind.
func (r Row) Blank() bool {
	for _, cell := range r.Cells {
		if cell != "" {
			return false
		}
	}
	return true
}

// Finding is something wrong with a text.
type Finding struct {
	Line int // from 1; 0 means the text as a whole
	What string
}

// CellName names a cell the way spreadsheets do: row 7 of column 6 is F7. Both
// count from 1.
func CellName(row, column int) string {
	var letters strings.Builder
	for n := column; n > 0; n = (n - 1) / 26 {
		letters.WriteByte(byte('A' + (n-1)%26))
	}
	name := []byte(letters.String())
	for i, j := 0, len(name)-1; i < j; i, j = i+1, j-1 {
		name[i], name[j] = name[j], name[i]
	}
	return fmt.Sprintf("%s%d", name, row)
}
