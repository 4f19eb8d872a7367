package workbook

import (
	"slices"

	"github.com/xuri/excelize/v2"
)

// column is a column of a table.
type column struct {
	title string
	width float64 // in digits; 0: as wide as its texts ask for, within bounds
	look  look
	note  string // what stands in it, for the page that explains
}

// Bounds of a width that is found from texts.
const (
	minWidth = 6.0
	maxWidth = 34.0
)

// lineHeight is the height of a line of 10 points, in points.
const lineHeight = 13.5

// table writes a heading row at top and the rows below it, and returns the row after the last.
func (s *sheet) table(top, left int, columns []column, rows [][]any) int {
	// A column that already has a width keeps it: several tables may stand in one sheet.
	lines := 1
	for i, c := range columns {
		if s.widths[left+i] == 0 {
			s.widths[left+i] = c.fit(rows, i)
		}
		s.set(top, left+i, headLook, c.title)
		lines = max(lines, lineCount(c.title, s.widths[left+i]-1.5))
	}
	s.heights[top] = max(s.heights[top], float64(lines)*lineHeight+5)
	for r, row := range rows {
		lines := 1
		for i, c := range columns {
			s.set(top+1+r, left+i, c.look, row[i])
			if text, ok := row[i].(string); ok && c.look.Wrap {
				lines = max(lines, lineCount(text, s.widths[left+i]-2))
			}
		}
		s.lines(top+1+r, lines)
	}
	return top + 1 + len(rows)
}

// lines makes a row high enough for as many lines of text. Not every program does so by itself.
func (s *sheet) lines(row, lines int) {
	if lines > 1 {
		s.heights[row] = max(s.heights[row], float64(lines)*lineHeight+3)
	}
}

// fit finds the width of column i.
func (c column) fit(rows [][]any, i int) float64 {
	if c.width > 0 {
		return c.width
	}
	width := minWidth
	for _, row := range rows {
		if text, ok := row[i].(string); ok {
			width = max(width, textWidth(text)+2)
		}
	}
	return min(width, maxWidth)
}

// main makes a table of one heading row the main one of its sheet: it can be filtered, and its heading stays in view and is printed on
// every page, with the first columns of it.
func (s *sheet) main(top int, columns []column, rows [][]any, stay int) int {
	end := s.table(top, 1, columns, rows)
	s.head, s.frozen = top, [2]int{top, stay}
	if len(rows) > 0 {
		s.filter = at(top, 1) + ":" + at(end-1, len(columns))
		s.heights[top] += lineHeight // the buttons stand at the foot of the heading
	}
	return end
}

// place returns the number of the column with that title, counted from 1. The titles are ours, so one that is missing is our mistake.
func place(columns []column, title string) int {
	i := slices.IndexFunc(columns, func(c column) bool { return c.title == title })
	if i < 0 {
		panic("workbook: no column " + title)
	}
	return i + 1
}

// bars draws a bar behind each number of a column, from 0 to most; the number stays readable. Both ends are given, so that a bar means
// the same in every class and the best of a bad lot does not fill its cell.
func (s *sheet) bars(from, to, column int, most, colour string) {
	if to < from {
		return
	}
	s.format(at(from, column)+":"+at(to, column), excelize.ConditionalFormatOptions{Type: "data_bar", Criteria: "=",
		MinType: "num", MinValue: "0", MaxType: "num", MaxValue: most, BarColor: colour})
}

// when gives cells another look where a formula, written for the first cell of the range, is true. number is a number format that adds a
// sign to what stands there, so that the colour does not stand alone.
func (s *sheet) when(ref, condition, fill, number string) {
	style := &excelize.Style{Font: &excelize.Font{Bold: true, Color: black}}
	if fill != "" {
		style.Fill = excelize.Fill{Type: "pattern", Pattern: 1, Color: []string{fill}}
	}
	if number != "" {
		style.CustomNumFmt = &number
	}
	id, err := s.book.file.NewConditionalStyle(style)
	if s.book.check(err) {
		s.format(ref, excelize.ConditionalFormatOptions{Type: "formula", Criteria: condition, Format: &id})
	}
}

func (s *sheet) format(ref string, options excelize.ConditionalFormatOptions) {
	s.book.check(s.book.file.SetConditionalFormat(s.name, ref, []excelize.ConditionalFormatOptions{options}))
}
