package roster

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"golang.org/x/text/unicode/norm"

	"nospark/scenarios/disk"
	"nospark/scenarios/tabular"
)

// builder collects students and refuses ids that are bad or taken.
type builder struct {
	roster Roster
	errs   []Remark
	places map[string]place // by id without regard to case
}

// place is where an id was seen, how it was written there, and what else stood
// in the line.
type place struct {
	where, id, raw string
}

func newBuilder() *builder {
	return &builder{places: map[string]place{}}
}

func (b *builder) remark(file string, line int, format string, args ...any) {
	b.roster.Remarks = append(b.roster.Remarks, Remark{file, line, fmt.Sprintf(format, args...)})
}

func (b *builder) fail(file string, line int, format string, args ...any) {
	b.errs = append(b.errs, Remark{file, line, fmt.Sprintf(format, args...)})
}

// add takes the student of one line. Texts come as they stand in the file.
func (b *builder) add(file string, line int, s Student) {
	s.ID = norm.NFC.String(strings.TrimSpace(s.ID))
	if err := checkID(s.ID); err != nil {
		hint := ""
		if s.SourcedID != "" {
			hint = "; another column can be chosen as the id: " + quoteAll(idColumns)
		}
		b.fail(file, line, "%v%s", err, hint)
		return
	}
	// Ids that differ in case only would share a file on some systems, and
	// nobody can tell them apart in handwriting.
	key := strings.ToLower(s.ID)
	here := place{where: fmt.Sprintf("%s:%d", file, line), id: s.ID, raw: s.Name + "\n" + s.Section}
	if other, taken := b.places[key]; taken {
		if other.id == s.ID && other.raw == s.Name+"\n"+s.Section {
			b.fail(file, line, "student %q stands at %s already, with the same name and section; remove one of the "+
				"two lines",
				s.ID, other.where)
			return
		}
		b.fail(file, line, "id %q is already used at %s (as %q); give every student an id of their own, also across "+
			"sections",
			s.ID, other.where, other.id)
		return
	}
	b.places[key] = here
	// No id has a line break, so a bare one never meets a whole one.
	bare := "bare\n" + BareID(s.ID)
	if other, taken := b.places[bare]; taken {
		b.remark(file, line, "id %q differs from %q at %s by leading zeros alone; if that is one student, remove one "+
			"of the lines, "+
			"for now they are two", s.ID, other.id, other.where)
	}
	b.places[bare] = here
	for _, field := range []struct {
		what string
		text *string
	}{{"name", &s.Name}, {"family name", &s.Family}, {"section", &s.Section}} {
		clean, err := cleanText(*field.text)
		if err != nil {
			b.fail(file, line, "%s of student %q %v", field.what, s.ID, err)
		}
		if strings.ContainsRune(clean, unicode.ReplacementChar) {
			b.remark(file, line, "%s %q of student %q has lost a character in an earlier conversion", field.what, clean,
				s.ID)
		}
		*field.text = clean
	}
	if s.Name == "" {
		b.remark(file, line, "student %q has no name", s.ID)
	}
	b.roster.Students = append(b.roster.Students, s)
}

// checkID refuses ids that cannot name a student's record on disk.
func checkID(id string) error {
	if id == "" {
		return errors.New("no id; give the student an id or remove the line")
	}
	if isShortened(id) {
		return fmt.Errorf("id %q is a number that a spreadsheet has shortened; "+
			"format the column as text and enter the ids again", id)
	}
	if err := disk.CheckName(id); err != nil {
		return fmt.Errorf("id: %w", err)
	}
	return nil
}

// tell takes over what is wrong with a text as such.
func (b *builder) tell(file string, findings []tabular.Finding) {
	for _, f := range findings {
		b.fail(file, f.Line, "%s", f.What)
	}
}

// quoteAll lists texts from outside for a message of one line.
func quoteAll(texts []string) string {
	quoted := make([]string, len(texts))
	for i, text := range texts {
		quoted[i] = fmt.Sprintf("%q", strings.TrimSpace(text))
	}
	return strings.Join(quoted, ", ")
}

// done returns the roster or all errors, never both: a lab built from half a
// class list would leave students without a sheet.
func (b *builder) done(file, source string) (Roster, error) {
	if len(b.errs) == 0 && len(b.roster.Students) == 0 {
		b.fail(file, 0, "no student found; the file needs one line per student below the headings")
	}
	if len(b.errs) > 0 {
		// Found in several passes, told in the order of the file.
		slices.SortStableFunc(b.errs, func(x, y Remark) int {
			return cmp.Or(cmp.Compare(x.File, y.File), cmp.Compare(x.Line, y.Line))
		})
		var all []error
		for _, e := range b.errs {
			all = append(all, errors.New(e.String()))
		}
		return Roster{}, errors.Join(all...)
	}
	b.roster.Source = source
	return b.roster, nil
}

// cleanText brings outside text to NFC with single spaces and without invisible
// marks. Control characters are refused, and what is too long for a sheet.
func cleanText(text string) (string, error) {
	text = strings.Map(func(r rune) rune {
		// Joiners belong to the spelling of names in several scripts.
		if unicode.Is(unicode.Cf, r) && r != '\u200c' && r != '\u200d' {
			return -1
		}
		return r
	}, text)
	text = strings.Join(strings.Fields(norm.NFC.String(text)), " ")
	for _, r := range text {
		if unicode.IsControl(r) {
			return text, fmt.Errorf("%q contains the control character %U; remove it", text, r)
		}
	}
	if n := utf8.RuneCountInString(text); n > longest {
		return "", fmt.Errorf("%q... has %d characters, at most %d fit on a sheet; shorten it",
			string([]rune(text[:80])[:20]), n, longest)
	}
	return text, nil
}

// longest is the greatest number of characters of a name or a section.
const longest = 200

// isShortened recognizes what spreadsheets make of long numbers: 1.23457E+11.
func isShortened(id string) bool {
	mantissa, exponent, ok := strings.Cut(strings.ToUpper(id), "E+")
	return ok && len(mantissa) > 0 && strings.Trim(mantissa, "0123456789.,") == "" &&
		len(exponent) > 0 && strings.Trim(exponent, "0123456789") == ""
}
