package submission

import (
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"
)

// cells are the cells of a worksheet as text. cut reports that something stood outside of what is read.
type cells struct {
	rows [][]string
	cut  bool
}

// scanner reads the cells of a worksheet. Only cells that hold something cost memory, whatever extent a file claims:
// one of a few kilobytes, or an honest one in which a whole column was colored, mentions a million.
type scanner struct {
	b     *book
	d     *xml.Decoder
	last  int // row to read
	cells cells
	size  size
}

// cells reads a worksheet down to row last.
func (b *book) cells(part string, last int) (cells, error) {
	data, err := b.unpack(part, maxPart)
	if err != nil {
		return cells{}, err
	}
	s := &scanner{b: b, d: decoder(data), last: last}
	for {
		token, err := s.d.RawToken()
		if errors.Is(err, io.EOF) {
			return cells{}, errors.New("no cells")
		}
		if err != nil {
			return cells{}, err
		}
		if start, ok := token.(xml.StartElement); ok && start.Name.Local == "sheetData" {
			return s.cells, s.rows()
		}
	}
}

// rows reads until sheetData ends or the last row is passed.
func (s *scanner) rows() error {
	row := 0
	for {
		token, err := s.d.RawToken()
		if err != nil {
			return err
		}
		switch token := token.(type) {
		case xml.EndElement:
			return nil
		case xml.StartElement:
			if token.Name.Local != "row" {
				return fmt.Errorf("<%s> where a row belongs", token.Name.Local)
			}
			number := row + 1 // a row without number follows the one before
			if r := attribute(token, "r"); r != "" {
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
	}
}

// row reads the cells of a row.
func (s *scanner) row(row int) error {
	column := 0
	for {
		token, err := s.d.RawToken()
		if err != nil {
			return err
		}
		switch token := token.(type) {
		case xml.EndElement:
			return nil
		case xml.StartElement:
			if token.Name.Local != "c" {
				if _, _, err := content(s.d); err != nil {
					return err
				}
				continue
			}
			at := column + 1
			if r := attribute(token, "r"); r != "" {
				var ok bool
				if at, ok = columnOf(r, row); !ok || at <= column {
					return fmt.Errorf("cell %q after column %d", r, column)
				}
			}
			column = at
			text, full, err := content(s.d)
			if err != nil {
				return err
			}
			if !full {
				continue
			}
			if row > maxRows || column > maxColumns {
				s.cells.cut = true
				continue
			}
			if err := s.keep(row, column, s.b.shown(token, text)); err != nil {
				return err
			}
		}
	}
}

// keep stores what a cell shows.
func (s *scanner) keep(row, column int, text string) error {
	if err := s.size.add(text); err != nil {
		return err
	}
	for len(s.cells.rows) < row {
		s.cells.rows = append(s.cells.rows, nil)
	}
	line := s.cells.rows[row-1]
	for len(line) < column {
		line = append(line, "")
	}
	line[column-1] = text
	s.cells.rows[row-1] = line
	return nil
}

// content reads the rest of an element: its text without that of formulas and of phonetic hints. full reports a text, even
// one that is cut because no cell of a form is so long.
func content(d *xml.Decoder) (text string, full bool, err error) {
	var b strings.Builder
	depth, aside := 1, 0
	for depth > 0 {
		token, err := d.RawToken()
		if err != nil {
			return "", false, err
		}
		switch token := token.(type) {
		case xml.StartElement:
			depth++
			if aside == 0 && (token.Name.Local == "f" || token.Name.Local == "rPh") {
				aside = depth
			}
		case xml.EndElement:
			if aside == depth {
				aside = 0
			}
			depth--
		case xml.CharData:
			if aside == 0 && b.Len() < maxCellBytes {
				b.Write(token[:min(len(token), maxCellBytes-b.Len())])
			}
		}
	}
	text = strings.TrimSpace(strings.ToValidUTF8(b.String(), ""))
	return text, text != "", nil
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

// number shows a whole number as an id: with all its digits, without separators, with the leading zeros of its format. A
// date is shown as something that is no id: its number could be somebody else's.
func (b *book) number(text string, style int) string {
	if style >= 0 && b.isDates[style] {
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

// zerosOf counts the digits that a number format like 0000 shows at least; 0 for any other format.
func zerosOf(code string) int {
	const most = 40 // digits of an id
	if len(code) > most || strings.Trim(code, "0") != "" {
		return 0
	}
	return len(code)
}

// isDate recognizes the number format of a date or time: a letter of one outside of quotes, brackets and escapes.
func isDate(code string) bool {
	const longest = 255 // characters of a number format (ECMA-376)
	if len(code) > longest {
		return false
	}
	for i := 0; i < len(code); i++ {
		closing := map[byte]string{'"': `"`, '[': "]"}[code[i]]
		switch {
		case closing != "":
			n := strings.Index(code[i+1:], closing)
			if n < 0 {
				return false
			}
			i += n + 1
		case code[i] == '\\', code[i] == '_', code[i] == '*':
			i++
		case strings.IndexByte("yYmMdDhHsS", code[i]) >= 0:
			return true
		}
	}
	return false
}

// isDateID recognizes the numbers that stand for built-in formats of dates and times (ECMA-376, numFmt).
func isDateID(id string) bool {
	n, err := strconv.Atoi(id)
	return err == nil && (n >= 14 && n <= 22 || n >= 45 && n <= 47)
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
