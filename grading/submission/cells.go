package submission

import (
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"iter"
	"math"
	"strconv"
	"strings"
)

// grid is a worksheet as text. cut reports that something stood outside of what is read.
type grid struct {
	rows [][]string
	cut  bool
}

// scanner reads the cells of a worksheet. Only cells that hold something cost memory, whatever extent a file claims:
// one of a few kilobytes, or an honest one in which a whole column was colored, mentions a million.
type scanner struct {
	b     *book
	d     *xml.Decoder
	last  int // row to read
	found grid
	size  size
}

// read reads a worksheet down to row last.
func (b *book) read(part string, last int) (grid, error) {
	data, err := b.unpack(part, maxPart)
	if err != nil {
		return grid{}, err
	}
	s := &scanner{b: b, d: decoder(data), last: last}
	for {
		token, err := s.d.RawToken()
		if errors.Is(err, io.EOF) {
			return grid{}, errors.New("no cells")
		}
		if err != nil {
			return grid{}, err
		}
		if start, ok := token.(xml.StartElement); ok && start.Name.Local == "sheetData" {
			return s.found, s.rows()
		}
	}
}

// children gives the elements within the one that is open, and ends with it. Who takes one reads it to its end.
func (s *scanner) children() iter.Seq2[xml.StartElement, error] {
	return func(yield func(xml.StartElement, error) bool) {
		for {
			token, err := s.d.RawToken()
			if err != nil {
				yield(xml.StartElement{}, err)
				return
			}
			switch token := token.(type) {
			case xml.EndElement:
				return
			case xml.StartElement:
				if !yield(token, nil) {
					return
				}
			}
		}
	}
}

// rows reads until sheetData ends or the last row is passed.
func (s *scanner) rows() error {
	row := 0
	for element, err := range s.children() {
		if err != nil {
			return err
		}
		if element.Name.Local != "row" {
			return fmt.Errorf("<%s> where a row belongs", element.Name.Local)
		}
		number := row + 1 // a row without number follows the one before
		if r := attribute(element, "r"); r != "" {
			if number, err = strconv.Atoi(r); err != nil || number <= row {
				return fmt.Errorf("row %q after row %d", r, row)
			}
		}
		row = number
		if row > s.last && s.last < maxRows {
			return nil // the beginning was asked for
		}
		if err := s.row(row); err != nil {
			return fmt.Errorf("row %d: %w", row, err)
		}
	}
	return nil
}

// row reads the cells of a row.
func (s *scanner) row(row int) error {
	column := 0
	for element, err := range s.children() {
		if err != nil {
			return err
		}
		isCell := element.Name.Local == "c"
		if isCell {
			before := column
			column++ // a cell without name follows the one before
			if r := attribute(element, "r"); r != "" {
				var ok bool
				if column, ok = columnOf(r, row); !ok || column <= before {
					return fmt.Errorf("cell %q after column %d", r, before)
				}
			}
		}
		text, full, err := content(s.d)
		switch {
		case err != nil:
			return err
		case !isCell || !full:
		case row > maxRows || column > maxColumns:
			s.found.cut = true
		default:
			if err := s.keep(row, column, s.b.shown(element, text)); err != nil {
				return err
			}
		}
	}
	return nil
}

// keep stores what a cell shows.
func (s *scanner) keep(row, column int, text string) error {
	if err := s.size.add(text); err != nil {
		return err
	}
	for len(s.found.rows) < row {
		s.found.rows = append(s.found.rows, nil)
	}
	line := s.found.rows[row-1]
	for len(line) < column {
		line = append(line, "")
	}
	line[column-1] = text
	s.found.rows[row-1] = line
	return nil
}

// columnOf reads the name of a cell, like F7; ok is false if it is none of the row.
func columnOf(name string, row int) (column int, ok bool) {
	const widest = 16384 // columns of a worksheet
	digits := strings.TrimLeft(name, "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz")
	for _, r := range strings.ToUpper(name[:len(name)-len(digits)]) {
		if column = 26*column + int(r-'A') + 1; column > widest {
			return 0, false
		}
	}
	n, err := strconv.Atoi(digits)
	return column, err == nil && n == row && column > 0
}

// shown is what stands in a cell, as far as it matters for ids and codes.
func (b *book) shown(cell xml.StartElement, text string) string {
	switch attribute(cell, "t") {
	case "s":
		if i := index(text, len(b.texts)); i >= 0 {
			return unescaped(b.texts[i])
		}
		return brokenCell
	case "inlineStr", "str":
		return unescaped(text)
	case "b":
		if text == "1" || strings.EqualFold(text, "true") {
			return "TRUE"
		}
		return "FALSE"
	case "", "n":
		return b.number(text, index(attribute(cell, "s"), len(b.zeros)))
	}
	return text // an error such as #N/A, a date as text
}

// number shows a whole number as an id: with all its digits, without separators, with the leading zeros of its
// format. A date is shown as something that is no id: its number could be somebody else's.
func (b *book) number(text string, style int) string {
	if style >= 0 && b.isDates[style] {
		if b.days {
			return b.day(text)
		}
		return "#date?"
	}
	v, err := strconv.ParseFloat(text, 64)
	if err != nil || v != math.Trunc(v) || math.Abs(v) >= 1e15 {
		return text
	}
	digits := strconv.FormatFloat(v, 'f', 0, 64)
	if style >= 0 && v >= 0 && len(digits) < b.zeros[style] {
		digits = strings.Repeat("0", b.zeros[style]-len(digits)) + digits
	}
	return digits
}

// unescaped undoes how a workbook writes characters that XML does not allow: _x000D_.
func unescaped(text string) string {
	if !strings.Contains(text, "_x") {
		return text
	}
	var b strings.Builder
	for {
		before, after, found := strings.Cut(text, "_x")
		b.WriteString(before)
		if !found {
			return b.String()
		}
		if len(after) >= 5 && after[4] == '_' {
			if r, err := strconv.ParseUint(after[:4], 16, 16); err == nil {
				b.WriteRune(rune(r))
				text = after[5:]
				continue
			}
		}
		b.WriteString("_x")
		text = after
	}
}
