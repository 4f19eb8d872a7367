package grading_test

import (
	"math"
	"strings"
	"testing"

	"nospark/grading"
	"nospark/grading/adjust"
	"nospark/grading/submission"
	"nospark/scenarios/lab"
)

// near compares marks that were computed by hand with four decimals.
func near(a, b float64) bool { return math.Abs(a-b) < 5e-5 }

// Every mark here is computed by hand from the table of lampLab. Reference: all five sheets have the one complaint, so
// 3.0 minutes.
func TestMarksByHand(t *testing.T) {
	l := lampLab()
	check := func(name string, row submission.Row, status grading.Status, evidence, diagnosis, efficiency,
		interpretation, lost float64) {
		t.Helper()
		r := grade(t, l, adjust.Decisions{}, row)
		if r.Reference != 30 {
			t.Fatalf("reference %d, want 30 tenths", r.Reference)
		}
		s := of(t, r, row.Student)
		if s.Status != status {
			t.Errorf("%s: status %s (%s), want %s", name, s.Status, s.Why, status)
		}
		want := lab.Parts{Evidence: evidence, Diagnosis: diagnosis, Efficiency: efficiency,
			Interpretation: interpretation}
		if !near(s.Parts.Evidence, evidence) || !near(s.Parts.Diagnosis, diagnosis) ||
			!near(s.Parts.Efficiency, efficiency) ||
			!near(s.Parts.Interpretation, interpretation) {
			t.Errorf("%s: parts %+v, want %+v", name, s.Parts, want)
		}
		if sum := evidence + diagnosis + efficiency + interpretation; !near(s.Mark, sum) {
			t.Errorf("%s: mark %v, want %v", name, s.Mark, sum)
		}
		if !near(s.Lost, lost) {
			t.Errorf("%s: lost %v tenths, want %v", name, s.Lost, lost)
		}
	}
	check("best play, lamp", hand(l, lampSheet, lampRepair, "1+", "2+"), grading.Graded, 15, 40, 30, 15, 0)
	check("best play, switch", hand(l, switchOpenSheet, switchRepair, "1-"), grading.Graded, 15, 40, 30, 15, 0)
	check("best play, burnt switch", hand(l, burntSheet, switchRepair, "1-"), grading.Graded, 15, 40, 30, 15, 0)

	// Battery first tells nothing: 1.0 minute lost. Efficiency 30 x 30/(30+10) = 22.5. Two steps told something, as
	// best play needs.
	check("a worthless test first", hand(l, lampSheet, lampRepair, "0+", "1+", "2+"), grading.Graded, 15, 40, 22.5, 15,
		10)
	// The same with the worthless test judged wrongly: 1 mistake against the 2 steps that the fault needs, 15 x (2 -
	// 1)/2 = 7.5. Two further tests that are judged rightly change nothing about that; the resistance after the proof
	// loses its 5 minutes, 30 x 30/90 = 10.
	check("a worthless test judged wrongly", hand(l, lampSheet, lampRepair, "0-", "1+", "2+"), grading.Graded, 15, 40,
		22.5, 7.5, 10)
	check("a mistake and a test more", hand(l, lampSheet, lampRepair, "0-", "1+", "2+", "3-"), grading.Graded, 15, 40,
		10, 7.5, 60)
	// Ground first loses 0.8 minutes; then feed splits the rest and is best. 30 x 30/38 = 23.6842.
	check("second-best test first", hand(l, lampSheet, lampRepair, "2+", "1+"), grading.Graded, 15, 40, 23.6842, 15, 8)
	// Resistance alone proves the lamp: loses 3.2 minutes, 30 x 30/62 = 14.5161; best play would have no step left to
	// make.
	check("one dear test", hand(l, lampSheet, lampRepair, "3-"), grading.Graded, 15, 40, 14.5161, 15, 32)
	check("one dear test judged wrongly", hand(l, lampSheet, lampRepair, "3+"), grading.Graded, 15, 40, 14.5161, 0, 32)
	// The ground first saves nothing then: it loses 0.8 minutes, and the resistance, which with lamp and two switches
	// left costs 3 more than the feed, 3: 30 x 30/68 = 13.2353.
	check("padded with a cheap test", hand(l, lampSheet, lampRepair, "2+", "3-"), grading.Graded, 15, 40, 13.2353, 15,
		38)

	// Without a test: V = 3.0 minutes are missing, e = 0, so nothing but the diagnosis.
	check("a lucky guess", hand(l, lampSheet, lampRepair), grading.Graded, 0, 40, 0, 0, 30)
	// A wrong guess costs the repair's 20 minutes as well.
	check("an unlucky guess", hand(l, lampSheet, switchRepair), grading.Graded, 0, 0, 0, 0, 230)
	check("a worthless test, then a lucky guess", hand(l, lampSheet, lampRepair, "0+"), grading.Graded, 0, 40, 0, 0, 40)

	// Feed only, which is one step of the two: lamp and ground remain. Others than the lamp weigh 6, of which the
	// switches' 5 are ruled out: e = 5/6. V of the rest is the ground test's 2 minutes, the wrong repair costs 10: lost
	// 12. Evidence 15 x 5/6 = 12.5; diagnosis 40 x 5/12 = 16.6667; efficiency 30 x 5/6 x 30/150 = 5; interpretation 15
	// x 1/2.
	check("a wrong repair that is still possible", hand(l, lampSheet, groundRepair, "1+"), grading.Graded, 12.5,
		16.6667, 5, 7.5, 120)
	// The switch was ruled out by the feed. Lost: 2 minutes early, 20 wrong: 30 x 5/6 x 30/250 = 3.
	check("a wrong repair that was ruled out", hand(l, lampSheet, switchRepair, "1+"), grading.Graded, 12.5, 0, 3, 7.5,
		220)
	// Right, but not proven: lost 2 minutes, 30 x 5/6 x 30/50 = 15.
	check("right but not proven", hand(l, lampSheet, lampRepair, "1+"), grading.Graded, 12.5, 40, 15, 7.5, 20)
	check("proven but not concluded", hand(l, lampSheet, -1, "1+", "2+"), grading.Graded, 15, 0, 30, 15, 0)

	// One of two verdicts is wrong, or missing: half of 15.
	check("a wrong verdict", hand(l, lampSheet, lampRepair, "1-", "2+"), grading.Graded, 15, 40, 30, 7.5, 0)
	check("a missing verdict", hand(l, lampSheet, lampRepair, "1", "2+"), grading.Graded, 15, 40, 30, 7.5, 0)

	// The feed is read twice: its 2 minutes are lost. 30 x 30/50 = 18.
	check("a repeat", hand(l, lampSheet, lampRepair, "1+", "1+", "2+"), grading.Graded, 15, 40, 18, 15, 20)
	// After the proof everything is lost: the resistance's 5 minutes. 30 x 30/80 = 11.25.
	check("a test after the proof", hand(l, lampSheet, lampRepair, "1+", "2+", "3-"), grading.Graded, 15, 40, 11.25, 15,
		50)

	// The ground's letters are wrong: the step costs its 2 minutes and proves nothing, so 2 more minutes are missing at
	// the end. 30 x 5/6 x 30/70 = 10.7143.
	row := hand(l, lampSheet, lampRepair, "1+", "2+")
	row.Steps[1].Letters = "ZZ"
	check("letters that do not fit", row, grading.Provisional, 12.5, 40, 10.7143, 7.5, 40)
	// A line that does not exist costs nothing.
	row = hand(l, lampSheet, lampRepair, "0+", "1+", "2+")
	row.Steps[0].Line = 999
	check("an unknown line", row, grading.Provisional, 15, 40, 30, 15, 0)
	row.Steps[0].Line = -1
	check("no step", row, grading.Provisional, 15, 40, 30, 15, 0)
}

