package isolation

import (
	"math/rand/v2"
	"slices"
	"testing"
)

// source returns the stream of random numbers with the given number.
func source(seed uint64) *rand.Rand { return rand.New(rand.NewPCG(seed, 20240607)) }

// oracle computes values by the definition alone, on sets as bit masks, and shares no code with the solver.
type oracle struct {
	p    Problem
	memo map[uint32]int64
}

// done tells whether all ambiguity groups within set carry the same set of repairs.
func (o *oracle) done(set uint32) bool {
	labels := map[string]map[int]bool{}
	for h := range o.p.Weight {
		if set>>h&1 == 1 {
			row := ""
			for t := range o.p.Minutes {
				row += string(rune(o.p.Band[t][h])) + "|"
			}
			if labels[row] == nil {
				labels[row] = map[int]bool{}
			}
			labels[row][o.p.Repair[h]] = true
		}
	}
	var first map[int]bool
	for _, l := range labels {
		if first == nil {
			first = l
		}
		for r := range l {
			if !first[r] || len(l) != len(first) {
				return false
			}
		}
	}
	return true
}

func (o *oracle) parts(set uint32, test int) map[uint8]uint32 {
	parts := map[uint8]uint32{}
	for h, b := range o.p.Band[test] {
		if set>>h&1 == 1 {
			parts[b] |= 1 << h
		}
	}
	return parts
}

func (o *oracle) weight(set uint32) (total int64) {
	for h, w := range o.p.Weight {
		total += w * int64(set>>h&1)
	}
	return total
}

func (o *oracle) cost(set uint32, test int) int64 {
	cost := o.p.Minutes[test] * o.weight(set)
	for _, part := range o.parts(set, test) {
		cost += o.value(part)
	}
	return cost
}

func (o *oracle) value(set uint32) int64 {
	if v, ok := o.memo[set]; ok {
		return v
	}
	best := int64(0)
	if !o.done(set) {
		best = -1
		for t := range o.p.Minutes {
			if len(o.parts(set, t)) > 1 {
				if c := o.cost(set, t); best < 0 || c < best {
					best = c
				}
			}
		}
	}
	o.memo[set] = best
	return best
}

func (o *oracle) set(mask uint32) Set {
	var s Set
	for h := range o.p.Weight {
		if mask>>h&1 == 1 {
			s = s.With(h)
		}
	}
	return s
}

// small returns a random problem of at most 11 hypotheses with everything that can make one awkward: shared repairs,
// equal rows, useless and repeated tests, several bands, equal and unequal minutes and weights.
func small(r *rand.Rand) Problem {
	n, tests, bands := 1+r.IntN(11), r.IntN(9), 2+r.IntN(3)
	p := Problem{}
	repairs, weights, minutes := 1+r.IntN(n), 1+r.Int64N(12), 1+r.Int64N(9)
	for range n {
		p.Weight = append(p.Weight, 1+r.Int64N(weights))
		p.Repair = append(p.Repair, r.IntN(repairs)-1)
	}
	for range tests {
		p.Minutes = append(p.Minutes, 1+r.Int64N(minutes))
		row := make([]uint8, n)
		switch r.IntN(5) {
		case 0: // singles out one hypothesis
			row[r.IntN(n)] = 7
		case 1: // a chain
			for h := r.IntN(n); h < n; h++ {
				row[h] = 255
			}
		default:
			for h := range row {
				row[h] = uint8(r.IntN(bands))
			}
		}
		p.Band = append(p.Band, row)
	}
	for range r.IntN(3) { // equal rows
		a, b := r.IntN(n), r.IntN(n)
		for t := range p.Band {
			p.Band[t][a] = p.Band[t][b]
		}
	}
	if tests > 0 && r.IntN(3) == 0 {
		p.Band = append(p.Band, slices.Clone(p.Band[0]))
		p.Minutes = append(p.Minutes, 1+r.Int64N(minutes))
	}
	return p
}

// questions asks s about every test from set and compares with the oracle, then goes on with what remains after a random test.
func questions(t *testing.T, r *rand.Rand, s *Solver, o *oracle, mask uint32) {
	t.Helper()
	set := o.set(mask)
	want := o.value(mask)
	if got := s.Value(set); got != (Bracket{want, want}) {
		t.Fatalf("value of %b is %v, want %d\n%+v", mask, got, want, o.p)
	}
	if got := s.Done(set); got != o.done(mask) || got != (want == 0) {
		t.Fatalf("done of %b is %v, value %d\n%+v", mask, got, want, o.p)
	}
	first := -1
	for test := range o.p.Minutes {
		cost := o.cost(mask, test)
		if got := s.Cost(set, test); got != (Bracket{cost, cost}) {
			t.Fatalf("cost of test %d from %b is %v, want %d\n%+v", test, mask, got, cost, o.p)
		}
		if regret := cost - want; regret < 0 || regret > o.p.Minutes[test]*o.weight(mask) {
			t.Fatalf("test %d from %b loses %d of %d minutes\n%+v", test, mask, regret, o.p.Minutes[test]*o.weight(mask), o.p)
		}
		if first < 0 && cost == want {
			first = test
		}
	}
	best, ok := s.Best(set)
	if ok != (want > 0) || ok && best != first {
		t.Fatalf("best from %b is %d, %v, want %d\n%+v", mask, best, ok, first, o.p)
	}
	if greedy := s.GreedyValue(set); greedy < want || greedy == 0 != (want == 0) {
		t.Fatalf("greedy value of %b is %d, best %d\n%+v", mask, greedy, want, o.p)
	}
	if len(o.p.Minutes) == 0 {
		return
	}
	test := r.IntN(len(o.p.Minutes))
	for band, part := range o.parts(mask, test) {
		if after := s.After(set, test, band); after != o.set(part) {
			t.Fatalf("after band %d of test %d from %b remains %v, want %b", band, test, mask, after, part)
		}
		if part != mask {
			questions(t, r, s, o, part)
		}
	}
}

func TestAgreesWithOracle(t *testing.T) {
	rounds := 3000
	if testing.Short() {
		rounds = 300
	}
	r := source(1)
	for range rounds {
		p := small(r)
		s := solver(t, p, Limits{})
		s.leafRows = []int{1, 2, 3, leafRows}[r.IntN(4)]
		o := &oracle{p, map[uint32]int64{}}
		all := uint32(1)<<len(p.Weight) - 1
		questions(t, r, s, o, all)
		for range 3 { // sets that cut through ambiguity groups
			questions(t, r, s, o, uint32(r.Uint64())&all)
		}
	}
}
