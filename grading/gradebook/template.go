package gradebook

import (
	"bytes"
	"errors"
	"strings"

	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/encoding/unicode"
	"golang.org/x/text/unicode/norm"

	"nospark/scenarios/roster"
	"nospark/scenarios/tabular"
)

// template is a gradebook export taken apart. Of UTF-16 it holds the same text in UTF-8.
type template struct {
	data      []byte
	separator byte
	lines     []line // the headings and what follows
	id, mark  int    // columns
	latin     bool   // Windows-1252, not UTF-8
	wide      wide
	comma     bool // numbers have a decimal comma
}

// wide is how a file of two bytes a character is written; the zero value is for all other files.
type wide struct {
	is    bool
	order unicode.Endianness
}

// text takes UTF-16 into UTF-8. What would not come back as it was is refused: half of a pair of characters.
func (w wide) text(data []byte) ([]byte, error) {
	if !w.is {
		return data, nil
	}
	plain, err := unicode.UTF16(w.order, unicode.IgnoreBOM).NewDecoder().Bytes(data)
	if err != nil || !bytes.Equal(w.bytes(plain), data) {
		return nil, errors.New("the file is damaged UTF-16; export it again, or save it as CSV, UTF-8")
	}
	return plain, nil
}

// bytes is the way back.
func (w wide) bytes(text []byte) []byte {
	if !w.is {
		return text
	}
	data, err := unicode.UTF16(w.order, unicode.IgnoreBOM).NewEncoder().Bytes(text)
	if err != nil {
		return nil // text that is not UTF-8 has never been UTF-16
	}
	return data
}

// at returns the text of a cell, also of one that a short line lacks.
func (t *template) at(l line, column int) string {
	if column >= len(l.cells) {
		return ""
	}
	// Splitting works on bytes, because every encoding that gets here extends
	// ASCII; only what is compared or told is decoded.
	text := l.cells[column].value(t.data)
	if t.latin {
		// All 256 bytes have a meaning in Windows-1252, so there is no error.
		text, _ = charmap.Windows1252.NewDecoder().String(text)
	}
	return tabular.Original(text)
}

// place returns which bytes the mark replaces and with what: a quoted cell stays
// quoted, and a line too short for the column gets the separators it lacks.
func (t *template) place(l line, mark string) (start, end int, text string) {
	quotes := strings.IndexByte(mark, t.separator) >= 0 // a decimal comma between commas
	if t.mark < len(l.cells) {
		c := l.cells[t.mark]
		if c.quoted || quotes {
			mark = `"` + mark + `"`
		}
		return c.start, c.end, mark
	}
	if quotes {
		mark = `"` + mark + `"`
	}
	end = l.cells[len(l.cells)-1].end
	missing := t.mark - len(l.cells) + 1
	return end, end, strings.Repeat(string(rune(t.separator)), missing) + mark
}

// Columns says where in an export the ids are and where the marks go.
type Columns struct {
	ID, Mark string  // headings in its first line
	Worth    float64 // points of the column; 0: what the export says, else 100
}

func (t *template) headings() []string {
	var headings []string
	for i := range t.lines[0].cells {
		headings = append(headings, norm.NFC.String(t.at(t.lines[0], i)))
	}
	return headings
}

// isPoints tells the line of possible points, which is no student's.
func (t *template) isPoints(l line) bool {
	var cells []string
	for i := range l.cells {
		cells = append(cells, t.at(l, i))
	}
	return roster.IsPointsRow(t.at(l, t.id), cells)
}
