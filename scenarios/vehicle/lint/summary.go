package lint

import (
	"nospark/scenarios/pack"
	"nospark/scenarios/vehicle"
)

// Summary is what a pack amounts to, in numbers.
type Summary struct {
	Points, Parts, Conditions, Sweeps, Tests, Faults, Repairs int
	Cheapest, Dearest                                         int64 // minutes of a test, tenths
	Complaints                                                []Variety
	Quiet                                                     Variety // severities that give no complaint
}

// Variety is what a student with one complaint has to think of.
type Variety struct {
	Complaint             int // index into the pack's Complaints; -1 for none
	Rows, Faults, Repairs int
	Groups                int // rows that some test tells apart
}

// Summarize counts a pack and its matrix. The vehicle with nothing wrong is left out: it belongs to every complaint.
func Summarize(p *pack.Pack, m *vehicle.Matrix) Summary {
	s := Summary{Points: p.Points, Parts: len(p.Parts), Conditions: len(p.Conditions), Sweeps: len(p.Sweeps),
		Tests:  len(p.Tests),
		Faults: len(p.Faults), Repairs: len(p.Repairs)}
	for i, t := range p.Tests {
		if i == 0 || t.Minutes < s.Cheapest {
			s.Cheapest = t.Minutes
		}
		s.Dearest = max(s.Dearest, t.Minutes)
	}
	for c := range p.Complaints {
		s.Complaints = append(s.Complaints, variety(p, m, c))
	}
	s.Quiet = variety(p, m, -1)
	return s
}

func variety(p *pack.Pack, m *vehicle.Matrix, complaint int) Variety {
	l := Variety{Complaint: complaint}
	faults, repairs, groups := map[int]bool{}, map[int]bool{}, map[string]bool{}
	for _, r := range m.Rows {
		if r.Fault < 0 || r.Complaint != complaint {
			continue
		}
		l.Rows++
		faults[r.Fault] = true
		repairs[p.Faults[r.Fault].Repair] = true
		groups[string(r.Bands)] = true
	}
	l.Faults, l.Repairs, l.Groups = len(faults), len(repairs), len(groups)
	return l
}
