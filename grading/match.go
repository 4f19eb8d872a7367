package grading

import (
	"fmt"
	"slices"
	"strings"

	"nospark/grading/submission"
	"nospark/scenarios"
	"nospark/scenarios/roster"
)

// handed is what one student handed in on one sheet, after all rows about the student have been looked at.
type handed struct {
	sheet   int // index into the lab's Sheets
	student string
	name    string
	section string
	row     submission.Row
	named   int      // the sheet of somebody else that the row names, else -1
	doubts  []string // why the mark is provisional, whatever the steps say

	undecided string // why none of the rows counts yet, "" when one does
}

// matcher finds the sheet of every row, and collects what a person should look at.
type matcher struct {
	lab      *scenarios.Lab
	codes    scenarios.SheetCodes
	byID     map[string][]int // sheets of the id as it is
	byFold   map[string]string
	claimed  map[int][]string // spare sheet -> students whose rows name it
	order    []string         // students in the order of their first row
	byPerson map[string][]handed
	rows     rowRulings
	problems []Problem
	letters  map[lineKey][]int32 // sheets that have such a line; made when first needed
}

type lineKey struct {
	line    int
	letters string
}

// newMatcher knows the sheets and students of a lab.
func newMatcher(lab *scenarios.Lab) *matcher {
	m := &matcher{
		lab: lab, codes: lab.SheetCodes(), byID: map[string][]int{}, byFold: map[string]string{}, claimed: map[int][]string{},
		byPerson: map[string][]handed{},
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

// match gives each student who has a row one entry. What is wrong with the rows is in the matcher's problems.
func (m *matcher) match(rows []submission.Row) []handed {
	strange := m.strangeFiles(rows)
	rows = slices.DeleteFunc(slices.Clone(rows), func(row submission.Row) bool { return strange[fileAt(row.Place)] })
	rows = m.admit(rows)
	m.claims(rows)
	for _, row := range rows {
		if h, ok := m.place(row); ok {
			if _, known := m.byPerson[h.student]; !known {
				m.order = append(m.order, h.student)
			}
			m.byPerson[h.student] = append(m.byPerson[h.student], h)
		}
	}
	var all []handed
	for _, student := range m.order {
		all = append(all, m.merge(m.byPerson[student]))
	}
	return all
}

// strangeFiles finds the files of another lab, left in the folder or copied over the form: at least three rows with a sheet, most of them
// of no sheet of this lab. Their ids are those of this class, so their rows would count.
func (m *matcher) strangeFiles(rows []submission.Row) map[string]bool {
	var order []string
	named, unknown := map[string]int{}, map[string]int{}
	for _, row := range rows {
		if row.Sheet == "" {
			continue
		}
		file := fileAt(row.Place)
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
	m.problems = append(m.problems, Problem{Place: place, What: fmt.Sprintf(format, args...), Do: do})
}

// on makes the entry of a row for a sheet and its student.
func (m *matcher) on(sheet int, row submission.Row, doubts ...string) (handed, bool) {
	s := m.lab.Sheets[sheet]
	return handed{sheet: sheet, student: s.Student, name: s.Name, section: s.Section, row: row, named: -1, doubts: doubts}, true
}

// place decides which student and sheet a row is about. The id decides; the sheet's code decides where the id is missing, and it may name
// a spare. Letters decide nothing, but they tell which neighbour's sheet was used.
func (m *matcher) place(row submission.Row) (handed, bool) {
	id := m.student(row.Student)
	sheet, known := m.codes.Find(row.Sheet)
	if !known {
		sheet = -1
	}
	if h, ok := m.onWorked(id, row); ok {
		return h, true
	}
	spare := known && m.lab.Sheets[sheet].Student == ""
	switch {
	case row.Student == "" && row.Sheet == "":
		m.problem(row.Place, "write the student's id"+m.guess(row, -1), "the row has neither id nor sheet, so it counts for nobody")
		return handed{}, false
	case row.Student == "" && !known, id == "" && row.Student != "" && !known:
		do := "correct the id or write the sheet's code" + m.guess(row, -1)
		if at, code := m.codes.Find(row.Student); code {
			do = fmt.Sprintf("%s is the code of a sheet: write it into the column sheet, and the student's id into the column id", m.lab.Sheets[at].Code)
		}
		m.problem(row.Place, do, "%s is not in this lab, so the row counts for nobody", whoever(row))
		return handed{}, false
	case spare:
		return m.onSpare(sheet, id, row)
	case id == "":
		return m.byCode(sheet, row)
	}
	own := m.byID[id]
	switch {
	case row.Sheet == "", slices.Contains(own, sheet):
		if !known {
			sheet = m.bestFit(own, row)
		}
		return m.on(sheet, row)
	case !known:
		m.problem(row.Place, "correct the code; the student's own sheet was used", "no sheet has the code %q", clipped(row.Sheet))
		return m.on(m.bestFit(own, row), row)
	}
	other, and := m.lab.Sheets[sheet].Student, ""
	if fit, total := m.fits(sheet, row); fit > 0 {
		and = fmt.Sprintf(", and %d of the %s fit it", fit, count(total, "step", "steps"))
	}
	m.problem(row.Place, "find out whose work it is; correct the id or the sheet", "sheet %s belongs to student %s, not to %s%s", row.Sheet, other, id, and)
	h, ok := m.on(m.bestFit(own, row), row, fmt.Sprintf("the row names sheet %s, which belongs to student %s", row.Sheet, other))
	h.named = sheet
	return h, ok
}

// whoever names a row's author in a message.
func whoever(row submission.Row) string {
	if row.Student == "" {
		return fmt.Sprintf("sheet %q", clipped(row.Sheet))
	}
	return fmt.Sprintf("student %q", clipped(row.Student))
}

// onSpare gives a spare sheet to the student whose row names it: somebody of the lab who lost or missed the own sheet, or somebody new.
func (m *matcher) onSpare(sheet int, id string, row submission.Row) (handed, bool) {
	s := m.lab.Sheets[sheet]
	h := handed{sheet: sheet, student: id, row: row, named: -1}
	switch {
	case row.Student == "" && row.Empty(): // as the form was printed: nobody used it
		return handed{}, false
	case row.Student == "":
		m.problem(row.Place, "write the id of the student who used it", "sheet %s is a spare and the row has no id, so it counts for nobody", s.Code)
		return handed{}, false
	case id == "":
		h.student, h.name = strings.TrimSpace(row.Student), row.Name
		m.problem(row.Place, "nothing, if the id is right", "student %q is not in this lab's list and used spare sheet %s", row.Student, s.Code)
	default:
		own := m.lab.Sheets[m.byID[id][0]]
		h.name, h.section = own.Name, own.Section
	}
	if holders := m.claimed[sheet]; len(holders) > 1 {
		m.problem(row.Place, fmt.Sprintf("correct the sheet codes, or write [[worked]] student = %q, sheet = %q into adjust.toml", h.student, s.Code),
			"spare sheet %s is named by the students %s; it counts for none of them yet", s.Code, fewNames(holders))
		h.row.Repair, h.row.Steps = "", nil
		h.undecided = "several students name spare sheet " + s.Code
		if id != "" {
			h.sheet = m.byID[id][0]
		}
		return h, id != ""
	}
	return h, true
}

// claims notes which students name a spare sheet in a row with something in it.
func (m *matcher) claims(rows []submission.Row) {
	for _, row := range rows {
		sheet, known := m.codes.Find(row.Sheet)
		if !known || m.lab.Sheets[sheet].Student != "" || row.Student == "" || row.Empty() {
			continue
		}
		student := m.student(row.Student)
		if student == "" {
			student = strings.TrimSpace(row.Student)
		}
		if _, elsewhere := m.rows.worked[student]; !elsewhere && !slices.Contains(m.claimed[sheet], student) {
			m.claimed[sheet] = append(m.claimed[sheet], student)
		}
	}
	for student, sheet := range m.rows.worked {
		if m.lab.Sheets[sheet].Student == "" && !slices.Contains(m.claimed[sheet], student) {
			m.claimed[sheet] = append(m.claimed[sheet], student)
		}
	}
	for _, students := range m.claimed {
		slices.Sort(students)
	}
}

// onWorked puts a row on the sheet that the instructor says the student worked on, whatever the row names.
func (m *matcher) onWorked(id string, row submission.Row) (handed, bool) {
	student := id
	if student == "" {
		student = strings.TrimSpace(row.Student)
	}
	sheet, told := m.rows.worked[student]
	if !told || student == "" {
		return handed{}, false
	}
	h := handed{sheet: sheet, student: student, name: row.Name, row: row, named: -1}
	if own := m.byID[id]; len(own) > 0 {
		h.name, h.section = m.lab.Sheets[own[0]].Name, m.lab.Sheets[own[0]].Section
	}
	return h, true
}

// byCode handles a row whose sheet is some student's and whose id is missing or unknown.
func (m *matcher) byCode(sheet int, row submission.Row) (handed, bool) {
	s := m.lab.Sheets[sheet]
	if row.Student == "" {
		return m.on(sheet, row)
	}
	fit, total := m.fits(sheet, row)
	if total == 0 || fit < total {
		m.problem(row.Place, "correct the id or the sheet"+m.guess(row, sheet), "%s is not in this lab and sheet %s belongs to student %s, so the row counts for nobody",
			whoever(row), s.Code, s.Student)
		return handed{}, false
	}
	m.problem(row.Place, "correct the id", "%s is not in this lab; sheet and letters are those of student %s, for whom the row counts", whoever(row), s.Student)
	return m.on(sheet, row, fmt.Sprintf("the row names student %s", clipped(row.Student)))
}

// bestFit picks among several sheets of one student the one that the letters fit best, the first on a tie.
func (m *matcher) bestFit(sheets []int, row submission.Row) int {
	best, most := sheets[0], -1
	for _, sheet := range sheets {
		if fit, _ := m.fits(sheet, row); fit > most {
			best, most = sheet, fit
		}
	}
	return best
}

// fits counts the readable steps of a row whose line and letters stand on a sheet.
func (m *matcher) fits(sheet int, row submission.Row) (fit, total int) {
	for _, step := range row.Steps {
		if step.Line < 0 {
			continue
		}
		total++
		for _, line := range m.lab.Sheets[sheet].Lines {
			if line.Number == step.Line && line.Letters == step.Letters {
				fit++
				break
			}
		}
	}
	return fit, total
}
