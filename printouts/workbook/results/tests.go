package results

import (
	"cmp"
	"fmt"
	"slices"

	"nospark/grading"
	"nospark/printouts/workbook"
)

const testsSheet = "Tests"

// testColumns: "worth" judges a test as it was used here, not the test. A good one at the wrong moment is worth
// nothing.
var testColumns = []workbook.Column{
	{Title: "test", Width: 46, Style: workbook.WrapStyle},
	{Title: "minutes", Width: 10, Style: workbook.TenthsStyle},
	{Title: "times used", Width: 9, Style: workbook.WholeStyle, Note: "steps that count, repeats too"},
	{Title: "told something", Width: 11, Style: workbook.PercentStyle, Note: "share of its uses"},
	{Title: "mean minutes lost", Width: 10, Style: workbook.TenthsStyle, Note: "per use, against best play"},
	{Title: "worth", Width: 9, Style: workbook.PercentStyle, Note: "share of its minutes not lost: 100 % best at " +
		"that moment, 0 % told nothing"},
	{Title: "best when used", Width: 10, Style: workbook.PercentStyle, Note: "share of its uses that lost nothing"},
	{Title: "missed", Width: 9, Style: workbook.WholeStyle, Note: "students for whom it would once have been better"},
	{Title: "verdicts", Width: 10, Style: workbook.WholeStyle, Note: "judged readings"},
	{Title: "right verdicts", Width: 10, Style: workbook.PercentStyle},
}

// usage counts what students did with a test. Its worth is 1 - lost / minutes: best play loses nothing, and a test that
// tells nothing loses all its minutes, so worth runs from 0 to 1 whatever a test costs.
type usage struct {
	test, used, told, best, missed, verdicts, right int
	lost                                            float64 // minutes
}

// tests writes one row per test that somebody used or should have used.
func (r *report) tests() explained {
	s := r.AddSheet(testsSheet)
	all := r.usage()
	some := slices.DeleteFunc(slices.Clone(all), func(u usage) bool { return u.used == 0 && u.missed == 0 })
	slices.SortStableFunc(some, func(a, b usage) int {
		return cmp.Or(cmp.Compare(b.used, a.used),
			cmp.Compare(b.missed, a.missed))
	})
	// A test that nobody used but somebody missed has shares of nothing, which stay empty.
	var rows [][]any
	for _, u := range some {
		minutes := number(r.lab.Tests[u.test].Minutes)
		lost := u.lost / float64(u.used)
		rows = append(rows, []any{r.testText(u.test), minutes, u.used, share(u.told, u.used), lost, 1 - lost/minutes,
			share(u.best, u.used), u.missed,
			u.verdicts, share(u.right, u.verdicts)})
	}
	s.Set(1, 1, workbook.TitleStyle, "Tests: "+r.lab.Title)
	s.Set(2, 1, workbook.NoteStyle, fmt.Sprintf("The tests that somebody used or should have used; %d of %d are not "+
		"listed. Most used first.", len(all)-len(some), len(all)))
	const head = 4
	end := s.MainTable(head, testColumns, rows, 1)
	s.Bars(head+1, end-1, workbook.ColumnIndex(testColumns, "worth"), "1", workbook.SkyBlue)
	return explained{testsSheet, testColumns}
}

// usage counts over all students, one entry per test of the lab in its order.
func (r *report) usage() []usage {
	all := make([]usage, len(r.lab.Tests))
	for i := range all {
		all[i].test = i
	}
	for _, student := range r.students {
		missed := map[int]bool{} // once per student, however often it would have been better
		for _, step := range student.Steps {
			if step.Better >= 0 && step.Better != step.Test && !missed[step.Better] {
				missed[step.Better] = true
				all[step.Better].missed++
			}
			// What proves nothing for lack of letters, or was forbidden, says nothing about the test.
			if step.State != grading.Counted && step.State != grading.Repeat {
				continue
			}
			all[step.Test].add(step)
		}
	}
	return all
}

// add counts one use.
func (u *usage) add(step grading.Step) {
	u.used++
	u.lost += step.Lost / 10
	if step.Told() {
		u.told++
	}
	if step.Lost == 0 {
		u.best++
	}
	if step.Judged != "" && !step.Silent {
		u.verdicts++
		if step.Agrees {
			u.right++
		}
	}
}
