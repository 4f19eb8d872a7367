package grading_test

import (
	"math/rand/v2"
	"testing"

	"nospark/grading"
	"nospark/grading/adjust"
	"nospark/grading/submission"
	"nospark/scenarios/lab"
)

// The working printed on a debrief gives the very mark: computed anew from it, every part is the same for whatever a
// student did.
func TestWorkingGivesTheMark(t *testing.T) {
	manyLabs(t, 150, func(t *testing.T, r *rand.Rand, l *lab.Lab) {
		var rows []submission.Row
		for i := range l.Sheets {
			rows = append(rows, randomPlay(l, i, r))
		}
		result := grade(t, l, adjust.Decisions{}, rows...)
		for _, s := range result.Students {
			if s.Status == grading.Blank {
				continue
			}
			w, rubric := grading.NewWorking(l, s), l.Rubric
			if w.Others > 0 && float64(w.RuledOut)/float64(w.Others) != s.Evidence {
				t.Errorf("student %s: %d of %d, but e is %v", s.Student, w.RuledOut, w.Others, s.Evidence)
			}
			reference := float64(result.Reference)
			want := lab.Parts{
				Evidence:       float64(rubric.Evidence) * s.Evidence,
				Diagnosis:      float64(rubric.Diagnosis) * w.Diagnosis,
				Efficiency:     float64(rubric.Efficiency) * s.Evidence * reference / (reference + s.Lost),
				Interpretation: float64(rubric.Interpretation) * w.Share,
			}
			if got := s.Parts; !near(got.Evidence, want.Evidence) || !near(got.Diagnosis, want.Diagnosis) ||
				!near(got.Efficiency, want.Efficiency) || !near(got.Interpretation, want.Interpretation) {
				t.Errorf("student %s: working %+v gives %+v, the mark has %+v", s.Student, w, want, got)
			}
		}
	})
}

// Numbers by hand, from the table of lampLab: the feed rules out the switches' 5 of the 6 that are not the lamp's.
func TestWorkingByHand(t *testing.T) {
	lamp := lampLab()
	s := of(t, grade(t, lamp, adjust.Decisions{}, hand(lamp, lampSheet, groundRepair, "1+")), "1003")
	want := grading.Working{
		RuledOut: 5, Others: 6, Diagnosis: 5.0 / 12, Allowed: true, Agreed: 1, Asked: 1, Counted: 1, Told: 1, Needed: 2,
		Missing: 1, Share: 0.5,
		Outcome: lab.Outcome{Evidence: 5.0 / 6, Share: 0.8, Wrong: 0.2, Verdicts: 0.5, Reference: 30, Lost: 120},
	}
	got := grading.NewWorking(lamp, s)
	got.Parts = lab.Parts{} // those of TestMarksByHand
	if got != want {
		t.Errorf("working %+v, want %+v", got, want)
	}
}

func TestTestName(t *testing.T) {
	l := lampLab()
	l.Columns = []lab.Column{{Label: "volts to battery -", Condition: "switch on"}}
	l.Tests[1].Column = 0
	for i, want := range []string{"volts at the battery, switch on",
		"volts to battery -, switch on, at 2 switch, lamp side", "volts at the lamp ground, switch on"} {
		if got := l.TestName(i); got != want {
			t.Errorf("test %d: %q, want %q", i, got, want)
		}
	}
}