// The vehicle of sheet 3 with best play: what the debrief prints.
func TestStepsByHand(t *testing.T) {
	lab := lampLab()
	s := of(t, grade(t, lab, adjust.Decisions{}, hand(lab, lampSheet, lampRepair, "2+", "1+")), "1003")
	if s.Best != 40 || s.Minutes != 40 || len(s.Path) != 2 || s.Path[0].Test != feed || s.Path[1].Test != ground ||
		s.Path[0].Before != 4 || s.Path[0].After != 2 {
		t.Errorf("best %d, spent %d, path %+v", s.Best, s.Minutes, s.Path)
	}
	first, second := s.Steps[0], s.Steps[1]
	// The feed would have left lamp and ground together, or one switch: 2, 1, 1.
	if first.Better != feed || len(first.Split) != 3 || first.Split[0] != 2 || first.Split[1] != 1 ||
		first.Split[2] != 1 {
		t.Errorf("better test %d with split %v, want the feed with 2 1 1", first.Better, first.Split)
	}
	if first.Before != 4 || first.After != 3 || len(first.Cleared) != 1 || first.Cleared[0] != groundRepair ||
		first.Value != 30 || first.Lost != 8 {
		t.Errorf("first step %+v", first)
	}
	if second.Better != -1 || second.Lost != 0 || second.Before != 3 || second.After != 1 || len(second.Cleared) != 1 ||
		second.Cleared[0] != switchRepair || second.Value != 20 {
		t.Errorf("second step %+v", second)
	}
	if len(s.Left) != 1 || s.Left[0] != 2 || s.Evidence != 1 || !s.Right {
		t.Errorf("left %v, evidence %v, right %v", s.Left, s.Evidence, s.Right)
	}
}

