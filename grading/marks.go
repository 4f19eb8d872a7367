package grading

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"nospark/grading/submission"
	"nospark/scenarios"
)

// conclude reads the repair and decides whether it is right.
func (w *work) conclude() {
	w.r.Repair = w.repair(w.h.row.Repair)
	if w.r.Repair < 0 {
		return
	}
	w.r.Right = slices.Contains(w.s.Repairs(w.same), w.r.Repair)
	if accept := w.g.rule.accepted(w.r.Repair, w.h.sheet, w.h.student); accept != nil {
		if !w.r.Right {
			w.raisedBy = accept
		}
		w.r.Right, w.r.Why = true, "repair accepted: "+accept.reason
	}
}

// repair finds the repair of a code such as 12HM. Letters that do not fit the code, or are missing, make the mark provisional; where they
// contradict it, the code alone is not trusted and the conclusion does not count until it is corrected.
func (w *work) repair(written string) int {
	if written == "" {
		return -1
	}
	digits := written[:len(written)-len(strings.TrimLeft(written, "0123456789"))]
	letters := written[len(digits):]
	at := -1
	for i, r := range w.g.lab.Repairs {
		if strings.TrimLeft(r.Code, "0") == strings.TrimLeft(digits, "0") && digits != "" {
			at = i
		}
	}
	switch {
	case at >= 0 && letters == w.g.lab.Repairs[at].Letters:
		return at
	case at >= 0 && letters == "":
		w.doubts = append(w.doubts, fmt.Sprintf("repair %s has no check letters", written))
		w.g.m.problem(w.repairAt(), w.unlessConfirmed("look at the worksheet; then complete the code in the entry form or [[confirm]] the mark in adjust.toml"),
			"repair %s of student %s has no check letters; it was taken for '%s'", written, w.h.student, w.g.lab.Repairs[at].Label)
		return at
	}
	w.doubts = append(w.doubts, fmt.Sprintf("repair %q does not exist", written))
	w.g.m.problem(w.repairAt(), w.unlessConfirmed(w.meantRepair(written, letters)), "repair %q of student %s does not exist, so the conclusion does not count yet",
		written, w.h.student)
	return -1
}

// repairAt is where the repair was written.
func (w *work) repairAt() string { return cmp.Or(w.h.row.RepairAt, w.h.row.Place) }

// meantRepair words what to do about the code of a repair that does not exist.
func (w *work) meantRepair(written, letters string) string {
	const look = "look at the worksheet and correct the code in the entry form"
	if step, err := submission.ParseStep(written); err == nil && step.Judged != "" {
		return "this is a step: compare the columns with their heading"
	}
	var slips, same []scenarios.Repair
	for _, r := range w.g.lab.Repairs {
		if oneSlip(r.Code+r.Letters, written) {
			slips = append(slips, r)
		}
		if r.Letters == letters {
			same = append(same, r)
		}
	}
	switch {
	case len(slips) == 1:
		return fmt.Sprintf("perhaps %s%s was meant ('%s'); %s", slips[0].Code, slips[0].Letters, slips[0].Label, look)
	case len(same) == 1:
		return fmt.Sprintf("%s are the letters of repair %s ('%s'); %s", letters, same[0].Code, same[0].Label, look)
	case submission.NoCheckLetters(letters):
		return submission.NeverLetters + "; " + look
	}
	return look
}

// mark computes the parts of the mark from the steps and the conclusion.
//
//	evidence        e, the share of the prior weight of the other repairs that was ruled out
//	diagnosis       1 if right; e/2 for a wrong repair that every reading still allows; else 0
//	efficiency      e x reference / (reference + lost)
//	interpretation  right verdicts, times the share of best play's steps that are done; see Working
//	reasoning       the instructor's 0 to 4, divided by 4
//	safety          1 for yes
//
// each times its weight in the rubric. "Other" repairs are those that an open test can tell from the truth.
func (w *work) mark() {
	r, rubric := &w.r, w.g.lab.Rubric
	w.evidence()
	r.LostEarly = w.s.Value(w.left)
	if r.Repair >= 0 && !r.Right {
		r.LostWrong = float64(w.g.lab.Repairs[r.Repair].Minutes)
	}
	// A hundredth of a minute is printed; with more than that behind it the mark could not be recomputed to the last digit.
	r.Lost = math.Round((r.LostSteps+r.LostEarly+r.LostWrong)*10) / 10
	r.Missing = len(w.bestPlay(w.left))

	working, reference := NewWorking(w.g.lab, *r), float64(w.g.reference)
	r.Parts = Parts{
		Evidence:       float64(rubric.Evidence) * r.Evidence,
		Diagnosis:      float64(rubric.Diagnosis) * working.Diagnosis,
		Efficiency:     float64(rubric.Efficiency) * r.Evidence * reference / (reference + r.Lost),
		Interpretation: float64(rubric.Interpretation) * working.Share,
	}
	r.Mark = r.Parts.Evidence + r.Parts.Diagnosis + r.Parts.Efficiency + r.Parts.Interpretation
	w.instructor()
}

// instructor adds the two parts that the instructor judges. Where a column is empty although the rubric gives it weight, the mark is
// provisional and the other parts share that weight for the time being.
func (w *work) instructor() {
	r, rubric := &w.r, w.g.lab.Rubric
	open := 0
	switch {
	case rubric.Reasoning > 0 && r.Reasoning < 0:
		open += rubric.Reasoning
		w.doubts = append(w.doubts, "the column reasoning is empty")
	case rubric.Reasoning > 0:
		r.Parts.Reasoning = float64(rubric.Reasoning) * float64(r.Reasoning) / 4
	}
	switch {
	case rubric.Safety > 0 && r.Safe < 0:
		open += rubric.Safety
		w.doubts = append(w.doubts, "the column safe is empty")
	case rubric.Safety > 0:
		r.Parts.Safety = float64(rubric.Safety) * float64(r.Safe)
	}
	r.Mark += r.Parts.Reasoning + r.Parts.Safety
	if open > 0 && open < 100 {
		r.Mark *= 100 / float64(100-open)
	}
}

// evidence finds e: the weight of the suspects with another repair that the readings ruled out, divided by the weight of all of those.
// Where there are none, because any repair of the lab would do, e is 1 once nothing is left to test and 0 before.
func (w *work) evidence() {
	r, right := &w.r, w.s.Repairs(w.same)
	for h := range w.start.All() {
		if slices.Contains(right, repairOf(w.g.lab, h)) {
			continue
		}
		r.Others += w.g.lab.Hypotheses[h].Weight
		if !w.left.Has(h) {
			r.RuledOut += w.g.lab.Hypotheses[h].Weight
		}
	}
	switch {
	case r.Others > 0:
		r.Evidence = float64(r.RuledOut) / float64(r.Others)
	case w.s.Proven(w.left):
		r.Evidence = 1
	}
}

// allowed tells whether some suspect that is left needs the repair.
func (w *work) allowed(repair int) bool { return slices.Contains(w.s.Repairs(w.left), repair) }
