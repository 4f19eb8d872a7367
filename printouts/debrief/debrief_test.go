package debrief

import (
	"strings"
	"testing"

	"nospark/grading"
	"nospark/grading/bestplay"
	"nospark/scenarios/lab"
	"nospark/scenarios/term"
)

// twoRepairs is a lab with no more in it than the words of a mark need.
func twoRepairs() *lab.Lab {
	return &lab.Lab{Rubric: term.DefaultRubric(), Repairs: []lab.Repair{
		{Label: "Replace the switch", Code: "12", Letters: "HM"},
		{Label: "Replace the lamp", Code: "47", Letters: "KA"},
	}}
}

// Each reason why fewer verdicts count than were written, and both; figures by hand.
func TestVerdictsText(t *testing.T) {
	lab := twoRepairs()
	right := grading.Step{State: grading.Counted, Judged: "+", Agrees: true, Minutes: 20}
	idle, wrong, missing := right, right, right
	idle.Lost = 20
	wrong.Agrees, missing.Agrees, missing.Judged = false, false, ""
	check := func(how, why string, steps ...grading.Step) {
		t.Helper()
		s := grading.StudentResult{Repair: 0, Steps: steps, Path: make([]bestplay.PathStep, 2), Missing: 1}
		d := New(lab, 30, s)
		if got := d.interpretationText(); got != how {
			t.Errorf("%q, want %q", got, how)
		}
		if got := d.verdictsText(); got != why {
			t.Errorf("%q, want %q", got, why)
		}
	}
	const best = "best play: 2 steps, 1 to do"
	check("15 × (2 − 0)/2 × (2 − 1)/2: 2 verdicts count, 0 wrong; "+best, "", right, right)
	check("15 × (2 − 1)/2 × (2 − 1)/2: 2 verdicts count, 1 wrong; "+best, "", right, wrong)
	check("15 × (2 − 1)/2 × (2 − 1)/2: 2 verdicts count, 1 missing; "+best, "", right, missing)
	check("15 × 0: 2 verdicts count, 2 wrong or missing, so nothing is left", "", wrong, missing)
	check("15 × (1 − 0)/1 × (2 − 1)/2: 1 verdict counts, 0 wrong; "+best,
		"Of 2 verdicts 1 does not count: right, where the step lost all its minutes", right, idle)
	check("15 × (2 − 1)/2 × (2 − 1)/2: 2 verdicts count, 1 wrong; "+best,
		"Of 3 verdicts no more count than best play has steps, but all wrong ones", right, right, wrong)
	check("15 × (2 − 0)/2 × (2 − 1)/2: 2 verdicts count, 0 wrong; "+best,
		"Of 5 verdicts 2 do not count: right, all minutes lost; of 3 no more than best play’s 2", right, right,
		right, idle, idle)
	check("15 × 0: no step told anything, each lost all its minutes", "", idle)
	check("15 × 0: no test was written down", "")
	// An instrument that was not allowed: the verdict is none, as on the page.
	banned := wrong
	banned.State, banned.Lost = grading.Banned, 20
	check("15 × (1 − 0)/1 × (2 − 1)/2: 1 verdict counts, 0 wrong; "+best, "", right, banned)
	if got := Judged(banned); got != "-" {
		t.Errorf("judged %q", got)
	}
}

// A code that is on no list is quoted: the student did conclude something, and should see what went wrong with it.
func TestUnknownRepairIsQuoted(t *testing.T) {
	lab := twoRepairs()
	check := func(wrote string, repair int, want, diagnosis string) {
		t.Helper()
		d := New(lab, 30, grading.StudentResult{Repair: repair, Wrote: wrote})
		if got := d.concluded(); got != want {
			t.Errorf("%q: concluded %q, want %q", wrote, got, want)
		}
		if got := d.diagnosisText(); !strings.Contains(got, diagnosis) {
			t.Errorf("%q: diagnosis %q, want %q in it", wrote, got, diagnosis)
		}
	}
	check("98XY", -1, "“98XY”: **not on the list of repairs**", "what was written is not on the list of repairs")
	check("", -1, "**nothing**", "no repair was concluded")
	check("12HM", 0, "Replace the switch (12HM)"+": **not right**", "not right")
}
