package workbook

import (
	"fmt"
	"strings"

	"nospark/grading"
)

const stepsSheet = "Steps"

// stepColumns ends with what is read step by step on the screen; the columns before it are printed.
var stepColumns = []column{
	{title: "sheet", look: textLook},
	{title: "id", look: look{Border: true, Across: "left", Number: asText}},
	{title: "name", look: textLook},
	{title: "step", width: 8, look: wholeLook, note: "number of the step"},
	{title: "written", width: 12, look: wrapLook, note: "as entered"},
	{title: "test", width: 34, look: wrapLook, note: "test of that line"},
	{title: "reading", width: 24, look: wrapLook, note: "what the sheet says there"},
	{title: "judged", width: 10, look: midLook, note: "the student's verdict"},
	{title: "agrees", width: 10, look: midLook, note: "the verdict fits the reading; -: none is asked"},
	{title: "counts as", width: 19, look: textLook, note: "counted, or why not"},
	{title: "told something", width: 11, look: midLook, note: "could be expected to save time"},
	{title: "minutes", width: 10, look: tenthsLook},
	{title: "lost", width: 9, look: tenthsLook, note: "minutes more than best play from the same point"},
	{title: "left before", width: 9, look: tenthsLook, note: "minutes that best play still needs, on average"},
	{title: "suspects before", width: 10, look: wholeLook, note: "faults in their forms, still possible"},
	{title: "suspects after", width: 10, look: wholeLook},
	{title: "repairs ruled out", width: 34, look: textLook},
	{title: "a better test", width: 34, look: wrapLook, note: "best at that moment; empty: this one was"},
	{title: "would have left", width: 14, look: midLook, note: "suspects per possible reading of the better test"},
	{title: "remarks", width: 50, look: textLook}, // long; the last column may run on to the right
}

// steps writes one row per step of every student, in the order in which they were taken. Who a step belongs to stands in every row, so that
// the table can be sorted and filtered.
func (r *report) steps() explained {
	s := r.sheet(stepsSheet)
	var rows [][]any
	var longest float64 // minutes lost by a step, the end of the scale of bars
	for _, student := range r.students {
		for i, step := range student.Steps {
			rows = append(rows, append([]any{student.Sheet, orNil(student.Student), orNil(student.Name), i + 1}, r.stepRow(step)...))
			longest = max(longest, step.Lost/10)
		}
	}
	s.set(1, 1, titleLook, "Steps: "+r.lab.Title)
	const head = 3
	end := s.main(head, stepColumns, rows, 4)
	s.printed = place(stepColumns, "suspects after") // the rest would make the print too small to read
	if len(rows) > 0 {
		s.bars(head+1, end-1, place(stepColumns, "lost"), most([]float64{longest}), orange)
		agrees := place(stepColumns, "agrees")
		s.when(at(head+1, agrees)+":"+at(end-1, agrees), fmt.Sprintf(`%s="no"`, at(head+1, agrees)), paleAmber, "")
		counts := place(stepColumns, "counts as")
		first := at(head+1, counts)
		s.when(at(head+1, counts)+":"+at(end-1, counts), fmt.Sprintf(`AND(%s<>"",%s<>"counted")`, first, first), paleAmber, "")
	}
	return explained{stepsSheet, stepColumns}
}

// stepRow is the row of a step from the column "written" on.
func (r *report) stepRow(step grading.Step) []any {
	// A verdict counts only where a reading of the own sheet was looked up for certain; elsewhere the cells stay empty.
	read := step.State == grading.Counted || step.State == grading.Repeat || step.State == grading.Banned
	cells := []any{step.Text, r.testText(step.Test), orNil(step.Reading), orNil(verdict(step.Judged)), nil, stateWords(step.State), nil}
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
	return append(cells, number(step.Minutes), step.Lost/10, step.Value/10, step.Before, step.After, orNil(strings.Join(ruledOut, "; ")), r.testText(step.Better),
		orNil(strings.Join(split, " / ")), orNil(strings.Join(step.Remarks, " ")))
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
