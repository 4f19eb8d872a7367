package debrief

import (
	"strings"
	"testing"

	"nospark/grading"
	"nospark/scenarios/lab"
)

// TestBestStep: a step that ruled out nothing is never praised, however little it lost; of the others the one that lost
// least is the best, and of equals the one that ruled out most.
func TestBestStep(t *testing.T) {
	l := twoRepairs()
	l.Tests = []lab.Test{{Label: "volts at the lamp", Point: -1, Column: -1}}
	step := func(before, after int, lost float64) grading.Step {
		return grading.Step{State: grading.Counted, Before: before, After: after, Lost: lost}
	}
	check := func(want string, steps ...grading.Step) {
		t.Helper()
		if got := New(l, 30, grading.StudentResult{Steps: steps}).BestStep(); !strings.HasPrefix(got, want) {
			t.Errorf("%q, want %q", got, want)
		}
	}
	check("No step ruled anything out.")
	check("No step ruled anything out.", step(5, 5, 0))
	check("Step 2, ", step(5, 5, 0), step(5, 4, 3))
	check("Step 3, ", step(9, 5, 1), step(5, 4, 0), step(4, 2, 0))
	repeat := step(9, 1, 0)
	repeat.State = grading.Repeat
	check("Step 2, ", repeat, step(5, 4, 3))
}

// TestBetterOnce: the better test is named once, at the step that lost most, and in words of the circuit where the
// grading has them.
func TestBetterOnce(t *testing.T) {
	l := twoRepairs()
	l.Tests = []lab.Test{{Label: "volts at the lamp", Point: -1, Column: -1, Minutes: 10}}
	step := func(lost float64) grading.Step {
		return grading.Step{State: grading.Counted, Before: 5, After: 5, Better: 0, Lost: lost, Agrees: true,
			Pointed: "none to 'Replace the switch'"}
	}
	for _, terse := range []bool{false, true} {
		d := New(l, 30, grading.StudentResult{Steps: []grading.Step{step(1), step(4), step(4), step(2)}})
		d.Terse = terse
		for i, want := range []int{0, 1, 0, 0} {
			if got := d.RemarkOn(i); strings.Count(got, "**Better:**") != want ||
				want == 1 && !strings.Contains(got, "none to 'Replace the switch'") {
				t.Errorf("terse %v, step %d: %q", terse, i+1, got)
			}
		}
	}
}
