package lab

// Outcome is what the parts of a mark are computed from, in Parts and nowhere else.
type Outcome struct {
	// e: weight of the suspects with another repair that was ruled out, as a share of all of it, 0 to 1
	Evidence float64
	Settled  bool    // nothing that is left could still be told apart: V(left) = 0
	Right    bool    // the concluded repair counts as right
	Share    float64 // c: weight of all repairs that count as right, as a share of what is left, 0 to 1
	Wrong    float64 // the same for a concluded repair that is wrong; 0 if a reading excludes it
	Verdicts float64 // share of the interpretation, 0 to 1

	Reference float64 // V(S): what best play takes from the start, any unit of time, > 0
	Lost      float64 // against best play, the same unit
}

// Parts are the parts of the mark, in points of the rubric's weights.
type Parts struct {
	Evidence       float64 `json:"evidence"`
	Diagnosis      float64 `json:"diagnosis"`
	Efficiency     float64 `json:"efficiency"`
	Interpretation float64 `json:"interpretation"`
	Reasoning      float64 `json:"reasoning"`
	Safety         float64 `json:"safety"`
}

// Parts computes those parts of a mark that follow from steps and conclusion, each times its weight in the rubric:
//
//	evidence        e
//	diagnosis       right: 1 if settled, else c; wrong but still possible: the smaller of e/4 and half the
//	                smaller of c and the wrong repair's own share; else 0
//	efficiency      e reference / (reference + 2 lost)
//	interpretation  verdicts
//
// A right repair that was not proven earns what it had going for it, and somebody who sells a part untested cannot earn
// more by naming the commonest one. Labs before format 3 are marked by Classic.
func (r Rubric) Parts(o Outcome) Parts {
	diagnosis := 0.0
	switch {
	case o.Right && o.Settled:
		diagnosis = 1
	case o.Right:
		diagnosis = o.Share
	case o.Wrong > 0:
		diagnosis = min(o.Evidence/4, min(o.Share, o.Wrong)/2)
	}
	return r.weigh(o, diagnosis, 2)
}

// Classic computes the same for a lab before format 3: a right repair earns the whole diagnosis, a wrong one that is
// still possible half of e, and a lost minute weighs once.
func (r Rubric) Classic(o Outcome) Parts {
	diagnosis := 0.0
	switch {
	case o.Right:
		diagnosis = 1
	case o.Wrong > 0:
		diagnosis = o.Evidence / 2
	}
	return r.weigh(o, diagnosis, 1)
}

func (r Rubric) weigh(o Outcome, diagnosis, lostWeighs float64) Parts {
	return Parts{
		Evidence:       float64(r.Evidence) * o.Evidence,
		Diagnosis:      float64(r.Diagnosis) * diagnosis,
		Efficiency:     float64(r.Efficiency) * o.Evidence * o.Reference / (o.Reference + lostWeighs*o.Lost),
		Interpretation: float64(r.Interpretation) * o.Verdicts,
	}
}

// Sum is the mark: all parts together.
func (p Parts) Sum() float64 {
	return p.Evidence + p.Diagnosis + p.Efficiency + p.Interpretation + p.Reasoning + p.Safety
}
