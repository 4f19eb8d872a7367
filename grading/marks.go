package grading

import (
	"math"
	"slices"

	"nospark/grading/bestplay"
)

// mark computes the mark from the steps and the conclusion. What it is made of is left in the result, so that Working
// can take the mark apart again; "other" repairs are those that an open test can tell from the truth.
func (d *diagnosis) mark() {
	r := &d.r
	d.weigh()
	r.LostEarly = d.s.Value(d.left)
	if r.Repair >= 0 && !r.Right {
		r.LostWrong = float64(d.lab.Repairs[r.Repair].Minutes)
	}
	// A hundredth of a minute is printed; with more than that behind it the mark could not be recomputed to the last
	// digit.
	r.Lost = math.Round((r.LostSteps+r.LostEarly+r.LostWrong)*10) / 10
	r.Missing = len(d.s.Path(d.sheet, d.left))
	r.Parts = NewWorking(d.lab, *r).Parts
	d.instructor()
}

// weigh finds e and c.
//
//	e  weight of the suspects with another repair that the readings ruled out, as a share of all of those from the start;
//	   where there are none, because any repair of the lab would do, 1 once nothing is left to test and 0 before
//	c  weight of the suspects whose repair counts as right, as a share of what is left
//
// Gaps count in both: a check that is owed stands for a cause that is not on the list. An accepted repair changes
// neither.
func (d *diagnosis) weigh() {
	r := &d.r
	right := d.s.Repairs(d.same)
	others := d.start.Minus(d.s.Needing(d.start, right...))
	r.Others = d.s.Weight(others)
	r.RuledOut = d.s.Weight(others.Minus(d.left))
	switch {
	case r.Others > 0:
		r.Evidence = float64(r.RuledOut) / float64(r.Others)
	case d.s.Proven(d.left):
		r.Evidence = 1
	}
	r.Suspects = d.suspects(right)
	r.LeftWeight = d.s.Weight(d.left)
	r.RightWeight = d.s.Weight(d.s.Needing(d.left, right...))
	if r.Repair >= 0 && !r.Right {
		r.WrongWeight = d.s.Weight(d.s.Needing(d.left, r.Repair))
	}
	if r.LeftWeight > 0 {
		r.Share = float64(r.RightWeight) / float64(r.LeftWeight)
	}
}

// suspects lists what the work order left possible, and what of it the readings ruled out.
func (d *diagnosis) suspects(right []int) []Suspect {
	var list []Suspect
	for h := range d.s.Rows(d.start).All() {
		s := Suspect{Row: h, Right: slices.Contains(right, bestplay.RepairOf(d.lab, h)),
			Weight: d.lab.Hypotheses[h].Weight, Left: d.left.Has(h)}
		s.Checks, s.ChecksWeight = d.s.Gaps(d.start, h)
		s.LeftChecks, s.LeftChecksWeight = d.s.Gaps(d.left, h)
		list = append(list, s)
	}
	return list
}

// instructor adds the two parts that the instructor judges. Where a column is empty although the rubric gives it
// weight, the mark is provisional and the other parts share that weight for the time being.
func (d *diagnosis) instructor() {
	r, rubric := &d.r, d.lab.Rubric
	open := 0
	switch {
	case rubric.Reasoning > 0 && r.Reasoning < 0:
		open += rubric.Reasoning
		d.doubts = append(d.doubts, "the column reasoning is empty")
	case rubric.Reasoning > 0:
		r.Parts.Reasoning = float64(rubric.Reasoning) * float64(r.Reasoning) / 4
	}
	switch {
	case rubric.Safety > 0 && r.Safe < 0:
		open += rubric.Safety
		d.doubts = append(d.doubts, "the column safe is empty")
	case rubric.Safety > 0:
		r.Parts.Safety = float64(rubric.Safety) * float64(r.Safe)
	}
	r.Mark = r.Parts.Sum()
	if open > 0 && open < 100 {
		r.Mark *= 100 / float64(100-open)
	}
}

// allowed tells whether some suspect that is left needs the repair.
func (d *diagnosis) allowed(repair int) bool { return slices.Contains(d.s.Repairs(d.left), repair) }
