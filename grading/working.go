package grading

import (
	"slices"

	"nospark/scenarios"
)

// Working holds the numbers from which a student's mark is computed, for people who want to do it by hand:
//
//	evidence        weight x e
//	diagnosis       weight x Diagnosis
//	efficiency      weight x e x reference / (reference + lost)
//	interpretation  weight x Agreed / Asked x min(1, Told / Needed)
//
// with e = StudentResult.Evidence, reference = Result.Reference and lost = StudentResult.Lost. The weights are those of the lab's rubric.
type Working struct {
	RuledOut  int64   // prior weight of the suspects with another repair that the readings ruled out
	Others    int64   // prior weight of all suspects with another repair; 0: e does not come from weights, see NewWorking
	Diagnosis float64 // 1 for a right repair, e/2 for a wrong one that every reading still allows, else 0
	Allowed   bool    // a suspect that is left needs the concluded repair
	Agreed    int     // verdicts that agree, of Asked
	Asked     int     // verdicts that count: on steps that told something, and the wrong or missing ones elsewhere; 0: nothing was asked
	Told      int     // steps that told something
	Needed    int     // steps of best play to this fault
	Share     float64 // of the interpretation weight
}

// NewWorking takes a student's mark apart. Where no weights give e, because every repair of the lab would do or because adjust.toml took
// tests out of the lab for this student, Others is 0 and e stands for itself.
func NewWorking(lab *scenarios.Lab, s StudentResult) Working {
	w := Working{Needed: len(s.Path)}
	w.weigh(lab, s)
	w.Allowed = s.Repair >= 0 && slices.ContainsFunc(s.Left, func(h int) bool { return repairOf(lab, h) == s.Repair })
	switch {
	case s.Right:
		w.Diagnosis = 1
	case w.Allowed:
		w.Diagnosis = s.Evidence / 2
	}
	w.verdicts(s)
	return w
}

// weigh finds the weights of which e is the quotient. Repairs that no test tells from the right one are not among the others.
func (w *Working) weigh(lab *scenarios.Lab, s StudentResult) {
	sheet := lab.Sheets[s.Index]
	start := lab.Suspects(sheet.Complaint)
	var right []int
	for h := range start.All() {
		if sameOpenBands(lab, h, sheet.Truth) {
			right = append(right, repairOf(lab, h))
		}
	}
	var out, all int64
	for h := range start.All() {
		if slices.Contains(right, repairOf(lab, h)) {
			continue
		}
		all += lab.Hypotheses[h].Weight
		if !slices.Contains(s.Left, h) {
			out += lab.Hypotheses[h].Weight
		}
	}
	if all > 0 && float64(out)/float64(all) == s.Evidence {
		w.RuledOut, w.Others = out, all
	}
}

// sameOpenBands tells that no test with an allowed instrument tells two hypotheses apart.
func sameOpenBands(lab *scenarios.Lab, a, b int) bool {
	for t, test := range lab.Tests {
		if lab.Hypotheses[a].Band(t) != lab.Hypotheses[b].Band(t) && !slices.Contains(lab.Technique.Forbid, test.Instrument) {
			return false
		}
	}
	return true
}

// verdicts counts what the interpretation part counts; see the comment of work.interpretation for the reasons.
func (w *Working) verdicts(s StudentResult) {
	for _, step := range s.Steps {
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
	switch {
	case w.Told == 0 && w.Needed == 0 && w.Asked == 0:
		w.Share = 1
	case w.Told > 0:
		w.Share = 1
		if w.Asked > 0 {
			w.Share = float64(w.Agreed) / float64(w.Asked)
		}
		w.Share *= min(1, float64(w.Told)/float64(max(1, w.Needed)))
	}
}
