package lab

import (
	"slices"

	"nospark/scenarios/isolation"
)

// Problem is the lab as the solver of package isolation sees it. Hypotheses and tests have the same indexes in both, a
// hypothesis is labeled by the index of its repair, minutes are tenths. A test with a forbidden instrument shows the
// same band under every hypothesis: it is no evidence, so best play has no use for it.
func (l *Lab) Problem() isolation.Problem {
	var p isolation.Problem
	for _, h := range l.Hypotheses {
		p.Weight = append(p.Weight, h.Weight)
		p.Repair = append(p.Repair, l.Faults[h.Fault].Repair)
	}
	for t, test := range l.Tests {
		row := make([]uint8, len(l.Hypotheses))
		for i, h := range l.Hypotheses {
			if !slices.Contains(l.Technique.Forbid, test.Instrument) {
				row[i] = h.Band(t)
			}
		}
		p.Minutes = append(p.Minutes, test.Minutes)
		p.Band = append(p.Band, row)
	}
	return p
}

// Suspects is the set that a diagnosis of a sheet with this complaint starts from: every hypothesis that gives the
// complaint, and the vehicle with nothing wrong where it is possible.
func (l *Lab) Suspects(complaint int) isolation.Set {
	var set isolation.Set
	for i, h := range l.Hypotheses {
		if h.Complaint == complaint || h.Complaint < 0 {
			set = set.With(i)
		}
	}
	return set
}

// ComplaintsUsed lists the complaints that the lab's hypotheses give, ascending.
func (l *Lab) ComplaintsUsed() []int {
	var used []int
	for _, h := range l.Hypotheses {
		if h.Complaint >= 0 && !slices.Contains(used, h.Complaint) {
			used = append(used, h.Complaint)
		}
	}
	slices.Sort(used)
	return used
}
