package roster

import (
	"fmt"
	"slices"
	"strings"
	"unicode"

	"nospark/scenarios/tabular"
)

// readList reads a class list or a gradebook export; they differ only in their
// headings and in the line of possible points. It goes on after an error where
// that makes sense, so that one run tells all that is wrong.
func readList(file string, data []byte, opts Options) (Roster, error) {
	b := newBuilder()
	if opts.Class != "" {
		b.fail(file, 0, "class %q cannot be chosen: this is a plain list, only OneRoster packages have classes",
			opts.Class)
	}
	t, err := tabular.ReadTable(data, tabular.Options{Known: known(opts.IDColumn)})
	if err != nil {
		b.fail(file, 0, "%v", err)
		return b.done(file, "")
	}
	if t.Encoding != "" {
		b.remark(file, 0, "read as %s; look at the names with accents, and better save as CSV, UTF-8", t.Encoding)
	}
	b.tell(file, t.Findings)
	if t.Heading.Cells == nil {
		return b.done(file, "")
	}
	c, ok := b.findColumns(file, t.Heading, opts.IDColumn)
	if !ok {
		return b.done(file, "")
	}
	for _, row := range t.Rows {
		b.addRow(file, row, c)
	}
	return b.done(file, fmt.Sprintf("%s (CSV, ids from column %q)", file, t.Heading.Cells[c.id]))
}

// addRow takes one line below the headings.
func (b *builder) addRow(file string, row tabular.Row, c columns) {
	if IsPointsRow(row.Cells[c.id], row.Cells) {
		b.remark(file, row.Line, "line of possible points skipped")
		return
	}
	if word := totals(row.Cells); word != "" {
		b.remark(file, row.Line, "line of totals skipped: %q", word)
		return
	}
	at := func(column int) string {
		if column < 0 {
			return ""
		}
		return row.Cells[column]
	}
	s := Student{ID: at(c.id), Name: at(c.name), Section: at(c.section)}
	if c.name < 0 {
		s.Name, s.Family = at(c.given)+" "+at(c.family), at(c.family)
	}
	var ok bool
	if s.LargePrint, ok = isYes(at(c.large)); !ok {
		b.fail(file, row.Line, "large print %q; write yes or no", at(c.large))
	}
	b.add(file, row.Line, s)
}

// IsPointsRow recognizes the line under the headings in which some gradebooks
// write what each column can earn. It has no id and says so somewhere.
func IsPointsRow(id string, cells []string) bool {
	words := []string{"points possible", "possible points", "max points", "maximum points"}
	is := func(cell string) bool { return slices.Contains(words, strings.TrimSuffix(tabular.Fold(cell), ":")) }
	if id != "" { // some write the words into the first column, whatever it is
		return is(id)
	}
	return slices.ContainsFunc(cells, is)
}

// totals recognizes the line with which a spreadsheet sums up a list, by its
// first word; "" for any other. No name or section stands in it.
func totals(cells []string) string {
	first := ""
	for _, cell := range cells {
		switch {
		case cell == "":
		case first == "":
			first = cell
		case strings.ContainsFunc(cell, unicode.IsLetter):
			return ""
		}
	}
	word := strings.TrimRight(tabular.Fold(first), "0123456789.,: ")
	words := []string{"total", "totals", "grand total", "sum", "count", "number of students", "average", "mean"}
	if slices.Contains(words, word) {
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
