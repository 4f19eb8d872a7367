// Package debrief says what a student gets back after a lab: what was wrong, the own route beside best play, and
// how the mark comes about.
//
// [New] takes what the grading found; [Debrief.Section] is the whole of it as content, and the other methods are
// the words of its parts, for the hand that places them on one page.
package debrief

import (
	"fmt"

	"nospark/grading"
	"nospark/printouts/content"
	"nospark/printouts/wording"
	"nospark/scenarios/lab"
)

// Debrief is what one student gets back.
type Debrief struct {
	Lab        *lab.Lab
	Reference  int64 // of the lab, tenths of a minute
	Student    grading.StudentResult
	Terse      bool // remarks in few words, where there is one line for each
	ShortNames bool // of tests, with what may be cut off last

	working grading.Working
}

// New is the debrief of one of the students of a result.
func New(lab *lab.Lab, reference int64, s grading.StudentResult) Debrief {
	return Debrief{Lab: lab, Reference: reference, Student: s, working: grading.NewWorking(lab, s)}
}

// Names of the parts of a debrief.
const (
	MarkName  = "How the mark comes about"
	RouteName = "Your route and best play"
	StepsName = "Your steps"
	StepsNote = "suspects: faults still possible before and after the reading; lost: minutes longer than with " +
		"the best test at that moment"
	RemarksName  = "Remarks"
	NoSteps      = "No test was written down, so nothing was ruled out."
	WhatWasWrong = "What was wrong"
	BestStepName = "Your best step"
	NextName     = "Next time"
)

// Name names the debrief by its code.
func (d Debrief) Name() string { return "Debrief " + d.Student.Sheet }

// Person is the student's name with the id.
func (d Debrief) Person() string {
	return wording.Join(", ", d.Student.Name, d.Student.Student, d.Student.Section)
}

// About names program, lab and day.
func (d Debrief) About() string { return wording.Join(", ", d.Lab.Program, d.Lab.Title, d.Lab.Date) }

// PageTitle names the page and the lab.
func (d Debrief) PageTitle() string {
	switch d.Student.Status {
	case grading.Blank:
		return "Nothing handed in yet: " + d.Lab.Title
	case grading.Incomplete:
		return "Not complete yet: " + d.Lab.Title
	case grading.Excused:
		return "Excused: " + d.Lab.Title
	}
	return "Debrief: " + d.Lab.Title
}

// MarkLabel stands below the mark.
func (d Debrief) MarkLabel() string {
	if d.Student.Status == grading.Provisional {
		return "provisional mark, of 100"
	}
	return "mark, of 100"
}

// MinutesText sums up the minutes.
func (d Debrief) MinutesText() string {
	return wording.Minutes(d.Student.Minutes) + " min spent, best play " + wording.Minutes(d.Student.Best)
}

func (d Debrief) markText() string {
	mark := "**Mark " + wording.Points(d.Student.Mark) + "** of 100"
	if d.Student.Status == grading.Provisional {
		mark += ", provisional"
	}
	return mark + ". Spent " + wording.Minutes(d.Student.Minutes) + " minutes, best play " +
		wording.Minutes(d.Student.Best) + " minutes."
}

// Why explains a mark that is not final, or what the instructor adjusted; "" where there is nothing to explain.
func (d Debrief) Why() string {
	switch {
	case d.Student.Why == "":
		return ""
	case d.Student.Status == grading.Provisional:
		return "**Provisional:** " + d.Student.Why
	}
	return "**Note:** " + d.Student.Why
}

// Learner says first what a student can use: what was wrong and how it shows, the own best step and why, and the one
// thing to do otherwise.
func (d Debrief) Learner() []content.Field {
	fault := d.fault()
	wrong := "**" + fault.Label + ".**"
	if fault.Note != "" { // a pack may leave out how a fault shows
		wrong += " " + wording.Sentences([]string{fault.Note})
	}
	return []content.Field{{Label: WhatWasWrong, Text: wrong}, {Label: BestStepName, Text: d.BestStep()},
		{Label: NextName, Text: d.Student.Practice}}
}

// BestStep names a step and why it is the best: of those that ruled something out the one that lost least, of equals
// the one that ruled out most.
func (d Debrief) BestStep() string {
	best := -1
	for i, s := range d.Student.Steps {
		if s.State != grading.Counted || s.After >= s.Before {
			continue
		}
		if best < 0 || better(s, d.Student.Steps[best]) {
			best = i
		}
	}
	if best < 0 {
		return "No step ruled anything out."
	}
	s := d.Student.Steps[best]
	why := "no other test would have told more for its minutes"
	if s.Lost > 0 {
		why = fmt.Sprintf("it lost %s min, less than your others", wording.LostMinutes(s.Lost))
	}
	return fmt.Sprintf("Step %d, %s: %s, and of %s it left %d.", best+1, d.Lab.TestName(s.Test), why,
		wording.Count(s.Before, "suspect", "suspects"), s.After)
}

func better(a, b grading.Step) bool {
	if a.Lost != b.Lost {
		return a.Lost < b.Lost
	}
	return a.Before-a.After > b.Before-b.After
}

// Facts say what was asked, what was right and what was concluded. Where there is little room the complaint, which the
// worksheet has, is left out.
func (d Debrief) Facts() []content.Field {
	if d.Terse {
		return d.conclusion()
	}
	return append([]content.Field{
		{Label: "Complaint", Text: d.Lab.Complaints[d.Lab.Sheets[d.Student.Index].Complaint].Label}},
		d.conclusion()...)
}

// conclusion sets what was right beside what the student wrote.
func (d Debrief) conclusion() []content.Field {
	return []content.Field{{Label: "Repair", Text: wording.Repair(d.Lab.Repairs[d.fault().Repair])},
		{Label: "You concluded", Text: d.concluded()}}
}

func (d Debrief) fault() lab.Fault {
	return d.Lab.Faults[d.Lab.Hypotheses[d.Lab.Sheets[d.Student.Index].Truth].Fault]
}

// concluded says what the student concluded and whether it was right.
func (d Debrief) concluded() string {
	switch {
	case d.Student.Repair < 0 && d.Student.Wrote != "":
		return "“" + d.Student.Wrote + "”: **not on the list of repairs**"
	case d.Student.Repair < 0:
		return "**nothing**"
	case d.Student.Right:
		return wording.Repair(d.Lab.Repairs[d.Student.Repair]) + ": **right**"
	}
	return wording.Repair(d.Lab.Repairs[d.Student.Repair]) + ": **not right**"
}
