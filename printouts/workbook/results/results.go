// Package results makes the workbook of a graded lab. Start at Workbook, which calls a method for each sheet, each in a
// file of its name. Nothing is decided here; what a sheet counts or averages is only how it shows what grading found.
package results

import (
	"nospark/grading"
	"nospark/printouts/workbook"
	"nospark/scenarios/lab"
)

// Workbook makes the workbook of a graded lab, for the instructor's eyes: it names the hidden faults. A sheet that was
// not handed in has empty cells, never zeros.
func Workbook(l *lab.Lab, result *grading.Result) ([]byte, error) {
	r := &report{Book: workbook.New("Results of "+l.Title, l.Paper, l.Date), lab: l, result: result}
	for i := range result.Students {
		if s := &result.Students[i]; s.Student != "" || s.Status != grading.Blank {
			r.students = append(r.students, s)
		}
	}
	sections := []explained{r.scores(), r.steps(), r.suspects(), r.faults(), r.tests()}
	r.class()
	r.problems()
	r.readMe(sections)
	return r.Bytes(scoresSheet)
}
