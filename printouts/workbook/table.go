package workbook

import (
	"iter"
	"slices"

	"github.com/xuri/excelize/v2"
)

// Column is a column of a table.
type Column struct {
	Title string
	Width float64 // in digits; 0: as wide as its texts ask for, within bounds
	Style Style
	Note  string // what stands in it, for the page that explains
}

// Bounds of a width that is found from texts.
const (
	minWidth = 6.0
	MaxWidth = 34.0
)

// lineHeight is the height of a line of 10 points, in points.
const LineHeight = 13.5

// Table writes a heading row at top and the rows below it, and returns the row after the last.
func (s *Sheet) Table(top, left int, columns []Column, rows [][]any) int {
	// A column that already has a width keeps it: several tables may stand in one sheet.
	lines := 1
	for i, c := range columns {
		if s.Widths[left+i] == 0 {
			s.Widths[left+i] = c.fit(rows, i)
		}
		s.Set(top, left+i, HeadStyle, c.Title)
		lines = max(lines, LineCount(c.Title, s.Widths[left+i]-1.5))
	}
	s.Heights[top] = max(s.Heights[top], float64(lines)*LineHeight+5)
	for r, row := range rows {
		lines := 1
		for i, c := range columns {
			s.Set(top+1+r, left+i, c.Style, row[i])
			if text, ok := row[i].(string); ok && c.Style.Wrap {
				lines = max(lines, LineCount(text, s.Widths[left+i]-2))
			}
		}
		s.FitLines(top+1+r, lines)
	}
	return top + 1 + len(rows)
}

// FitLines makes a row high enough for as many lines of text. Not every program does so by itself.
func (s *Sheet) FitLines(row, lines int) {
	if lines > 1 {
		s.Heights[row] = max(s.Heights[row], float64(lines)*LineHeight+3)
	}
}

// fit finds the width of column i.
func (c Column) fit(rows [][]any, i int) float64 {
	if c.Width > 0 {
		return c.Width
	}
	width := minWidth
	for _, row := range rows {
		if text, ok := row[i].(string); ok {
			width = max(width, TextWidth(text)+2)
		}
	}
	return min(width, MaxWidth)
}

// MainTable makes a table of one heading row the main one of its sheet: it can be filtered, and its heading stays in
// view and is printed on every page, with the first columns of it.
func (s *Sheet) MainTable(top int, columns []Column, rows [][]any, stay int) int {
	end := s.Table(top, 1, columns, rows)
	s.HeadRow, s.Frozen = top, [2]int{top, stay}
	if len(rows) > 0 {
		s.Filter = Ref(top, 1) + ":" + Ref(end-1, len(columns))
		s.Heights[top] += LineHeight // the buttons stand at the foot of the heading
	}
	return end
}

// ColumnIndex returns the number of the column with that title, counted from 1. The titles are ours, so one that is
// missing is our mistake.
func ColumnIndex(columns []Column, title string) int {
	i := slices.IndexFunc(columns, func(c Column) bool { return c.Title == title })
	if i < 0 {
		panic("workbook: no column " + title)
	}
	return i + 1
}

// Bars draws a bar behind each number of a column, from 0 to most; the number stays readable. Both ends are given, so
// that a bar means the same in every class and the best of a bad lot does not fill its cell.
func (s *Sheet) Bars(from, to, column int, most, color string) {
	if to < from {
		return
	}
	s.format(Ref(from, column)+":"+Ref(to, column), excelize.ConditionalFormatOptions{Type: "data_bar", Criteria: "=",
		MinType: "num", MinValue: "0", MaxType: "num", MaxValue: most, BarColor: color})
}

// Highlight gives cells another style where a formula, written for the first cell of the range, is true. number is a
// number format that adds a sign to what stands there, so that the color does not stand alone.
func (s *Sheet) Highlight(ref, condition, fill, number string) {
	style := &excelize.Style{Font: &excelize.Font{Bold: true, Color: Black}}
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

func (s *Sheet) format(ref string, options excelize.ConditionalFormatOptions) {
	s.book.check(s.book.file.SetConditionalFormat(s.name, ref, []excelize.ConditionalFormatOptions{options}))
}

// OrEmpty leaves a cell without a text truly empty.
func OrEmpty(text string) any {
	if text == "" {
		return nil
	}
	return text
}

// LongTable makes a table of n rows, which are made one at a time while the file is written; it is the last thing on
// its sheet. Its columns have widths of their own.
func (s *Sheet) LongTable(top int, columns []Column, stay, n int, rows iter.Seq[[]any]) {
	s.MainTable(top, columns, nil, stay)
	if n > 0 {
		s.Filter = Ref(top, 1) + ":" + Ref(top+n, len(columns))
		s.Heights[top] += LineHeight
	}
	s.more = n
	s.rest = func(yield func([]any, float64) bool) {
		row := top
		for values := range rows {
			row++
			cells, lines := make([]any, len(columns)), 1
			for i, value := range values {
				l := columns[i].Style
				if x, ok := value.(Styled); ok {
					l, value = x.Style, x.Value
				}
				if text, ok := value.(string); ok && l.Wrap {
					lines = max(lines, LineCount(text, columns[i].Width-2))
				}
				cells[i] = s.cell(l, value, row, i+1)
			}
			height := 0.0
			if lines > 1 {
				height = float64(lines)*LineHeight + 3
			}
			if !yield(cells, height) {
				return
			}
		}
	}
}

// Styled is a value with a style other than its column's.
type Styled struct {
	Style Style
	Value any
}
