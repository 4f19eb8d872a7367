package scenarios

import (
	"fmt"
	"slices"

	"nospark/scenarios/isolation"
	"nospark/scenarios/vehicle"
)

// suspect fills in the hypotheses of a lab: the rows of the pack's matrix that give one of its complaints, seen through the allowed tests.
// Rows of one fault that the allowed tests and the complaint cannot tell apart become one whose weight is their sum. Which faults a sheet
// may hide makes no difference here, since the students do not know.
func (l *Lab) suspect(m *vehicle.Matrix, req request, complaints []int) error {
	type row struct {
		fault, complaint int
		bands            string
	}
	place := map[row]int{}
	l.Hypotheses = nil
	for _, r := range m.Rows {
		fault, complaint := r.Fault, r.Complaint
		switch {
		case fault < 0 && req.nothing:
			fault, complaint = len(l.Faults)-1, -1
		case fault < 0 || !slices.Contains(complaints, complaint):
			continue
		}
		key := row{fault, complaint, bandsText(r.Bands, req.tests)}
		at, known := place[key]
		if !known {
			at = len(l.Hypotheses)
			place[key] = at
			l.Hypotheses = append(l.Hypotheses, Hypothesis{Fault: fault, Complaint: complaint, Bands: key.bands})
		}
		l.Hypotheses[at].Weight += r.Weight
	}
	if n := len(l.Hypotheses); n > isolation.MaxHypotheses {
		return fmt.Errorf("pack %q gives %d suspects under the plan's complaints, at most %d can be solved; name fewer complaints",
			l.Pack.Name, n, isolation.MaxHypotheses)
	}
	return nil
}

// bandsText writes the bands of the given tests, one character each.
func bandsText(bands []uint8, tests []int) string {
	text := make([]byte, len(tests))
	for i, t := range tests {
		text[i] = '0' + bands[t]
	}
	return string(text)
}

// Problem is the lab as the solver of package isolation sees it. Hypotheses and tests have the same indexes in both, a hypothesis is
// labelled by the index of its repair, minutes are tenths. A test with a forbidden instrument shows the same band under every hypothesis: it
// is no evidence, so best play has no use for it.
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

// Suspects is the set that a diagnosis of a sheet with this complaint starts from: every hypothesis that gives the complaint, and the
// vehicle with nothing wrong where it is possible.
func (l *Lab) Suspects(complaint int) isolation.Set {
	var set isolation.Set
	for i, h := range l.Hypotheses {
		if h.Complaint == complaint || h.Complaint < 0 {
			set = set.With(i)
		}
	}
	return set
}

// complaintsUsed lists the complaints that the lab's hypotheses give, ascending.
func (l *Lab) complaintsUsed() []int {
	var used []int
	for _, h := range l.Hypotheses {
		if h.Complaint >= 0 && !slices.Contains(used, h.Complaint) {
			used = append(used, h.Complaint)
		}
	}
	slices.Sort(used)
	return used
}
