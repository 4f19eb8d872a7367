package gradebook

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"unicode"

	"golang.org/x/text/unicode/norm"

	"nospark/scenarios/roster"
	"nospark/scenarios/spelling"
)

// findColumns finds both and refuses a column for the marks that tells who somebody is.
func (t *template) findColumns(c Columns) (err error) {
	if t.id, err = t.column(c.ID); err != nil {
		return err
	}
	if t.mark, err = t.column(c.Mark); err != nil {
		return err
	}
	if t.id == t.mark { // marks would overwrite the ids
		return fmt.Errorf("column %q cannot hold both ids and marks", c.ID)
	}
	if heading := t.headings()[t.mark]; roster.IsIdentity(heading) {
		return fmt.Errorf("line %d: column %q tells who somebody is and holds no marks; name the column of the lab",
			t.lines[0].number, heading)
	}
	return nil
}

// column finds a heading, first as it is written, then without regard to case.
func (t *template) column(name string) (int, error) {
	name = norm.NFC.String(strings.TrimSpace(name))
	headings := t.headings()
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
	return 0, fmt.Errorf("line %d: no column %q; %s", t.lines[0].number, name, likely(name, headings))
}

// likely says which headings may have been meant: those that go on after the name, as gradebooks add a number or the
// points, else one that is spelled nearly so.
func likely(name string, headings []string) string {
	var longer []string
	for _, h := range headings {
		if rest, ok := strings.CutPrefix(strings.ToLower(h), strings.ToLower(name)); ok && name != "" &&
			!strings.ContainsFunc(rest[:1], func(r rune) bool { return unicode.IsLetter(r) || unicode.IsDigit(r) }) {
			longer = append(longer, strconv.Quote(h))
		}
	}
	if len(longer) > 0 {
		return "did you mean " + strings.Join(longer, " or ") + "?"
	}
	same := slices.DeleteFunc(slices.Clone(headings), func(h string) bool { return digits(h) != digits(name) })
	if near := spelling.Nearest(name, same); near != "" { // another number is another lab
		return fmt.Sprintf("did you mean %q?", near)
	}
	return fmt.Sprintf("there are %q", headings)
}

// digits are those of a heading, without anything between them.
func digits(text string) string {
	return strings.Map(func(r rune) rune {
		if r < '0' || r > '9' {
			return -1
		}
		return r
	}, text)
}

// checkMarks refuses a column whose cells are no marks: words, or numbers by which people are told apart.
func (t *template) checkMarks(students []line, worth float64) error {
	var words, numbers []string
	filled := 0
	for _, l := range students {
		text := t.at(l, t.mark)
		if text == "" {
			continue
		}
		filled++
		value, ok := number(text)
		switch {
		case ok && (value > 5*worth || len(text) > 1 && text[0] == '0' && !strings.ContainsAny(text, ".,")):
			numbers = append(numbers, text)
		case !ok && !ambiguous(text) && len([]rune(text)) > 3:
			// gradebooks have short words of their own for "excused" or "late"
			words = append(words, text)
		}
	}
	heading := t.headings()[t.mark]
	switch {
	case 2*len(words) > filled:
		return fmt.Errorf("column %q holds words, such as %q, and would lose them; name the column of the lab",
			heading, words[0])
	case 2*len(numbers) > filled:
		return fmt.Errorf("column %q holds numbers such as %s, which are no marks of %s; name the column of the lab",
			heading, numbers[0], plain(worth))
	}
	return nil
}

// nobody is the error for an export in which no id is a student's: it names the column that has most of them.
func (t *template) nobody(marks []Mark) error {
	heading := t.headings()
	best, most := -1, 0
	for column := range t.lines[0].cells {
		ids := newMatching(marks, t.ids(column))
		n := 0
		for _, l := range t.lines[1:] {
			if _, ok := ids.find(t.at(l, column)); ok {
				n++
			}
		}
		if n > most {
			best, most = column, n
		}
	}
	what := fmt.Sprintf("filled 0 of %d: column %q has no id of a student of this lab, such as %q", len(marks),
		heading[t.id], marks[0].StudentID)
	if best >= 0 {
		return fmt.Errorf("%s; column %q has %d of them: --id-column %q", what, heading[best], most, heading[best])
	}
	for _, l := range t.lines[1:] {
		if id := t.at(l, t.id); id != "" && !t.isPoints(l) {
			return fmt.Errorf("%s; it has ids such as %q, and no other column has any; is it the export of this class?",
				what, id)
		}
	}
	return fmt.Errorf("%s; the column is empty, and no other one has any; is it the export of this class?", what)
}
