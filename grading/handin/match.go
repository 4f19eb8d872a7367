// Package handin finds out whose each row is that was handed in, on paper or at the bench, and what the instructor has
// decided about it. What the work is worth is the business of package grading.
package handin

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"nospark/grading/letters"
	"nospark/grading/submission"
	"nospark/scenarios/lab"
	"nospark/scenarios/roster"
)

// Work is a student's work on one sheet.
type Work struct {
	Student string
	Sheet   int // index into the lab's Sheets; AnySheet where an entry of adjust.toml means all of the student
}

// AnySheet stands for all sheets of a student.
const AnySheet = -1

// Entry is what one student handed in on one sheet, after all rows about the student have been looked at.
type Entry struct {
	Work
	Name    string
	Section string
	Row     submission.Row
	Named   int      // the sheet of somebody else that the row names, else -1
	Doubts  []string // why the mark is provisional, whatever the steps say

	Undecided string // why none of the rows counts yet, "" when one does

	Other *submission.Row // what paper says where it contradicts the bench
}

// matcher finds the sheet of every row, and collects what a person should look at.
type matcher struct {
	lab      *lab.Lab
	codes    lab.SheetCodes
	byID     map[string][]int // sheets of the id as it is
	byFold   map[string]string
	claimed  map[int][]string // spare sheet -> students whose rows name it
	order    []string         // students in the order of their first row
	byPerson map[string][]Entry
	rows     rowRulings
	problems []submission.Remark
	lines    *letters.Index
}

// newMatcher knows the sheets and students of a lab.
func newMatcher(lab *lab.Lab) *matcher {
	m := &matcher{
		lab: lab, codes: lab.SheetCodes(), byID: map[string][]int{}, byFold: map[string]string{},
		claimed: map[int][]string{}, byPerson: map[string][]Entry{}, lines: letters.NewIndex(lab),
	}
	for i, s := range lab.Sheets {
		if s.Student == "" {
			continue
		}
		m.byID[s.Student] = append(m.byID[s.Student], i)
		for _, key := range []string{roster.FoldID(s.Student), roster.BareID(s.Student)} {
			if other, taken := m.byFold[key]; taken && other != s.Student {
				m.byFold[key] = "" // two students: only the exact id tells
			} else {
				m.byFold[key] = s.Student
			}
		}
	}
	return m
}

// strangeFiles finds the files of another lab, left in the folder or copied over the form: at least three rows with a
// sheet, most of them of no sheet of this lab. Their ids are those of this class, so their rows would count.
func (m *matcher) strangeFiles(rows []submission.Row) map[string]bool {
	var order []string
	named, unknown := map[string]int{}, map[string]int{}
	for _, row := range rows {
		if row.Sheet == "" {
			continue
		}
		file := submission.FileAt(row.Place)
		if named[file]++; named[file] == 1 {
			order = append(order, file)
		}
		if _, known := m.codes.Find(row.Sheet); !known {
			unknown[file]++
		}
	}
	strange := map[string]bool{}
	for _, file := range order {
		if named[file] >= 3 && 2*unknown[file] > named[file] {
			strange[file] = true
			m.problem(file, "move it to the lab it belongs to; if it is right, correct the column sheet",
				"%d of its %d sheets are not of this lab, so none of its rows counts", unknown[file], named[file])
		}
	}
	return strange
}

// student finds the lab's spelling of an id, "" if the lab does not know it.
func (m *matcher) student(id string) string {
	if _, known := m.byID[id]; known {
		return id
	}
	if s := m.byFold[roster.FoldID(id)]; s != "" {
		return s
	}
	return m.byFold[roster.BareID(id)]
}

// problem notes something for a person to look at.
func (m *matcher) problem(place, do, format string, args ...any) {
	m.problems = append(m.problems, submission.Remark{Place: place, What: fmt.Sprintf(format, args...), Do: do})
}

// on makes the entry of a row for a sheet and its student.
func (m *matcher) on(sheet int, row submission.Row, doubts ...string) (Entry, bool) {
	s := m.lab.Sheets[sheet]
	return Entry{Work: Work{s.Student, sheet}, Name: s.Name, Section: s.Section, Row: row, Named: -1,
		Doubts: doubts}, true
}

