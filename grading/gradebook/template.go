package gradebook

import (
	"bytes"
	"errors"
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"

	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/unicode/norm"

	"nospark/scenarios/roster"
	"nospark/scenarios/tabular"
)

// template is a gradebook export taken apart.
type template struct {
	data      []byte
	separator byte
	lines     []line            // the headings and what follows
	id, mark  int               // columns
	latin     bool              // Windows-1252, not UTF-8
	zeros     map[string]string // whole ids of those that have lost zeros
}

// FillTemplate puts marks into one column of a gradebook export and returns
// the new file. data is the CSV file as the other system wrote it; separators
// may be commas, semicolons or tabs, the encoding UTF-8 or Windows-1252. idColumn
// and markColumn are headings in its first line.
//
// Only the cells of students with a mark change. Everything else stays byte
// for byte: other columns, the line of possible points, quotes, line ends, byte
// order mark. A student without a mark keeps what is there.
//
// Ids are compared without regard to case, surrounding white space and a
// protecting apostrophe. Remarks tell who has no line, which line has no student,
// and what mark is replaced by another.
//
// The error is about a file that cannot be read with certainty (other
// encodings, headings missing or twice, an id twice) or a mark that is not
// finite; nothing is returned then.
func FillTemplate(data []byte, idColumn, markColumn string, marks []Mark) ([]byte, []Remark, error) {
	t, err := readTemplate(data, idColumn, markColumn)
	if err != nil {
		return nil, nil, err
	}
	byID, err := indexMarks(marks)
	if err != nil {
		return nil, nil, err
	}
	var out bytes.Buffer
	remarks := t.restoreZeros(marks)
	kept := 0                 // bytes of data already copied
	found := map[string]int{} // line by id
	for _, l := range t.lines[1:] {
		id := t.idOf(l)
		key := idKey(id)
		if key == "" {
			continue // possible points and blank lines are no students
		}
		m, ok := byID[key]
		if first, twice := found[key]; twice {
			return nil, nil, fmt.Errorf("line %d: id %q is already in line %d; remove one of them", l.number, id, first)
		}
		found[key] = l.number
		if !ok {
			remarks = append(remarks, Remark{l.number, fmt.Sprintf("id %q is not a student of this lab; left as it was",
				id)})
			continue
		}
		if !m.Has {
			continue
		}
		text, err := formatMark(m)
		if err != nil {
			return nil, nil, err
		}
		if old := t.at(l, t.mark); old != "" && old != text {
			remarks = append(remarks, Remark{l.number, fmt.Sprintf("mark of %q was %q, now %s", id, old, text)})
		}
		start, end, text := t.place(l, text)
		out.Write(data[kept:start])
		out.WriteString(text)
		kept = end
	}
	out.Write(data[kept:])
	for _, m := range marks {
		if _, ok := found[idKey(m.StudentID)]; !ok {
			what := "; there is no mark to transfer"
			if m.Has {
				what = "; the mark is not transferred"
			}
			remarks = append(remarks, Remark{0, fmt.Sprintf("student %q has no line in the gradebook%s", m.StudentID,
				what)})
		}
	}
	return out.Bytes(), remarks, nil
}

// restoreZeros recognizes an export whose ids have lost their leading zeros in a spreadsheet.
func (t *template) restoreZeros(marks []Mark) []Remark {
	var ids, known []string
	for _, l := range t.lines[1:] {
		ids = append(ids, t.at(l, t.id))
	}
	for _, m := range marks {
		known = append(known, m.StudentID)
	}
	t.zeros = roster.LostZeros(ids, known)
	if len(t.zeros) == 0 {
		return nil
	}
	return []Remark{{0, fmt.Sprintf("%d ids have lost their leading zeros; all of them were found with them", len(t.zeros))}}
}

// idOf is the id of a line, with the zeros that it has lost.
func (t *template) idOf(l line) string {
	id := t.at(l, t.id)
	if whole, lost := t.zeros[id]; lost {
		return whole
	}
	return id
}