// Two faults that read alike everywhere: either repair is right, and neither has to be ruled out.
func TestInseparableRepairs(t *testing.T) {
	lab := lampLab()
	lab.Hypotheses[3].Bands = lab.Hypotheses[2].Bands // the ground reads like the lamp
	for i := range lab.Sheets[groundSheet].Lines {
		lab.Sheets[groundSheet].Lines[i].Band = lab.Hypotheses[3].Band(i)
	}
	// Now the feed alone tells the switch from {lamp, ground}: V = 2.0, and nothing can be proven beyond.
	for _, repair := range []int{lampRepair, groundRepair} {
		s := of(t, grade(t, lab, adjust.Decisions{}, hand(lab, lampSheet, repair, "1+")), "1003")
		if s.Mark != 100 || !s.Right {
			t.Errorf("repair %d: mark %v, right %v, want 100", repair, s.Mark, s.Right)
		}
	}
}

// The instructor's columns count only if the rubric gives them weight; then an empty one makes the mark provisional.
func TestInstructorsColumns(t *testing.T) {
	lab := lampLab()
	row := hand(lab, lampSheet, lampRepair, "1+", "2+")
	row.Reasoning, row.Safe = 3, 0
	if s := of(t, grade(t, lab, adjust.Decisions{}, row), "1003"); s.Mark != 100 || s.Reasoning != 3 || s.Safe != 0 {
		t.Errorf("without weight: mark %v", s.Mark)
	}
	lab.Rubric.Evidence, lab.Rubric.Efficiency, lab.Rubric.Reasoning, lab.Rubric.Safety = 10, 20, 10, 5
	// 10 + 40 + 20 + 15 + 10 x 3/4 + 5 x 0 = 92.5
	if s := of(t, grade(t, lab, adjust.Decisions{}, row), "1003"); s.Mark != 92.5 || s.Status != grading.Graded {
		t.Errorf("with weight: mark %v, %s", s.Mark, s.Status)
	}
	// Reasoning empty: the other parts have 10 + 40 + 20 + 15 + 0 = 85 of 90 points, 85 x 100/90 = 94.4444.
	row.Reasoning = -1
	if s := of(t, grade(t, lab, adjust.Decisions{}, row), "1003"); !near(s.Mark, 94.4444) ||
		s.Status != grading.Provisional {
		t.Errorf("reasoning empty: mark %v, %s", s.Mark, s.Status)
	}
}

// A forbidden instrument proves nothing, and best play does without it.
func TestForbiddenInstrument(t *testing.T) {
	lab := lampLab()
	lab.Technique.Forbid = []string{"ohmmeter"}
	s := of(t, grade(t, lab, adjust.Decisions{}, hand(lab, lampSheet, lampRepair, "3-", "1+", "2+")), "1003")
	// 5 minutes lost: 30 x 30/80 = 11.25.
	if s.Steps[0].State != grading.Banned || s.Steps[0].After != 4 || s.LostSteps != 50 ||
		!near(s.Mark, 15+40+11.25+15) {
		t.Errorf("step %+v, mark %v", s.Steps[0], s.Mark)
	}
}

// TestConfirmedAsksNothing: once the instructor has confirmed a mark, the list of problems asks for no more.
func TestConfirmedAsksNothing(t *testing.T) {
	lab := lampLab()
	row := hand(lab, lampSheet, lampRepair, "1+", "2+")
	row.Steps[1].Letters = "ZZ"
	do := func(adjust adjust.Decisions) string {
		t.Helper()
		r := grade(t, lab, adjust, row)
		if len(r.Problems) != 1 {
			t.Fatalf("problems %+v", r.Problems)
		}
		return r.Problems[0].Do
	}
	if got := do(adjust.Decisions{}); !strings.Contains(got, "[[confirm]]") {
		t.Errorf("before: %q", got)
	}
	if got := do(adjust.Decisions{Confirm: []adjust.Confirm{{Student: "1003",
		Reason: "looked"}}}); got != "nothing: the mark is confirmed in adjust.toml" {
		t.Errorf("after: %q", got)
	}
}
