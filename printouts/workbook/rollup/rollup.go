// Package rollup makes the workbook of a term: who can do what, on how much evidence, and where it goes. Start at
// Workbook, which calls a method for each sheet.
package rollup

import (
	"cmp"
	"errors"
	"slices"

	"nospark/grading/competency"
	"nospark/grading/outcomes"
	"nospark/printouts/workbook"
)

// Options say what a workbook of a term shows.
type Options struct {
	Names bool // ids and names; otherwise codes, in an order that tells nothing about names
}

// Workbook makes the workbook of a term: who can do what, on how much evidence, and where it goes. The error is about
// options that the term cannot meet.
func Workbook(t *competency.Term, o Options) ([]byte, error) {
	s := &summary{t: t, labs: outcomes.LabsOf(t), marks: outcomes.MarksOf(t), names: o.Names, code: map[string]string{}}
	for i := range t.Students {
		student := &t.Students[i]
		if !o.Names && student.Code == "" {
			return nil, errors.New("students have codes only with the key of the term")
		}
		s.order = append(s.order, i)
		s.code[student.ID] = student.Code
	}
	date := ""
	if n := len(t.Records); n > 0 {
		date = t.Records[n-1].Date
	}
	if !o.Names {
		slices.SortStableFunc(s.order, func(a, b int) int {
			x, y := &t.Students[a], &t.Students[b]
			return cmp.Or(cmp.Compare(x.Section, y.Section), cmp.Compare(x.Code, y.Code))
		})
	}
	// Dated by the latest lab and not by today, so that the same records give the same bytes.
	s.Book = workbook.New("Competency, "+t.Term.Program, t.Term.Paper, date)
	s.coordinator()
	s.matrix()
	s.standings()
	s.termMarks()
	s.byLab()
	s.evidence()
	s.program()
	s.sections()
	s.hiddenFaults()
	s.tasks()
	s.listedTasks()
	s.taskTable()
	s.rules()
	s.problems()
	return s.Bytes(coordinatorSheet)
}
