package gradebook

import (
	"bytes"
	"errors"
	"strings"
	"unicode/utf8"

	"nospark/scenarios/tabular"
)

// readTemplate takes the file apart and finds the two columns.
func readTemplate(data []byte, c Columns) (*template, error) {
	var t template
	t.wide.order, t.wide.is = tabular.WideOrder(data)
	text, err := t.wide.text(data)
	if err != nil {
		return nil, err
	}
	t.data, t.latin = text, !utf8.Valid(text)
	begin := 0
	if bytes.HasPrefix(text, []byte("\ufeff")) {
		begin = 3
	}
	if bytes.IndexByte(text, 0) >= 0 {
		return nil, errors.New("the file is not text; save it as CSV, UTF-8")
	}
	begin, skipped := t.preface(begin, c)
	if t.lines, err = split(text, begin, t.separator); err != nil {
		return nil, err
	}
	if len(t.lines) == 0 {
		return nil, errors.New("the file is empty; the first line has to hold the headings")
	}
	for i := range t.lines {
		t.lines[i].number += skipped
	}
	if err := t.findColumns(c); err != nil {
		return nil, err
	}
	t.comma = t.decimalComma()
	return &t, nil
}

// prefaceLines is how far down the headings are looked for: some exports begin with the names of teacher and class.
const prefaceLines = 20

// preface skips what stands in front of the headings, from the byte begin on, and finds the separator by them. Headings
// are the first line in which both columns stand; where there is none, the first that is not empty.
func (t *template) preface(begin int, c Columns) (start, skipped int) {
	start, skipped = -1, 0
	for i, n := begin, 0; i < len(t.data) && n < prefaceLines; n++ {
		head, next := firstLine(t.data, i)
		separator := byte(tabular.Separator(head))
		if start < 0 && !isPreface(head) {
			start, skipped, t.separator = i, n, separator
		}
		if cells, err := split(t.data[:next], i, separator); err == nil && len(cells) > 0 {
			row := template{data: t.data, latin: t.latin, lines: cells[:1]}
			_, err := row.column(c.ID)
			_, err2 := row.column(c.Mark)
			if err == nil && err2 == nil {
				t.separator = separator
				return i, n
			}
		}
		i = next
	}
	if start < 0 {
		return len(t.data), 0
	}
	return start, skipped
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
