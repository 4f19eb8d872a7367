package build

import (
	"fmt"
	"slices"

	"nospark/scenarios/isolation"
	"nospark/scenarios/lab"
	"nospark/scenarios/vehicle"
)

// suspect fills in the hypotheses of a lab: the rows of the pack's matrix that give one of its complaints, seen through the allowed tests.
// Rows of one fault that the allowed tests and the complaint cannot tell apart become one whose weight is their sum. Which faults a sheet
// may hide makes no difference here, since the students do not know.
func suspect(l *lab.Lab, m *vehicle.Matrix, req request, complaints []int) error {
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
			l.Hypotheses = append(l.Hypotheses, lab.Hypothesis{Fault: fault, Complaint: complaint, Bands: key.bands})
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
