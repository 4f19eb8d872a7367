package roster

import (
	"fmt"
	"slices"
	"strings"
	"unicode"
)

// readCSV reads a class list or a gradebook export; they differ only in their
// headings and in the line of possible points. It goes on after an error where
// that makes sense, so that one run tells all that is wrong.
func readCSV(file string, data []byte, opts Options) (Roster, error) {
	b := newBuilder()
	if opts.Class != "" {
		b.fail(file, 0, "class %q cannot be chosen: this is a plain list, only OneRoster packages have classes", opts.Class)
	}
	text, encoding, err := decode(data)
	if err != nil {
		b.fail(file, 0, "%v", err)
		return b.done(file, "")
	}
	if encoding != "" {
		b.remark(file, 0, "read as %s; look at the names with accents, and better save as CSV, UTF-8", encoding)
	}
	separator, text := findSeparator(text)
	t, errs := parseTable(file, text, separator)
	b.errs = append(b.errs, errs...)
	if t.header == nil {
		return b.done(file, "")
	}
	c, ok := b.findColumns(t, opts.IDColumn)
	if !ok {
		return b.done(file, "")
	}
	for _, row := range t.rows {
		b.addRow(t, row, c)
	}
	return b.done(file, fmt.Sprintf("%s (CSV, ids from column %q)", file, strings.TrimSpace(t.header[c.id])))
}

// addRow takes one line below the headings.
func (b *builder) addRow(t table, row row, c columns) {
	if isPoints(row, c) {
		b.remark(t.file, row.line, "line of possible points skipped")
		return
	}
	if word := totals(row); word != "" {
		b.remark(t.file, row.line, "line of totals skipped: %q", word)
		return
	}
	at := func(column int) string {
		if column < 0 {
			return ""
		}
		return row.cells[column]
	}
	s := Student{ID: at(c.id), Name: at(c.name), Section: at(c.section)}
	if c.name < 0 {
		s.Name, s.Family = at(c.given)+" "+at(c.family), at(c.family)
	}
	var ok bool
	if s.LargePrint, ok = isYes(at(c.large)); !ok {
		b.fail(t.file, row.line, "large print %q; write yes or no", at(c.large))
	}
	b.add(t.file, row.line, s)
}

// isPoints recognises the line under the headings in which some gradebooks
// write what each column can earn. It has no id and says so somewhere.
func isPoints(row row, c columns) bool {
	words := []string{"points possible", "possible points", "max points", "maximum points"}
	id := heading(row.cells[c.id])
	if id != "" { // some write the words into the first column, whatever it is
		return slices.Contains(words, id)
	}
	return slices.ContainsFunc(row.cells, func(cell string) bool {
		return slices.Contains(words, strings.TrimSuffix(heading(cell), ":"))
	})
}

// totals recognises the line with which a spreadsheet sums up a list, by its
// first word; "" for any other. No name or section stands in it.
func totals(row row) string {
	first := ""
	for _, cell := range row.cells {
		text := strings.TrimSpace(cell)
		switch {
		case text == "":
		case first == "":
			first = text
		case strings.ContainsFunc(text, unicode.IsLetter):
			return ""
		}
	}
	word := strings.TrimRight(heading(first), "0123456789.,: ")
	if slices.Contains([]string{"total", "totals", "grand total", "sum", "count", "number of students", "average", "mean"}, word) {
		return first
	}
	return ""
}

// isYes reads what people write into a column of wishes. An empty cell is a no;
// anything unclear is for the instructor to settle, since a wrong guess would
// leave somebody with a sheet that cannot be read.
func isYes(text string) (yes, ok bool) {
	switch strings.ToLower(strings.TrimSpace(text)) {
	case "yes", "y", "true", "1", "x":
		return true, true
	case "", "no", "n", "false", "0":
		return false, true
	}
	return false, false
}
