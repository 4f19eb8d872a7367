package roster

import (
	"slices"

	"nospark/scenarios/tabular"
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
	// and what else of a person gradebooks export
	personHeadings = []string{"email", "e mail", "email address", "e mail address", "mail", "sis login id",
		"integration id",
		"root account", "institution", "department", "group", "group code", "org defined id", "orgdefinedid",
		"external id",
		"availability", "last access", "last downloaded from this course", "child course id", "middle name"}
)

// IsIdentity tells that a column of a gradebook's export, by its heading, says who somebody is.
func IsIdentity(heading string) bool {
	folded := tabular.Fold(heading)
	return known("")(folded) || slices.Contains(personHeadings, folded)
}

// known tells the headings that mean something here, in their folded form.
func known(idColumn string) func(heading string) bool {
	all := slices.Concat(idHeadings, nameHeadings, givenHeadings, familyHeadings, sectionHeadings, largeHeadings)
	if idColumn != "" {
		all = append(all, tabular.Fold(idColumn))
	}
	return func(heading string) bool { return slices.Contains(all, heading) }
}

// columns says where in a line what is; -1 means nowhere.
type columns struct {
	id, name, given, family, section, large int
}

// findColumns reads the headings. Columns that mean nothing here are told in
// one remark, because they may be misspelt.
//
// An id column and one for names must be there. A list without sections is one
// section, and without a column for large print nobody wishes it.
func (b *builder) findColumns(file string, heading tabular.Row, idColumn string) (columns, bool) {
	c := columns{id: -1, given: -1, family: -1}
	headings := heading.Cells
	if idColumn != "" {
		c.id = tabular.Find(headings, []string{tabular.Fold(idColumn)})
		if c.id < 0 {
			b.fail(file, heading.Line, "no column %q for the ids; there are %s", idColumn, quoteAll(headings))
			return c, false
		}
	} else if c.id = tabular.Find(headings, idHeadings); c.id < 0 {
		b.fail(file, heading.Line, "no column for the ids; there are %s; the first line names the columns: "+
			"head the ids with \"id\" or say which column they are in", quoteAll(headings))
		return c, false
	}
	c.name = tabular.Find(headings, nameHeadings)
	// A column with the whole name goes first: it may be in the order that the
	// student uses.
	if c.name < 0 {
		c.given, c.family = tabular.Find(headings, givenHeadings), tabular.Find(headings, familyHeadings)
	}
	if c.name < 0 && c.given < 0 && c.family < 0 {
		b.fail(file, heading.Line, "no column for the names; there are %s; head the names with \"name\"",
			quoteAll(headings))
		return c, false
	}
	c.section = tabular.Find(headings, sectionHeadings)
	c.large = tabular.Find(headings, largeHeadings)
	used := []int{c.id, c.name, c.given, c.family, c.section, c.large}
	ok := b.checkRepeats(file, heading, used)
	b.remarkColumns(file, heading, c, idColumn, used)
	return c, ok
}

// checkRepeats refuses two columns of the same heading if that column matters.
func (b *builder) checkRepeats(file string, heading tabular.Row, used []int) bool {
	ok := true
	for i, h := range heading.Cells {
		for _, u := range used {
			if u >= 0 && i != u && tabular.Fold(h) == tabular.Fold(heading.Cells[u]) {
				b.fail(file, heading.Line, "two columns are headed %q; rename or remove one of them", h)
				ok = false
			}
		}
	}
	return ok
}

// remarkColumns tells what was not used. Headings are quoted, cells never: an
// ignored column may hold something private.
func (b *builder) remarkColumns(file string, heading tabular.Row, c columns, idColumn string, used []int) {
	var rivals, ignored []string
	for i, h := range heading.Cells {
		if slices.Contains(used, i) || h == "" {
			continue
		}
		ignored = append(ignored, h)
		if idColumn == "" && slices.Contains(idHeadings, tabular.Fold(h)) {
			rivals = append(rivals, h)
		}
	}
	if len(rivals) > 0 {
		b.remark(file, heading.Line, "ids are taken from column %q; %s could hold them too",
			heading.Cells[c.id], quoteAll(rivals))
	}
	if len(ignored) > 0 {
		b.remark(file, heading.Line, "ignored columns: %s%s", quoteAll(ignored), tabular.Ask(ignored, missing(c)))
	}
	if c.section < 0 {
		b.remark(file, heading.Line, "no column \"section\": all students are in one section without a name")
	}
}

// missing lists the columns that a list may have and this one lacks.
func missing(c columns) []string {
	var names []string
	for _, column := range []struct {
		at   int
		name string
	}{{c.section, "section"}, {c.large, "large print"}} {
		if column.at < 0 {
			names = append(names, column.name)
		}
	}
	return names
}
