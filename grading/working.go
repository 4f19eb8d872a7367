package grading

import (
	"nospark/grading/bestplay"
	"nospark/scenarios/lab"
)

// Working holds the numbers from which a student's mark is computed, for people who want to do it by hand. How they
// make the parts of the mark stands at lab.Rubric: at Parts, and for labs before format 3 at Classic.
type Working struct {
	Outcome  lab.Outcome // e, c and what else the parts are made of
	Parts    lab.Parts   // without those that the instructor judges
	RuledOut int64       // prior weight of the suspects with another repair that the readings ruled out
	// prior weight of all suspects with another repair; 0: any repair would do, and e is 1 once nothing is left to test
	Others    int64
	Diagnosis float64 // share of the diagnosis weight
	Allowed   bool    // a suspect that is left needs the concluded repair
	Agreed    int     // verdicts that agree, of Asked
	// verdicts that count: on steps that told something, and the wrong or missing ones elsewhere; 0: nothing was asked
	Asked   int
	Counted int // Asked, or Needed if that is less
	Told    int // steps that told something
	Needed  int // steps of best play to this fault
	Missing int // of these, how many best play would still have had to make at the end, at most Needed
	// of the interpretation weight: (Counted - wrong) / Counted x (Needed - Missing) / Needed, neither factor below 0
	Share float64
}

// NewWorking takes a student's mark apart.
func NewWorking(l *lab.Lab, s StudentResult) Working {
	w := Working{RuledOut: s.RuledOut, Others: s.Others, Needed: len(s.Path), Missing: min(s.Missing, len(s.Path))}
	w.verdicts(s.Steps)
	w.Outcome = lab.Outcome{
		Evidence: s.Evidence, Settled: s.LostEarly == 0, Right: s.Right, Share: s.Share, Verdicts: w.Share,
		Reference: float64(s.Reference), Lost: s.Lost,
	}
	if s.LeftWeight > 0 {
		w.Outcome.Wrong = float64(s.WrongWeight) / float64(s.LeftWeight)
	}
	for _, h := range s.Left {
		w.Allowed = w.Allowed || s.Repair >= 0 && bestplay.RepairOf(l, h) == s.Repair
	}
	w.Parts = partsBy(l, l.Rubric, w.Outcome)
	w.Diagnosis = partsBy(l, lab.Rubric{Diagnosis: 1}, w.Outcome).Diagnosis
	return w
}

// partsBy gives those of a mark by the rule with which the lab was built.
func partsBy(l *lab.Lab, rubric lab.Rubric, o lab.Outcome) lab.Parts {
	if l.Format < lab.FirstWithCases {
		return rubric.Classic(o)
	}
	return rubric.Parts(o)
}

// verdicts finds the share of right verdicts, times the share of best play's steps that are done.
//
// Verdicts are asked on the steps that told something; elsewhere only wrong and missing ones count. At most as many
// count as best play has steps, but every wrong one does: mistakes weigh against the steps that the fault needs, so
// neither right verdicts on tests that could tell nothing nor further cheap tests dilute them; and as a missing verdict
// counts like a wrong one, leaving it out never pays. Steps that prove nothing for lack of fitting letters are left
// out, and so is a reading of which no verdict is asked.
//
// The steps that are done are those of best play to this fault without those that it would still have to make from what
// is left. A test more counts as far as it shortens that rest, and somebody who proves the fault in fewer steps than
// best play has done them all.
func (w *Working) verdicts(steps []Step) {
	for _, step := range steps {
		if step.State != Counted && step.State != Repeat {
			continue
		}
		if step.Told() {
			w.Told++
		}
		if step.Silent || !step.Told() && step.Agrees {
			continue
		}
		w.Asked++
		if step.Agrees {
			w.Agreed++
		}
	}
	w.Counted = min(w.Asked, w.Needed)
	switch {
	case w.Told == 0 && w.Needed == 0 && w.Asked == 0:
		w.Share = 1 // nothing needed testing and nothing was misjudged
	case w.Told > 0:
		w.Share = float64(w.Needed-w.Missing) / float64(w.Needed)
		if w.Counted > 0 {
			w.Share *= float64(max(0, w.Counted-(w.Asked-w.Agreed))) / float64(w.Counted)
		}
	}
}
