package isolation

import (
	"fmt"
	"sync"
)

// Limits bounds the work of one question. When a limit is reached the answer is a Bracket whose ends differ, and
// both ends still hold. A zero field sets no limit.
type Limits struct {
	Nodes int64 // states whose tests are compared, per question
	Bytes int64 // memory of the table of solved states, per solver; approximate
}

// Bracket encloses an expected cost, as minutes times weight: Low <= cost <= High. Divide by Solver.Weight of the
// set for minutes.
type Bracket struct {
	Low, High int64
}

// Proven tells whether the bracket holds a single value, which is then the exact cost of best play.
func (b Bracket) Proven() bool { return b.Low == b.High }

// Solver answers questions about one Problem and remembers what it has found out. It is safe for use by several
// goroutines at once; a mutex lets them take turns. Proven answers depend on the question alone, neither on the
// questions before nor on who asks at the same time. The ends of an unproven bracket may be closer together when
// earlier questions did part of the work.
type Solver struct {
	p       Problem
	limits  Limits
	all     Set
	group   []int // of each hypothesis
	members []Set // of each group

	leafRows int // of a table; tests make it small to exercise the search on small problems

	mu     sync.Mutex
	frames []*frame // guarded by mu
}

// New checks p and prepares a Solver for it. The zero Limits set no limit, and then every bracket is proven. It is an
// error if p has no or more than MaxHypotheses hypotheses, if lengths disagree, if a weight or the minutes of a test
// are not positive, if total weight times total minutes exceeds the range of int64, or if a limit is negative.
func New(p Problem, limits Limits) (*Solver, error) {
	if err := p.check(); err != nil {
		return nil, fmt.Errorf("isolation: %w", err)
	}
	if limits.Nodes < 0 || limits.Bytes < 0 {
		return nil, fmt.Errorf("isolation: limits %d nodes, %d bytes: negative; 0 means no limit", limits.Nodes,
			limits.Bytes)
	}
	s := &Solver{p: p.clone(), limits: limits, leafRows: leafRows}
	s.group = grouping(s.p)
	for h, g := range s.group {
		s.all = s.all.With(h)
		if g == len(s.members) {
			s.members = append(s.members, Set{})
		}
		s.members[g] = s.members[g].With(h)
	}
	return s, nil
}

// All returns the set of every hypothesis.
func (s *Solver) All() Set { return s.all }

// known drops from set what is not a hypothesis of the problem.
func (s *Solver) known(set Set) Set { return set.Intersect(s.all) }

// Weight returns the total prior weight of set.
func (s *Solver) Weight(set Set) int64 {
	var total int64
	for h := range s.known(set).All() {
		total += s.p.Weight[h]
	}
	return total
}

// After returns the members of set under which test shows band.
func (s *Solver) After(set Set, test int, band uint8) Set {
	var rest Set
	for h := range s.known(set).All() {
		if s.p.Band[test][h] == band {
			rest = rest.With(h)
		}
	}
	return rest
}

// Path lists the tests of best play from set to member h of it, in their order: each shows the band of h.
func (s *Solver) Path(set Set, h int) []int {
	var tests []int
	for {
		t, more := s.Best(set)
		if !more {
			return tests
		}
		tests = append(tests, t)
		set = s.After(set, t, s.p.Band[t][h])
	}
}
