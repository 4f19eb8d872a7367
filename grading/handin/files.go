package handin

import (
	"fmt"
	"path/filepath"
	"slices"
	"strings"
	"unicode"

	"nospark/grading/submission"
	"nospark/scenarios/lab"
	"nospark/scenarios/roster"
)

// A file that a student handed in speaks for one student, whatever it says. The instructor's own forms, and files that
// adjust.toml trusts, speak for all.

// admit passes the rows that count on. It takes from students' files what they may not say: rows for others, and
// the columns that are the instructor's. What is set aside is told.
func (m *matcher) admit(rows []submission.Row) []submission.Row {
	speaker := map[string]string{}
	var kept []submission.Row
	for _, row := range rows {
		if row.File == "" || m.rows.trust[row.File] {
			kept = append(kept, row)
			continue
		}
		if _, known := speaker[row.File]; !known {
			speaker[row.File] = m.speaker(row.File)
		}
		if m.speaksFor(speaker[row.File], &row) {
			kept = append(kept, row)
		}
	}
	return kept
}

// Speakers are the students of a lab whom the name of a file can mean. It speaks for one; where there are several, or
// none, for nobody.
func Speakers(l *lab.Lab, file string) []string { return newMatcher(l).speakers(file) }

func (m *matcher) speakers(file string) []string {
	stem := strings.ToUpper(strings.TrimSuffix(file, filepath.Ext(file)))
	var found []string
	longest := 0
	for id := range m.byID {
		// An id that is a part of another one found there is not meant.
		switch n := len(roster.FoldID(id)); {
		case !holdsWord(stem, strings.ToUpper(id)) && !holdsWord(roster.FoldID(stem), roster.FoldID(id)):
		case n > longest:
			found, longest = []string{id}, n
		case n == longest:
			found = append(found, id)
		}
	}
	if len(found) == 0 {
		for _, digits := range strings.FieldsFunc(stem, func(r rune) bool { return r < '0' || r > '9' }) {
			if id := m.byFold[roster.BareID(digits)]; id != "" && holdsWord(stem, digits) &&
				!slices.Contains(found, id) {
				found = append(found, id)
			}
		}
	}
	return found
}

// speaker finds the one student whose id stands in the name of a file; "" when there is none, which is told.
func (m *matcher) speaker(file string) string {
	found := m.speakers(file)
	do := fmt.Sprintf("put the student's id into the file's name; "+
		"if it is a list of your own, write [[trust]] file = %q into adjust.toml", file)
	switch len(found) {
	case 1:
		return found[0]
	case 0:
		m.problem(file, do, "the file's name has no id of this lab, so nothing in it counts")
	default:
		m.problem(file, do, "the file's name has the ids of several students, so nothing in it counts")
	}
	return ""
}

// holdsWord tells whether a word stands in a text between characters that are no letters and digits.
func holdsWord(text, word string) bool {
	inside := func(r rune) bool { return unicode.IsLetter(r) || unicode.IsDigit(r) }
	for from := 0; word != ""; {
		i := strings.Index(text[from:], word)
		if i < 0 {
			return false
		}
		before, after := text[:from+i], text[from+i+len(word):]
		if !strings.ContainsFunc(last(before), inside) && !strings.ContainsFunc(first(after), inside) {
			return true
		}
		from += i + 1
	}
	return false
}

func first(text string) string {
	for _, r := range text {
		return string(r)
	}
	return ""
}

func last(text string) string {
	runes := []rune(text)
	return string(runes[max(0, len(runes)-1):])
}

// speaksFor keeps a row of a student's file when it is about the student, and takes the instructor's columns out of it.
func (m *matcher) speaksFor(student string, row *submission.Row) bool {
	if student == "" {
		return false // told of the file as a whole
	}
	sheet, known := m.codes.Find(row.Sheet)
	holder := ""
	if known {
		holder = m.lab.Sheets[sheet].Student
	}
	switch {
	case row.Student == "" && holder != "" && holder != student:
		m.problem(row.Place, "if it is right, enter it into your own form",
			"the file is that of student %s, but the row is for sheet %s of student %s; it was set aside",
			student, Clipped(row.Sheet), holder)
		return false
	case row.Student == "":
		row.Student = student
	case m.student(row.Student) != student:
		m.problem(row.Place, "if it is right, enter it into your own form",
			"the file is that of student %s, but the row is for student %q; it was set aside", student, Clipped(row.Student))
		return false
	}
	if row.Reasoning >= 0 || row.Safe >= 0 {
		m.problem(row.Place, "rate the student in your own form",
			"reasoning and safe are the instructor's columns; in the file of student %s they were set aside", student)
		row.Reasoning, row.Safe = -1, -1
	}
	return true
}
