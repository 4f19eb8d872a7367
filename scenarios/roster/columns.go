package roster

import (
	"fmt"
	"slices"
	"strings"
)

// Usual headings, best first. They are words of the trade, common practice.
var (
	idHeadings = []string{"id", "student id", "studentid", "student number", "student no", "sis id", "sis user id",
		"user id", "userid", "identifier", "username", "user name", "login", "login id"}
	nameHeadings    = []string{"name", "student", "student name", "full name"}
	givenHeadings   = []string{"first name", "given name", "firstname", "givenname", "first"}
	familyHeadings  = []string{"last name", "family name", "surname", "lastname", "familyname", "last"}
	sectionHeadings = []string{"section", "section name", "class", "period"}
	largeHeadings   = []string{"large print"}
)

// columns says where in a line what is; -1 means nowhere.
type columns struct {
	id, name, given, family, section, large int
}

// findColumns reads the headings. Columns that mean nothing here are told in
// one remark, because they may be misspelt.
//
// An id column and one for names must be there. A list without sections is one
// section, and without a column for large print nobody wishes it.
func (b *builder) findColumns(t table, idColumn string) (columns, bool) {
	c := columns{id: -1, given: -1, family: -1}
	if idColumn != "" {
		c.id = find(t.header, []string{heading(idColumn)})
		if c.id < 0 {
			b.fail(t.file, t.line, "no column %q for the ids; there are %s", idColumn, quoteAll(t.header))
			return c, false
		}
	} else if c.id = find(t.header, idHeadings); c.id < 0 {
		b.fail(t.file, t.line, "no column for the ids; there are %s; the first line names the columns: head the ids with \"id\" or say which column they are in",
			quoteAll(t.header))
		return c, false
	}
	c.name = find(t.header, nameHeadings)
	// A column with the whole name goes first: it may be in the order that the
	// student uses.
	if c.name < 0 {
		c.given, c.family = find(t.header, givenHeadings), find(t.header, familyHeadings)
	}
	if c.name < 0 && c.given < 0 && c.family < 0 {
		b.fail(t.file, t.line, "no column for the names; there are %s; head the names with \"name\"", quoteAll(t.header))
		return c, false
	}
	c.section = find(t.header, sectionHeadings)
	c.large = find(t.header, largeHeadings)
	used := []int{c.id, c.name, c.given, c.family, c.section, c.large}
	ok := b.checkRepeats(t, used)
	b.remarkColumns(t, c, idColumn, used)
	return c, ok
}

// checkRepeats refuses two columns of the same heading if that column matters.
func (b *builder) checkRepeats(t table, used []int) bool {
	ok := true
	for i, h := range t.header {
		for _, u := range used {
			if u >= 0 && i != u && heading(h) == heading(t.header[u]) {
				b.fail(t.file, t.line, "two columns are headed %q; rename or remove one of them", h)
				ok = false
			}
		}
	}
	return ok
}

// remarkColumns tells what was not used. Headings are quoted, cells never: an
// ignored column may hold something private.
func (b *builder) remarkColumns(t table, c columns, idColumn string, used []int) {
	var rivals, ignored []string
	for i, h := range t.header {
		if slices.Contains(used, i) || strings.TrimSpace(h) == "" {
			continue
		}
		ignored = append(ignored, h)
		if idColumn == "" && slices.Contains(idHeadings, heading(h)) {
			rivals = append(rivals, h)
		}
	}
	if len(rivals) > 0 {
		b.remark(t.file, t.line, "ids are taken from column %q; %s could hold them too", t.header[c.id], quoteAll(rivals))
	}
	if len(ignored) > 0 {
		b.remark(t.file, t.line, "ignored columns: %s", quoteAll(ignored))
	}
	if c.section < 0 {
		b.remark(t.file, t.line, "no column \"section\": all students are in one section without a name")
	}
}

// find returns the column of the first wanted heading that there is, or -1. The
// order of wanted decides, not that of the columns.
func find(header, wanted []string) int {
	for _, w := range wanted {
		for i, h := range header {
			if heading(h) == w {
				return i
			}
		}
	}
	return -1
}

// quoteAll lists texts from outside for a message of one line.
func quoteAll(texts []string) string {
	quoted := make([]string, len(texts))
	for i, text := range texts {
		quoted[i] = fmt.Sprintf("%q", strings.TrimSpace(text))
	}
	return strings.Join(quoted, ", ")
}