// indexMarks refuses two marks for one student: which of them is written would
// depend on their order.
func indexMarks(marks []Mark) (map[string]Mark, error) {
	byID := map[string]Mark{}
	for _, m := range marks {
		key := idKey(m.StudentID)
		if _, twice := byID[key]; twice || key == "" {
			return nil, fmt.Errorf("student %q has two marks or no id", m.StudentID)
		}
		byID[key] = m
	}
	return byID, nil
}

// idKey makes ids comparable as package roster does.
func idKey(id string) string {
	return strings.ToLower(norm.NFC.String(strings.TrimSpace(id)))
}

// readTemplate takes the file apart and finds the two columns.
func readTemplate(data []byte, idColumn, markColumn string) (*template, error) {
	t := &template{data: data, latin: !utf8.Valid(data)}
	begin := 0
	switch {
	case bytes.HasPrefix(data, []byte("\xef\xbb\xbf")):
		begin = 3
	case bytes.HasPrefix(data, []byte("\xff\xfe")), bytes.HasPrefix(data, []byte("\xfe\xff")):
		return nil, errors.New("the file is UTF-16; save it as CSV, UTF-8")
	}
	if bytes.IndexByte(data, 0) >= 0 {
		return nil, errors.New("the file is not text; save it as CSV, UTF-8")
	}
	skipped := 0 // lines in front of the headings
	for begin < len(data) {
		head, next := firstLine(data, begin)
		if !isPreface(head) {
			t.separator = byte(tabular.Separator(head))
			break
		}
		begin = next
		skipped++
	}
	lines, err := split(data, begin, t.separator)
	if err != nil {
		return nil, err
	}
	if len(lines) == 0 {
		return nil, errors.New("the file is empty; the first line has to hold the headings")
	}
	for i := range lines {
		lines[i].number += skipped
	}
	t.lines = lines
	if t.id, err = t.column(idColumn); err != nil {
		return nil, err
	}
	if t.mark, err = t.column(markColumn); err != nil {
		return nil, err
	}
	if t.id == t.mark { // marks would overwrite the ids
		return nil, fmt.Errorf("column %q cannot hold both ids and marks", idColumn)
	}
	return t, nil
}

// firstLine returns the line of text that begins at i, and where the next does.
func firstLine(data []byte, i int) (text string, next int) {
	n := bytes.IndexAny(data[i:], "\r\n")
	if n < 0 {
		return string(data[i:]), len(data)
	}
	next = i + n + 1
	if data[i+n] == '\r' && next < len(data) && data[next] == '\n' {
		next++
	}
	return string(data[i : i+n]), next
}

// isPreface recognizes what may stand in front of the headings: blank lines, and
// "sep=;", by which some spreadsheets say the separator that the headings show.
func isPreface(text string) bool {
	text = strings.ToLower(strings.TrimSpace(text))
	return strings.Trim(text, ",; \t") == "" || strings.HasPrefix(text, "sep=") && len(text) <= len("sep=;")
}

// column finds a heading, first as it is written, then without regard to case.
func (t *template) column(name string) (int, error) {
	name = norm.NFC.String(strings.TrimSpace(name))
	var headings []string
	for i := range t.lines[0].cells {
		headings = append(headings, norm.NFC.String(t.at(t.lines[0], i)))
	}
	for _, same := range []func(h string) bool{
		func(h string) bool { return h == name },
		func(h string) bool { return strings.EqualFold(h, name) },
	} {
		i := slices.IndexFunc(headings, same)
		if i < 0 {
			continue
		}
		if slices.ContainsFunc(headings[i+1:], same) {
			return 0, fmt.Errorf("line %d: two columns are headed %q; rename one of them", t.lines[0].number, name)
		}
		return i, nil
	}
	return 0, fmt.Errorf("line %d: no column %q; there are %q", t.lines[0].number, name, headings)
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
	if t.mark < len(l.cells) {
		c := l.cells[t.mark]
		if c.quoted {
			mark = `"` + mark + `"`
		}
		return c.start, c.end, mark
	}
	end = l.cells[len(l.cells)-1].end
	missing := t.mark - len(l.cells) + 1
	return end, end, strings.Repeat(string(rune(t.separator)), missing) + mark
}