// place decides which student and sheet a row is about. The id decides; the sheet's code decides where the id is
// missing, and it may name a spare. Letters decide nothing, but they tell which neighbor's sheet was used.
func (m *matcher) place(row submission.Row) (Entry, bool) {
	id := m.student(row.Student)
	sheet, known := m.codes.Find(row.Sheet)
	if !known {
		sheet = -1
	}
	if h, ok := m.onWorked(id, sheet, row); ok {
		return h, true
	}
	spare := known && m.lab.Sheets[sheet].Student == ""
	switch {
	case row.Student == "" && row.Sheet == "":
		m.problem(row.Place, "write the student's id"+m.lines.Guess(row, -1),
			"the row has neither id nor sheet, so it counts for nobody")
		return Entry{}, false
	case row.Student == "" && !known, id == "" && row.Student != "" && !known:
		do := "correct the id or write the sheet's code" + m.lines.Guess(row, -1)
		if at, code := m.codes.Find(row.Student); code {
			do = fmt.Sprintf("%s is the code of a sheet: write it into the column sheet, and the student's id into "+
				"the column id", m.lab.Sheets[at].Code)
		}
		m.problem(row.Place, do, "%s is not in this lab, so the row counts for nobody", whoever(row))
		return Entry{}, false
	case spare:
		return m.onSpare(sheet, id, row)
	case id == "":
		return m.byCode(sheet, row)
	}
	own := m.byID[id]
	switch {
	case row.Sheet == "", slices.Contains(own, sheet):
		if known {
			return m.on(sheet, row)
		}
		sheet = m.bestFit(own, row)
		if m.lab.Vehicles > 1 && !row.Empty() && m.tied(own, sheet, row) {
			m.problem(row.Place, "write the sheet's code",
				"student %s has %d sheets and the row names none; it was taken for sheet %s", id, len(own),
				m.lab.Sheets[sheet].Code)
			return m.on(sheet, row, "the row names no sheet")
		}
		return m.on(sheet, row)
	case !known:
		m.problem(row.Place, "correct the code; the student's own sheet was used", "no sheet has the code %q",
			Clipped(row.Sheet))
		return m.on(m.bestFit(own, row), row)
	}
	other, and := m.lab.Sheets[sheet].Student, ""
	if fit, total := m.lines.Fits(sheet, row); fit > 0 {
		and = fmt.Sprintf(", and %d of the %s fit it", fit, Count(total, "step", "steps"))
	}
	m.problem(row.Place, "find out whose work it is; correct the id or the sheet",
		"sheet %s belongs to student %s, not to %s%s", row.Sheet, other, id, and)
	h, ok := m.on(m.bestFit(own, row), row,
		fmt.Sprintf("the row names sheet %s, which belongs to student %s", row.Sheet, other))
	h.Named = sheet
	return h, ok
}

// whoever names a row's author in a message.
func whoever(row submission.Row) string {
	if row.Student == "" {
		return fmt.Sprintf("sheet %q", Clipped(row.Sheet))
	}
	return fmt.Sprintf("student %q", Clipped(row.Student))
}

// onSpare gives a spare sheet to the student whose row names it: somebody of the lab who lost or missed the own sheet,
// or somebody new.
func (m *matcher) onSpare(sheet int, id string, row submission.Row) (Entry, bool) {
	s := m.lab.Sheets[sheet]
	h := Entry{Work: Work{id, sheet}, Row: row, Named: -1}
	switch {
	case row.Student == "" && row.Empty(): // as the form was printed: nobody used it
		return Entry{}, false
	case row.Student == "":
		m.problem(row.Place, "write the id of the student who used it",
			"sheet %s is a spare and the row has no id, so it counts for nobody", s.Code)
		return Entry{}, false
	case id == "":
		h.Student, h.Name = strings.TrimSpace(row.Student), row.Name
		m.problem(row.Place, "nothing, if the id is right",
			"student %q is not in this lab's list and used spare sheet %s", row.Student, s.Code)
	default:
		own := m.lab.Sheets[m.byID[id][0]]
		h.Name, h.Section = own.Name, own.Section
	}
	if holders := m.claimed[sheet]; len(holders) > 1 {
		m.problem(row.Place, fmt.Sprintf("correct the sheet codes, or write [[worked]] student = %q, sheet = %q into "+
			"adjust.toml",
			h.Student, s.Code),
			"spare sheet %s is named by the students %s; it counts for none of them yet", s.Code, fewNames(holders))
		h.Row.Repair, h.Row.Steps = "", nil
		h.Undecided = "several students name spare sheet " + s.Code
		if id != "" {
			h.Sheet = m.byID[id][0]
		}
		return h, id != ""
	}
	return h, true
}

