package proof

import (
	"nospark/scenarios/isolation"
	"nospark/scenarios/lab"
	"nospark/scenarios/pack"
	"nospark/scenarios/vehicle"
)

// way is best play from a complaint to one row, whose checks are made on it.
type way struct {
	row     int
	minutes int64 // tenths
	taken   []int // tests in their order
}

// These bound the search for best play, in states compared and in memory; beyond them it is the best that was found.
const (
	mostNodes = 1_000_000
	mostBytes = 1 << 30
)

// plays gives best play to each row that gives a complaint, in their order, with all tests of the pack allowed.
func plays(p *pack.Pack, m *vehicle.Matrix, checks [][]Check, complaint int) ([]way, error) {
	w, err := asLab(p, m, checks).World(complaint, nil, nil)
	if err != nil || w.Suspects.Empty() {
		return nil, err
	}
	solver, err := isolation.New(w.Problem, isolation.Limits{Nodes: mostNodes, Bytes: mostBytes})
	if err != nil {
		return nil, err
	}
	var ways []way
	for row := range w.Rows(w.Suspects).All() {
		way := way{row: row, taken: solver.Path(w.Suspects, row)}
		for _, t := range way.taken {
			way.minutes += p.Tests[t].Minutes
		}
		ways = append(ways, way)
	}
	return ways, nil
}

// asLab puts a matrix and its checks in the shape in which a diagnosis is reckoned.
func asLab(p *pack.Pack, m *vehicle.Matrix, checks [][]Check) *lab.Lab {
	l := &lab.Lab{Name: p.Name}
	for _, t := range p.Tests {
		test := lab.Test{ID: t.ID, Instrument: t.Instrument.ID, Minutes: t.Minutes}
		for _, b := range t.Bands {
			test.Bands = append(test.Bands, lab.Band{Name: b.Name, Normal: b.Normal, Silent: b.Silent})
		}
		l.Tests = append(l.Tests, test)
	}
	for _, r := range p.Repairs {
		l.Repairs = append(l.Repairs, lab.Repair{ID: r.ID})
	}
	for _, c := range p.Complaints {
		l.Complaints = append(l.Complaints, lab.Complaint{ID: c.ID})
	}
	for _, f := range p.Faults {
		l.Faults = append(l.Faults, lab.Fault{ID: f.ID, Repair: f.Repair})
	}
	if p.Nothing != nil {
		l.Faults = append(l.Faults, lab.Fault{ID: lab.NothingWrong, Repair: p.Nothing.Repair})
	}
	for i, row := range m.Rows {
		h := lab.Hypothesis{Fault: row.Fault, Complaint: row.Complaint, Weight: row.Weight}
		if row.Fault < 0 {
			h.Fault = len(l.Faults) - 1
		}
		bands := make([]byte, len(row.Bands))
		for t, b := range row.Bands {
			bands[t] = '0' + b
		}
		h.Bands = string(bands)
		for _, c := range checks[i] {
			h.Checks = append(h.Checks, len(l.Checks))
			l.Checks = append(l.Checks, lab.Check{What: c.What, Point: c.Point, Tests: c.Tests, Under: c.Under})
		}
		l.Hypotheses = append(l.Hypotheses, h)
	}
	return l
}
