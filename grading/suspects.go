package grading

import (
	"fmt"
	"slices"

	"nospark/scenarios/isolation"
	"nospark/scenarios/lab"
)

// Suspects knows best play in a lab from any state of a diagnosis. One serves a whole class: what it has worked out for one student it
// remembers for the next. Sets hold indexes into the lab's Hypotheses; times are tenths of a minute. It is not safe for use by several
// goroutines at once.
type Suspects struct {
	lab    *lab.Lab
	solver *isolation.Solver
	closed []bool // per test: its reading is no evidence here

	values map[isolation.Set]int64
	costs  map[move]int64
	best   map[isolation.Set]int // -1: nothing is left to test
}

type move struct {
	set  isolation.Set
	test int
}

// NewSuspects prepares a lab. Tests with an instrument that the plan forbids, and those in closed, are no evidence: best play does not
// use them. It fails on a lab that the solver refuses.
func NewSuspects(lab *lab.Lab, closed ...int) (*Suspects, error) {
	s := &Suspects{lab: lab, closed: make([]bool, len(lab.Tests)),
		values: map[isolation.Set]int64{}, costs: map[move]int64{}, best: map[isolation.Set]int{}}
	problem := lab.Problem()
	for t, test := range lab.Tests {
		if slices.Contains(closed, t) || slices.Contains(lab.Technique.Forbid, test.Instrument) {
			s.closed[t] = true
			// One band for everybody tells nothing, and the indexes of the tests stay what they are.
			problem.Band[t] = make([]uint8, len(lab.Hypotheses))
		}
	}
	solver, err := isolation.New(problem, isolation.Limits{})
	if err != nil {
		return nil, fmt.Errorf("lab %s: %w", lab.Name, err)
	}
	s.solver = solver
	return s, nil
}

// Start returns what a sheet with this complaint starts from.
func (s *Suspects) Start(complaint int) isolation.Set { return s.lab.Suspects(complaint) }

// Open tells whether the reading of a test is evidence.
func (s *Suspects) Open(test int) bool { return !s.closed[test] }

// After returns the suspects that remain when test shows band.
func (s *Suspects) After(set isolation.Set, test int, band uint8) isolation.Set {
	if s.closed[test] {
		return set
	}
	return s.solver.After(set, test, band)
}

// Proven tells that no test could change what is to be concluded.
func (s *Suspects) Proven(set isolation.Set) bool { return s.value(set) == 0 }

// Best returns the test with which best play goes on; ok is false when nothing is left to test.
func (s *Suspects) Best(set isolation.Set) (test int, ok bool) {
	t, known := s.best[set]
	if !known {
		var more bool
		if t, more = s.solver.Best(set); !more {
			t = -1
		}
		s.best[set] = t
	}
	return t, t >= 0
}

// Value returns V(S), the expected time of best play from here.
func (s *Suspects) Value(set isolation.Set) float64 { return s.perWeight(set, s.value(set)) }

// Lost returns Q(S,t) - V(S), by how much a test lengthens the expected diagnosis against best play: from 0 for a best test to the
// test's own minutes for one that tells nothing.
func (s *Suspects) Lost(set isolation.Set, test int) float64 {
	return s.perWeight(set, s.cost(set, test)-s.value(set))
}

// Repairs returns the repairs of a set, ascending.
func (s *Suspects) Repairs(set isolation.Set) []int { return s.solver.Repairs(set) }

// Inseparable returns the suspects that no open test can tell from hypothesis h, itself included.
func (s *Suspects) Inseparable(start isolation.Set, h int) isolation.Set {
	return s.solver.Group(start, h)
}

// Split returns how many suspects each reading of a test would leave, largest first.
func (s *Suspects) Split(set isolation.Set, test int) []int {
	var count [256]int
	for h := range set.All() {
		band := uint8(0)
		if !s.closed[test] {
			band = s.lab.Hypotheses[h].Band(test)
		}
		count[band]++
	}
	var sizes []int
	for _, n := range count {
		if n > 0 {
			sizes = append(sizes, n)
		}
	}
	slices.Sort(sizes)
	slices.Reverse(sizes)
	return sizes
}

// value is W(S) = w(S) V(S). The solver has no limits, so its brackets are single numbers.
func (s *Suspects) value(set isolation.Set) int64 {
	w, known := s.values[set]
	if !known {
		w = s.solver.Value(set).High
		s.values[set] = w
	}
	return w
}

func (s *Suspects) cost(set isolation.Set, test int) int64 {
	at := move{set, test}
	w, known := s.costs[at]
	if !known {
		w = s.solver.Cost(set, test).High
		s.costs[at] = w
	}
	return w
}

// perWeight turns the solver's scale into tenths of a minute. An integer 0 stays exactly 0.
func (s *Suspects) perWeight(set isolation.Set, w int64) float64 {
	if w == 0 {
		return 0
	}
	return float64(w) / float64(s.solver.Weight(set))
}
