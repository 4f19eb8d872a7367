package results

import (
	"fmt"
	"strings"

	"nospark/grading"
	"nospark/printouts/workbook"
)

const stepsSheet = "Steps"

// stepColumns ends with what is read step by step on the screen; the columns before it are printed.
var stepColumns = []workbook.Column{
	{Title: "sheet", Style: workbook.TextStyle},
	{Title: "id", Style: workbook.Style{Border: true, Align: "left", Format: workbook.AsText}},
	{Title: "name", Style: workbook.TextStyle},
	{Title: "step", Width: 8, Style: workbook.WholeStyle, Note: "number of the step"},
	{Title: "written", Width: 12, Style: workbook.WrapStyle, Note: "as entered"},
	{Title: "test", Width: 34, Style: workbook.WrapStyle, Note: "test of that line"},
	{Title: "reading", Width: 24, Style: workbook.WrapStyle, Note: "what the sheet says there"},
	{Title: "judged", Width: 10, Style: workbook.CenterStyle, Note: "the student's verdict"},
	{Title: "agrees", Width: 10, Style: workbook.CenterStyle, Note: "the verdict fits the reading; -: none is asked"},
	{Title: "counts as", Width: 19, Style: workbook.TextStyle, Note: "counted, or why not"},
	{Title: "told something", Width: 11, Style: workbook.CenterStyle, Note: "could be expected to save time"},
	{Title: "minutes", Width: 10, Style: workbook.TenthsStyle},
	{Title: "lost", Width: 9, Style: workbook.TenthsStyle, Note: "minutes more than best play from the same point"},
	{Title: "left before", Width: 9, Style: workbook.TenthsStyle,
		Note: "minutes that best play still needs, on average"},
	{Title: "suspects before", Width: 10, Style: workbook.WholeStyle, Note: "faults in their forms, still possible"},
	{Title: "suspects after", Width: 10, Style: workbook.WholeStyle},
	{Title: "repairs ruled out", Width: 34, Style: workbook.TextStyle},
	{Title: "a better test", Width: 34, Style: workbook.WrapStyle, Note: "best at that moment; empty: this one was"},
	{Title: "would have left", Width: 14, Style: workbook.CenterStyle, Note: "suspects per possible reading of the " +
		"better test"},
	{Title: "remarks", Width: 50, Style: workbook.TextStyle}, // long; the last column may run on to the right
}

// steps writes one row per step of every student, in the order in which they were taken. Who a step belongs to stands
// in every row, so that the table can be sorted and filtered.
func (r *report) steps() explained {
	s := r.AddSheet(stepsSheet)
	var rows [][]any
	var longest float64 // minutes lost by a step, the end of the scale of bars
	for _, student := range r.students {
		for i, step := range student.Steps {
			rows = append(rows, append([]any{student.Sheet, workbook.OrEmpty(student.Student),
				workbook.OrEmpty(student.Name), i + 1}, r.stepRow(step)...))
			longest = max(longest, step.Lost/10)
		}
	}
	s.Set(1, 1, workbook.TitleStyle, "Steps: "+r.lab.Title)
	const head = 3
	end := s.MainTable(head, stepColumns, rows, 4)
	// the rest would make the print too small to read
	s.PrintedColumns = workbook.ColumnIndex(stepColumns, "suspects after")
	if len(rows) > 0 {
		s.Bars(head+1, end-1, workbook.ColumnIndex(stepColumns, "lost"), most([]float64{longest}), workbook.Orange)
		agrees := workbook.ColumnIndex(stepColumns, "agrees")
		s.Highlight(workbook.Ref(head+1, agrees)+":"+workbook.Ref(end-1, agrees),
			fmt.Sprintf(`%s="no"`, workbook.Ref(head+1, agrees)), workbook.PaleAmber, "")
		counts := workbook.ColumnIndex(stepColumns, "counts as")
		first := workbook.Ref(head+1, counts)
		s.Highlight(workbook.Ref(head+1, counts)+":"+workbook.Ref(end-1, counts),
			fmt.Sprintf(`AND(%s<>"",%s<>"counted")`, first, first), workbook.PaleAmber, "")
	}
	return explained{stepsSheet, stepColumns}
}

// stepRow is the row of a step from the column "written" on.
func (r *report) stepRow(step grading.Step) []any {
	// A verdict counts only where a reading of the own sheet was looked up for certain; elsewhere the cells stay empty.
	read := step.State == grading.Counted || step.State == grading.Repeat || step.State == grading.Banned
	cells := []any{step.Text, r.testText(step.Test), workbook.OrEmpty(step.Reading),
		workbook.OrEmpty(verdict(step.Judged)), nil, stateWords(step.State), nil}
	if read {
		cells[4], cells[6] = yesNo(step.Agrees), yesNo(step.Told())
		if step.Silent {
			cells[4] = "-"
		}
	}
	var ruledOut []string
	for _, i := range step.Cleared {
		ruledOut = append(ruledOut, r.lab.Repairs[i].Label)
	}
	// In the order of the bands: 23 / 15 / 10. Nearly equal parts are what makes a test good.
	var split []string
	for _, n := range step.Split {
		split = append(split, fmt.Sprint(n))
	}
	return append(cells, number(step.Minutes), step.Lost/10, step.Value/10, step.Before, step.After,
		workbook.OrEmpty(strings.Join(ruledOut, "; ")), r.testText(step.Better),
		workbook.OrEmpty(strings.Join(split, " / ")), workbook.OrEmpty(strings.Join(step.Remarks, " ")))
}

// verdict gives the words for a sign of the form; "" for none.
func verdict(sign string) string {
	switch sign {
	case "+":
		return "OK"
	case "-":
		return "not OK"
	}
	return ""
}

// stateWords are the words for what a step is worth.
func stateWords(s grading.StepState) string {
	if s == grading.Unproven {
		return "letters do not fit"
	}
	return string(s)
}
