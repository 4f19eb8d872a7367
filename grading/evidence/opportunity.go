package evidence

import (
	"fmt"
	"math"
	"slices"

	"nospark/grading"
	"nospark/scenarios"
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
func items(lab *scenarios.Lab, reference int64, s *grading.StudentResult) []Item {
	if s.Status != grading.Graded || len(s.Steps) == 0 && s.Repair < 0 {
		return []Item{}
	}
	list := []Item{} // not nil: the record has an empty list, never null
	for _, c := range kinds(lab) {
		var e Item
		var ok bool
		switch c {
		case Complaint:
			e, ok = complaint(lab, s)
		case Economy:
			e, ok = economy(reference, s), true
		case Proof:
			e, ok = proof(s)
		case Reasoning:
			e, ok = Item{Met: s.Reasoning >= reasoningMet, Why: fmt.Sprintf("%d of 4", s.Reasoning)},
				s.Reasoning >= 0
		case SafeWorking:
			e, ok = Item{Met: s.Safe == 1, Why: map[bool]string{true: "yes", false: "no"}[s.Safe == 1]}, s.Safe >= 0
		default:
			e, ok = ofKind(lab, s, c)
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
func kinds(lab *scenarios.Lab) []string {
	var ids, others []string
	for _, c := range Table() {
		ids = append(ids, c.ID)
	}
	for _, t := range lab.Tests {
		if id := ofTest(t); id != "" && !slices.Contains(ids, id) && !slices.Contains(others, id) {
			others = append(others, id)
		}
	}
	slices.Sort(others)
	return append(ids, others...)
}

// counts tells that a step is a reading whose letters fit, taken with an instrument that was allowed.
func counts(s grading.Step) bool { return s.State == grading.Counted || s.State == grading.Repeat }

// proven tells that the right repair was concluded when no test could have changed it.
func proven(s *grading.StudentResult) bool { return s.Repair >= 0 && s.Right && s.LostEarly == 0 }

// ofKind judges the tests of one kind: see testOpportunity and testMet. ok is false where there was no opportunity. The
// step that it names is the one to look at: the first wrong verdict, else the first test that told something, else the
// first of the kind.
func ofKind(lab *scenarios.Lab, s *grading.StudentResult, kind string) (Item, bool) {
	name := func(test int) string { return grading.TestName(lab, test) }
	needed := slices.IndexFunc(s.Path, func(p grading.PathStep) bool { return ofTest(lab.Tests[p.Test]) == kind })
	first, told, wrong, asked, right := -1, -1, -1, 0, 0 // indexes of steps, -1 for none; then counts
	for i, step := range s.Steps {
		if !counts(step) || ofTest(lab.Tests[step.Test]) != kind {
			continue
		}
		if first < 0 {
			first = i
		}
		if told < 0 && step.Told() {
			told = i
		}
		// Where no verdict is asked, the reading is no opportunity to judge one.
		switch {
		case step.Silent:
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
	at := func(i int, met bool, why string) (Item, bool) {
		return Item{Met: met, Step: i + 1, Test: name(s.Steps[i].Test), Why: why}, true
	}
	// One wrong verdict is enough: a chain of readings is as good as the worst of them.
	switch {
	case wrong >= 0:
		return at(wrong, false, verdicts)
	case first < 0 && needed >= 0 && !proven(s):
		return Item{Test: name(s.Path[needed].Test), Why: "best play needed a test of this kind; none was taken, " +
			"and the repair was not proven without one"}, true
	case first >= 0 && needed >= 0 && told < 0 && !proven(s):
		why := "best play needed a test of this kind that tells something; those taken told nothing"
		if asked > 0 {
			why += ", " + verdicts
		}
		return at(first, false, why)
	case asked == 0 && (needed < 0 || told < 0):
		return Item{}, false // not taken and not needed after all, or nothing was asked
	case asked == 0:
		return at(told, true, "told something; no verdict was asked")
	case told >= 0:
		return at(told, true, verdicts)
	}
	return at(first, true, verdicts)
}

// complaint judges whether the conclusion answers what the customer came for: see Table. ok is false without a
// conclusion.
func complaint(lab *scenarios.Lab, s *grading.StudentResult) (Item, bool) {
	if s.Repair < 0 {
		return Item{}, false
	}
	// Any suspect will do, not only the truth: whether the repair is right is the business of Proof.
	fits := false
	for h := range lab.Suspects(lab.Sheets[s.Index].Complaint).All() {
		fits = fits || lab.Faults[lab.Hypotheses[h].Fault].Repair == s.Repair
	}
	read := slices.ContainsFunc(s.Steps, counts) || len(s.Path) == 0 // nothing to read where nothing needs testing
	switch {
	case !fits:
		return Item{Why: "the repair cannot cure the complaint"}, true
	case !read:
		return Item{Why: "concluded without a reading that counts"}, true
	}
	return Item{Met: true, Why: "the repair can cure the complaint"}, true
}

// economy compares lost tenths of a minute with the lab's reference. A wrong repair is left out: it says nothing about
// the choice of tests and counts in Proof. The margin lets exactly half pass although it has been rounded.
func economy(reference int64, s *grading.StudentResult) Item {
	lost := rounded(s.LostSteps + s.LostEarly)
	return Item{
		Met: lost <= economyShare*float64(reference)+1e-9,
		Why: fmt.Sprintf("lost %.2f minutes, reference %.1f", lost/10, float64(reference)/10),
	}
}

// proof tells apart in words why something was not proven, since each wants another talk. ok is false without a
// conclusion.
func proof(s *grading.StudentResult) (Item, bool) {
	if s.Repair < 0 {
		return Item{}, false
	}
	e := Item{Met: proven(s)}
	switch {
	case e.Met:
		e.Why = "right, and proven"
	case s.Right:
		e.Why = fmt.Sprintf("right, but %.1f minutes of testing were left", s.LostEarly/10)
	case s.LostEarly == 0:
		e.Why = "wrong repair, although the readings proved another"
	default:
		e.Why = "wrong repair, before the proof"
	}
	return e, true
}

// rounded keeps a thousandth of a tenth of a minute, so that records do not depend on the last bit of a machine's
// arithmetic.
func rounded(v float64) float64 { return math.Round(v*1000) / 1000 }
