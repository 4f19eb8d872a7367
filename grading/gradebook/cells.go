package gradebook

import (
	"bytes"
	"fmt"
	"strings"
)

// cell is one cell of a CSV file by its place in the bytes: data[start:end]
// holds it with its quotes and blanks, without separators.
type cell struct {
	start, end int
	quoted     bool
}

// line is one record; a quoted cell may spread it over several lines of text.
type line struct {
	number int // of its first line of text, from 1
	cells  []cell
}

// split finds the cells of data from the byte begin on, the text of which is
// in an encoding that extends ASCII. Line ends are CR LF, LF or CR. Nothing is
// changed or normalized: what lies between the cells is separators and line
// ends, so that the bytes outside a replaced cell can be kept.
//
// A quote inside an unquoted cell is an ordinary character. Errors are about a
// quoted cell that does not end, or ends in front of more text.
func split(data []byte, begin int, separator byte) ([]line, error) {
	var lines []line
	number := 1
	for i := begin; i < len(data); {
		l := line{number: number}
		for {
			c, err := nextCell(data, i, separator)
			if err != nil {
				return nil, fmt.Errorf("line %d: %w", number, err)
			}
			l.cells = append(l.cells, c)
			number += breaks(data[c.start:c.end])
			i = c.end
			if i == len(data) || data[i] != separator {
				break
			}
			i++
		}
		lines = append(lines, l)
		if i < len(data) {
			n := 1
			if data[i] == '\r' && i+1 < len(data) && data[i+1] == '\n' {
				n = 2
			}
			i += n
			number++
		}
	}
	return lines, nil
}

// nextCell returns the cell that begins at i and ends at a separator, a line
// end or the end of data.
func nextCell(data []byte, i int, separator byte) (cell, error) {
	c := cell{start: i}
	stop := string([]byte{separator, '\r', '\n'})
	// Blanks around a quoted cell are against the RFC but common. They belong to
	// the cell, so that they are kept with it.
	k := i
	for k < len(data) && data[k] == ' ' {
		k++
	}
	if k < len(data) && data[k] == '"' {
		c.quoted = true
		for k++; ; k++ {
			n := bytes.IndexByte(data[k:], '"')
			if n < 0 {
				return c, fmt.Errorf("a cell begins with a quote but does not end with one")
			}
			k += n + 1
			if k == len(data) || data[k] != '"' {
				break
			}
		}
		for k < len(data) && data[k] == ' ' {
			k++
		}
		if k < len(data) && !strings.ContainsRune(stop, rune(data[k])) {
			return c, fmt.Errorf("a quoted cell is followed by %q instead of the separator %q", data[k], separator)
		}
		c.end = k
		return c, nil
	}
	n := bytes.IndexAny(data[k:], stop)
	if n < 0 {
		n = len(data) - k
	}
	c.end = k + n
	return c, nil
}

// breaks counts the line ends inside a quoted cell.
func breaks(text []byte) int {
	return bytes.Count(text, []byte("\n")) + bytes.Count(text, []byte("\r")) - bytes.Count(text, []byte("\r\n"))
}

// value returns the text of a cell without quotes and surrounding blanks.
func (c cell) value(data []byte) string {
	text := strings.TrimSpace(string(data[c.start:c.end]))
	if c.quoted {
		text = strings.ReplaceAll(text[1:len(text)-1], `""`, `"`)
	}
	return strings.TrimSpace(text)
}