// claims notes which students name a spare sheet in a row with something in it.
func (m *matcher) claims(rows []submission.Row) {
	claim := func(sheet int, student string) {
		if !slices.Contains(m.claimed[sheet], student) {
			m.claimed[sheet] = append(m.claimed[sheet], student)
		}
	}
	for _, row := range rows {
		sheet, known := m.codes.Find(row.Sheet)
		if !known || m.lab.Sheets[sheet].Student != "" || row.Student == "" || row.Empty() {
			continue
		}
		if student := m.author(row); m.rows.sheet(student, sheet) == AnySheet {
			claim(sheet, student)
		}
	}
	for student, all := range m.rows.worked {
		for _, w := range all {
			if m.lab.Sheets[w.sheet].Student == "" {
				claim(w.sheet, student)
			}
		}
	}
	for _, students := range m.claimed {
		slices.Sort(students)
	}
}

// author is the id of the lab's student whose row it is, or that of somebody new; "" when the row has none.
func (m *matcher) author(row submission.Row) string {
	return cmp.Or(m.student(row.Student), strings.TrimSpace(row.Student))
}

// onWorked puts a row on the sheet that the instructor says the student worked on, whatever the row names.
func (m *matcher) onWorked(id string, named int, row submission.Row) (Entry, bool) {
	student := m.author(row)
	sheet := m.rows.sheet(student, named)
	if student == "" || sheet == AnySheet {
		return Entry{}, false
	}
	h := Entry{Work: Work{student, sheet}, Name: row.Name, Row: row, Named: -1}
	if own := m.byID[id]; len(own) > 0 {
		h.Name, h.Section = m.lab.Sheets[own[0]].Name, m.lab.Sheets[own[0]].Section
	}
	return h, true
}

// byCode handles a row whose sheet is some student's and whose id is missing or unknown.
func (m *matcher) byCode(sheet int, row submission.Row) (Entry, bool) {
	s := m.lab.Sheets[sheet]
	if row.Student == "" {
		return m.on(sheet, row)
	}
	fit, total := m.lines.Fits(sheet, row)
	if total == 0 || fit < total {
		m.problem(row.Place, "correct the id or the sheet"+m.lines.Guess(row, sheet),
			"%s is not in this lab and sheet %s belongs to student %s, so the row counts for nobody",
			whoever(row), s.Code, s.Student)
		return Entry{}, false
	}
	m.problem(row.Place, "correct the id",
		"%s is not in this lab; sheet and letters are those of student %s, for whom the row counts", whoever(row), s.Student)
	return m.on(sheet, row, fmt.Sprintf("the row names student %s", Clipped(row.Student)))
}

// bestFit picks among several sheets of one student the one that the letters fit best, the first on a tie.
func (m *matcher) bestFit(sheets []int, row submission.Row) int {
	best, most := sheets[0], -1
	for _, sheet := range sheets {
		if fit, _ := m.lines.Fits(sheet, row); fit > most {
			best, most = sheet, fit
		}
	}
	return best
}

// tied tells whether a row fits another sheet of a student as well as the best one.
func (m *matcher) tied(own []int, best int, row submission.Row) bool {
	most, _ := m.lines.Fits(best, row)
	return slices.ContainsFunc(own, func(sheet int) bool {
		fit, _ := m.lines.Fits(sheet, row)
		return sheet != best && fit == most
	})
}

// rowRulings are the entries of adjust.toml that say which rows count and for which sheet. They are needed before
// rows find their students; all others afterwards.
type rowRulings struct {
	trust  map[string]bool            // files
	choose map[Work]string            // the place of the row that counts
	worked map[string][]workedOnOther // by student
}

// sheet is where a student worked according to the instructor, when the row names a sheet (-1: none); AnySheet when
// nothing is said about it.
func (g rowRulings) sheet(student string, named int) int {
	for _, w := range g.worked[student] {
		if w.own == AnySheet || w.own == named || w.sheet == named {
			return w.sheet
		}
	}
	return AnySheet
}
