package build

import (
	"fmt"
	"math"
	"slices"

	"nospark/scenarios/isolation"
	"nospark/scenarios/lab"
	"nospark/scenarios/pack"
	"nospark/scenarios/vehicle"
)

// source is where a hypothesis of the lab comes from.
type source struct {
	fault      int       // of the pack, -1 for the vehicle with nothing wrong
	severities []float64 // that give its bands, as far as the matrix has tried
	row        int       // of the matrix: the heaviest that was merged into it
}

// merged is a source with the prior weight of what was merged into its hypothesis, in the unit of the matrix.
type merged struct {
	source
	prior    int64
	heaviest int64
}

// suspect fills in the hypotheses of a lab with their weights, and tells where they come from. Which faults a sheet may
// hide makes no difference here, since the students do not know.
func suspect(l *lab.Lab, p *pack.Pack, m *vehicle.Matrix, req request, complaints []int) []source {
	all := merge(l, m, req, complaints)
	weigh(l, p, all)
	sources := make([]source, len(all))
	for i, s := range all {
		sources[i] = s.source
	}
	return sources
}

// merge fills in the hypotheses: the rows of the pack's matrix that give one of the complaints, seen through the
// allowed tests. Rows of one fault that the allowed tests and the complaint cannot tell apart become one.
func merge(l *lab.Lab, m *vehicle.Matrix, req request, complaints []int) []merged {
	type key struct {
		fault, complaint int
		bands            string
	}
	place := map[key]int{}
	l.Hypotheses = nil
	var all []merged
	for i, r := range m.Rows {
		fault, complaint := r.Fault, r.Complaint
		switch {
		case fault < 0 && req.nothing:
			fault, complaint = len(l.Faults)-1, -1
		case fault < 0 || !slices.Contains(complaints, complaint):
			continue
		}
		k := key{fault, complaint, bandsText(r.Bands, req.tests)}
		at, known := place[k]
		if !known {
			at = len(all)
			place[k] = at
			l.Hypotheses = append(l.Hypotheses, lab.Hypothesis{Fault: fault, Complaint: complaint, Bands: k.bands})
			all = append(all, merged{source: source{fault: r.Fault}})
		}
		s := &all[at]
		s.prior += r.Weight
		s.severities = append(s.severities, r.Severities...)
		if r.Weight > s.heaviest {
			s.heaviest, s.row = r.Weight, i
		}
	}
	return all
}

// weigh gives every hypothesis its weight, max(1, round(1000 w / sqrt(W))), w being its own prior and W that of its
// whole fault, whatever else it may lead to: common faults come more often than rare ones, but not so often that naming
// them pays. The vehicle with nothing wrong has a tenth of the weight of an average complaint's suspects.
func weigh(l *lab.Lab, p *pack.Pack, all []merged) {
	total := map[int]int64{} // by complaint
	for i := range l.Hypotheses {
		h := &l.Hypotheses[i]
		if h.Complaint < 0 {
			continue
		}
		w, whole := float64(all[i].prior)/vehicle.Grid, float64(p.Faults[h.Fault].Weight)
		h.Weight = max(1, int64(math.Round(1000*w/math.Sqrt(whole))))
		total[h.Complaint] += h.Weight
	}
	for i := range l.Hypotheses {
		if h := &l.Hypotheses[i]; h.Complaint < 0 {
			var sum int64
			for _, t := range total {
				sum += t
			}
			h.Weight = max(1, sum/int64(max(1, len(total)))/9)
		}
	}
}

// bandsText writes the bands of the given tests, one character each.
func bandsText(bands []uint8, tests []int) string {
	text := make([]byte, len(tests))
	for i, t := range tests {
		text[i] = '0' + bands[t]
	}
	return string(text)
}

// tooMany refuses a lab whose rows no solver takes.
func tooMany(l *lab.Lab) error {
	if n := len(l.Hypotheses); n > isolation.MaxHypotheses {
		return fmt.Errorf("pack %q gives %d suspects under the plan's complaints, at most %d can be solved; name "+
			"fewer complaints",
			l.Pack.Name, n, isolation.MaxHypotheses)
	}
	return nil
}
