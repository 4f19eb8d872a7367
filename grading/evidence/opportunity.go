package evidence

import (
	"fmt"
	"math"
	"slices"

	"nospark/grading"
	"nospark/grading/bestplay"
	"nospark/scenarios/lab"
)

// Item is one opportunity of one student: met or not, and where to look.
type Item struct {
	Competency string `json:"competency"`
	Met        bool   `json:"met"`
	// from 1, as on the worksheet; 0: the conclusion, or one of the instructor's columns
	Step int    `json:"step"`
	Test string `json:"test"` // of that step, or the one that best play needed; "" where none is meant
	Why  string `json:"why"`
}

// items lists what a student's sheet says, in the order of the table. A sheet says nothing unless its mark is final:
// a provisional one waits for the instructor's word, and an excused or missing one was no opportunity.
func items(l *lab.Lab, s *grading.StudentResult) []Item {
	if s.Status != grading.Graded || len(s.Steps) == 0 && s.Repair < 0 {
		return []Item{}
	}
	list := []Item{} // not nil: the record has an empty list, never null
	asked := opportunities(l, s.Path)
	for _, c := range kinds(l) {
		var e Item
		var ok bool
		switch c {
		case Economy:
			e, ok = economy(s), true
		case Proof:
			e, ok = proof(s), true
		case Reasoning:
			e, ok = Item{Met: s.Reasoning >= reasoningMet, Why: fmt.Sprintf("%d of 4", s.Reasoning)},
				s.Reasoning >= 0
		case SafeWorking:
			e, ok = Item{Met: s.Safe == 1, Why: map[bool]string{true: "yes", false: "no"}[s.Safe == 1]}, s.Safe >= 0
		default:
			var step int
			if step, ok = asked[c]; ok {
				e = ofKind(l, s, c, step)
			}
		}
		if ok {
			e.Competency = c
			list = append(list, e)
		}
	}
	return list
}

// kinds lists the competencies that a lab can give evidence of: those of the table, then those of its tests that the
// table does not know.
func kinds(l *lab.Lab) []string {
	var ids, others []string
	for _, c := range Table() {
		ids = append(ids, c.ID)
	}
	for _, t := range l.Tests {
		if id := ofTest(t); id != "" && !slices.Contains(ids, id) && !slices.Contains(others, id) {
			others = append(others, id)
		}
	}
	slices.Sort(others)
	return append(ids, others...)
}

// counts tells that a step is a reading whose letters fit, taken with an instrument that was allowed.
func counts(s grading.Step) bool { return s.State == grading.Counted || s.State == grading.Repeat }

// Proven tells that the right repair was concluded when no test could have changed it.
func Proven(s *grading.StudentResult) bool { return s.Repair >= 0 && s.Right && s.LostEarly == 0 }

// opportunities tells which kinds of test a sheet gives an opportunity for, from the sheet alone: those that the best
// play on its complaint and fault needs. The value is the step of that path at which a kind comes first, an index. What
// counts as an opportunity is decided here and nowhere else.
func opportunities(l *lab.Lab, path []bestplay.PathStep) map[string]int {
	first := map[string]int{}
	for i, p := range path {
		id := ofTest(l.Tests[p.Test])
		if _, known := first[id]; !known {
			first[id] = i
		}
	}
	delete(first, "")
	return first
}

// ofKind judges the tests of one kind: see testMet; needed is the step of the path that needs one. The step that the
// item names is the one to look at: the first wrong verdict, else the first test that told something, else the first of
// the kind.
func ofKind(l *lab.Lab, s *grading.StudentResult, kind string, needed int) Item {
	name := func(test int) string { return l.TestName(test) }
	first, told, wrong, asked, right := -1, -1, -1, 0, 0 // indexes of steps, -1 for none; then counts
	for i, step := range s.Steps {
		if !counts(step) || ofTest(l.Tests[step.Test]) != kind {
			continue
		}
		if first < 0 {
			first = i
		}
		if told < 0 && step.Told() {
			told = i
		}
		switch {
		case step.Silent: // no verdict is asked
		case step.Agrees:
			asked++
			right++
		default:
			asked++
			if wrong < 0 {
				wrong = i
			}
		}
	}
	verdicts := fmt.Sprintf("%d of %d verdicts right", right, asked)
	if asked == 0 {
		verdicts = "no verdict was asked"
	}
	at := func(i int, met bool, why string) Item {
		return Item{Met: met, Step: i + 1, Test: name(s.Steps[i].Test), Why: why}
	}
	// One wrong verdict is enough: a chain of readings is as good as the worst of them.
	switch {
	case wrong >= 0:
		return at(wrong, false, verdicts)
	case first < 0 && Proven(s):
		return Item{Test: name(s.Path[needed].Test), Why: "best play needed a test of this kind; the repair was " +
			"proven without one"}
	case first < 0:
		return Item{Test: name(s.Path[needed].Test), Why: "best play needed a test of this kind; none was taken"}
	case told >= 0:
		return at(told, true, verdicts)
	case Proven(s):
		return at(first, true, verdicts)
	}
	return at(first, false,
		"best play needed a test of this kind that tells something; those taken told nothing, "+verdicts)
}

// economy compares lost tenths of a minute with the reference of the sheet. A wrong repair is left out: it says
// nothing about the choice of tests and counts in Proof. The margin lets exactly half pass although it has been
// rounded.
func economy(s *grading.StudentResult) Item {
	lost := rounded(s.LostSteps + s.LostEarly)
	return Item{
		Met: lost <= economyShare*float64(s.Reference)+1e-9,
		Why: fmt.Sprintf("lost %.2f minutes, reference %.1f", lost/10, float64(s.Reference)/10),
	}
}

// proof tells apart in words why something was not proven, since each wants another talk.
func proof(s *grading.StudentResult) Item {
	e := Item{Met: Proven(s)}
	switch {
	case e.Met:
		e.Why = "right, and proven"
	case s.Repair < 0:
		e.Why = "no conclusion"
	case s.Right:
		e.Why = fmt.Sprintf("right, but %.1f minutes of testing were left", s.LostEarly/10)
	case s.LostEarly == 0:
		e.Why = "wrong repair, although the readings proved another"
	default:
		e.Why = "wrong repair, before the proof"
	}
	return e
}

// rounded keeps a thousandth of a tenth of a minute, so that records do not depend on the last bit of a machine's
// arithmetic.
func rounded(v float64) float64 { return math.Round(v*1000) / 1000 }
