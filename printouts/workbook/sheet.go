package workbook

import (
	"fmt"
	"iter"
	"math"
	"strings"
	"time"

	"github.com/xuri/excelize/v2"
)

// Sheet collects one worksheet. Rows and columns count from 1, as a spreadsheet shows them.
type Sheet struct {
	book     *Book
	name     string
	cells    [][]any         // [row-1][column-1]; nil: never set
	Heights  map[int]float64 // of rows, points
	Widths   map[int]float64 // of columns, digits of the standard font
	merged   []string        // pairs of corners
	Frozen   [2]int          // rows on top and columns at the left that stay when scrolling
	HeadRow  int             // row that is printed on every page; 0: none
	Filter   string          // range with buttons to filter by
	Portrait bool            // printed upright instead of across
	OnePage  bool            // printed on one page, however small
	// columns that are printed; 0: all. Wide tables print what one reads on paper and keep the rest for the screen
	PrintedColumns int
	// protected against slips, without a password: the salt of one would differ every time
	// a list to be filtered: title and note are printed, the rows are for the screen
	ScreenOnly bool
	Locked     bool
	TabColor   string // color of the tab

	// rest gives the rows below the cells with their heights in points (0: as the program likes), one at a time while
	// the file is written, so that a table of a whole school need not be in memory. nil: none.
	rest iter.Seq2[[]any, float64]
	more int // how many rows these are
}

// Lines is a text of several lines in one cell.
type Lines []string

// Date is a day, 2026-10-05, that a spreadsheet can sort and reckon with; a text that is none stays a text. Its style
// has DateStyle.
type Date string

// serial is the number of a day in the file format, whose day 0 is 30 December 1899 (ECMA-376 part 1, date systems).
func (d Date) serial() (int, bool) {
	day, err := time.Parse(time.DateOnly, string(d))
	if err != nil || day.Year() < 1901 {
		return 0, false
	}
	return int(day.Sub(time.Date(1899, 12, 30, 0, 0, 0, 0, time.UTC)).Hours() / 24), true
}

// Formula is a live formula with the value that it has now, for programs that show a file without working it out.
type Formula struct {
	Text  string // without the equals sign
	Value any
}

// AddSheet adds a worksheet.
func (b *Book) AddSheet(name string) *Sheet {
	s := &Sheet{book: b, name: name, Heights: map[int]float64{}, Widths: map[int]float64{}}
	if len(b.sheets) == 0 {
		b.check(b.file.SetSheetName(b.file.GetSheetName(0), name))
	} else {
		_, err := b.file.NewSheet(name)
		b.check(err)
	}
	b.sheets = append(b.sheets, s)
	return s
}

// Set writes a cell. A value is nil (only the style), a string, Lines, a Date, an int, a float64 or a formula. A number
// that is none stays empty: a missing mark is blank, never zero.
func (s *Sheet) Set(row, column int, l Style, value any) {
	for len(s.cells) < row {
		s.cells = append(s.cells, nil)
	}
	for len(s.cells[row-1]) < column {
		s.cells[row-1] = append(s.cells[row-1], nil)
	}
	s.cells[row-1][column-1] = s.cell(l, value, row, column)
}

// cell makes a cell of a value and a style; where it stands matters only for the error about a value that is none.
func (s *Sheet) cell(l Style, value any, row, column int) excelize.Cell {
	cell := excelize.Cell{StyleID: s.book.styleID(l)}
	if f, ok := value.(Formula); ok {
		// Written together, since a program that does not work out formulas shows the value that it finds beside one.
		cell.Formula, value = f.Text, f.Value
	}
	switch v := value.(type) {
	case string:
		value = clean(v)
	case Date:
		value = clean(string(v))
		if day, ok := v.serial(); ok {
			value = day
		}
	case Lines:
		lines := make([]string, len(v))
		for i := range v {
			lines[i] = clean(v[i])
		}
		value = strings.Join(lines, "\n")
	case float64:
		if math.IsNaN(v) || math.IsInf(v, 0) {
			value = nil
		}
	case nil, int:
	default:
		s.book.check(fmt.Errorf("sheet %s, %s: a %T is no value of a cell", s.name, Ref(row, column), value))
	}
	cell.Value = value
	return cell
}

// Merge joins the cells of a row from one column to another and writes into them.
func (s *Sheet) Merge(row, from, to int, l Style, value any) {
	for c := from; c <= to; c++ {
		s.Set(row, c, l, nil)
	}
	s.Set(row, from, l, value)
	if to > from {
		s.merged = append(s.merged, Ref(row, from), Ref(row, to))
	}
}

// Span is the width of several columns together, for the text of a merged cell; without the indent and the edge of one.
func (s *Sheet) Span(from, to int) (width float64) {
	for c := from; c <= to; c++ {
		width += s.Widths[c]
	}
	return width - 2
}

// rows returns how many rows there are.
func (s *Sheet) rows() int { return len(s.cells) + s.more }

// Range names a range of this sheet for formulas and charts of any sheet: 'Read me'!$A$1:$B$2.
func (s *Sheet) Range(row1, column1, row2, column2 int) string {
	return fmt.Sprintf("'%s'!%s:%s", s.name, FixedRef(row1, column1), FixedRef(row2, column2))
}

// writeRows writes the rows.
func (s *Sheet) writeRows() {
	b := s.book
	if b.err != nil {
		return
	}
	w, err := b.file.NewStreamWriter(s.name)
	if !b.check(err) {
		return
	}
	for i := 0; i < len(s.merged); i += 2 {
		b.check(w.MergeCell(s.merged[i], s.merged[i+1]))
	}
	for i, cells := range s.cells {
		if cells == nil && s.Heights[i+1] == 0 {
			continue // an empty row needs no entry in the file
		}
		b.check(w.SetRow(Ref(i+1, 1), cells, excelize.RowOpts{Height: s.Heights[i+1]}))
	}
	if row := len(s.cells); s.rest != nil {
		for cells, height := range s.rest {
			row++
			b.check(w.SetRow(Ref(row, 1), cells, excelize.RowOpts{Height: height}))
		}
	}
	b.check(w.Flush())
}
