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
	line := 3 * (r.IntN(4) / 3) // mostly tests that pick out one or two
	repairs, weights, minutes := 1+r.IntN(n), 1+r.Int64N(12), 1+r.Int64N(9)
	for range n {
		p.Weight = append(p.Weight, 1+r.Int64N(weights))
		p.Repair = append(p.Repair, r.IntN(repairs)-1)
	}
	for range tests {
		p.Minutes = append(p.Minutes, 1+r.Int64N(minutes))
		row := make([]uint8, n)
		switch r.IntN(5) - line {
		case 0, -1, -2, -3: // picks out few hypotheses
			h := r.IntN(n)
			row[h] = 7
			if r.IntN(3) == 0 {
				row[(h+1)%n] = uint8(7 + r.IntN(2))
			}
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

// questions asks s about every test from set and compares with the oracle, then goes on with what remains after a
// random test.
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
			t.Fatalf("test %d from %b loses %d of %d minutes\n%+v", test, mask, regret,
				o.p.Minutes[test]*o.weight(mask), o.p)
		}
		if got := s.Splits(set, test); got != (len(o.parts(mask, test)) > 1) {
			t.Fatalf("test %d splits %b: %v\n%+v", test, mask, got, o.p)
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

// Circuits have structure that random matrices lack: nested sets, repeated columns, dear tests of single parts.
func TestCircuitsAgreeWithOracle(t *testing.T) {
	r := source(2)
	for seed := range uint64(40) {
		p := circuit(seed, 10+r.IntN(6), 40+r.IntN(40))
		s := solver(t, p, Limits{})
		s.leafRows = 1 + r.IntN(6)
		questions(t, r, s, &oracle{p, map[uint32]int64{}}, uint32(1)<<len(p.Weight)-1)
	}
}

// Tests that each pick out one or two of many parts, with repairs in common, are solved in closed form, where a search
// would need nearly all their subsets.
func TestSharedRepairsInLine(t *testing.T) {
	r := source(10)
	for range 30 {
		n := 8 + r.IntN(7)
		p := Problem{}
		repairs := 1 + r.IntN(n)
		for range n {
			p.Weight = append(p.Weight, 1+r.Int64N(9))
			p.Repair = append(p.Repair, r.IntN(repairs))
		}
		for h := r.IntN(2); h < n; h++ {
			band := make([]uint8, n)
			band[h] = 1
			if h+1 < n && r.IntN(4) == 0 {
				h++
				band[h] = uint8(1 + r.IntN(2))
			}
			p.Band = append(p.Band, band)
			p.Minutes = append(p.Minutes, 1+r.Int64N(20))
		}
		s := solver(t, p, Limits{Nodes: int64(2 * n)}) // a node per block
		s.leafRows = 1
		o := &oracle{p, map[uint32]int64{}}
		if got, want := s.Value(s.All()), o.value(1<<n-1); got != (Bracket{want, want}) {
			t.Fatalf("value %v, want %d\n%+v", got, want, p)
		}
	}
}

// Sets that cut through ambiguity groups in many ways are all remembered, or forgotten, without harm.
func TestManyUnrelatedSets(t *testing.T) {
	r := source(8)
	p := Problem{Weight: same(12, 0), Repair: make([]int, 12), Minutes: []int64{3, 2, 4, 1}, Band: matrix(
		"0000", "0000", "0000", "0011", "0011", "0011", "0101", "0101", "0101", "1110", "1110", "1110")}
	for h := range p.Weight {
		p.Weight[h] = 1 + r.Int64N(9)
		p.Repair[h] = r.IntN(4)
	}
	s := solver(t, p, Limits{})
	s.leafRows = 2
	o := &oracle{p, map[uint32]int64{}}
	for range 200 {
		questions(t, r, s, o, uint32(r.IntN(1<<12)))
	}
}

// FuzzAgainstOracle reads a problem from bytes: up to 8 hypotheses, each with weight, repair and bands.
func FuzzAgainstOracle(f *testing.F) {
	f.Add([]byte{2, 3, 1, 0, 0, 1, 2, 1, 1, 0})
	f.Add([]byte{3, 1, 2, 3, 7, 0, 1, 1, 1, 9, 1, 0, 1, 0, 5, 2, 2, 2, 2})
	f.Fuzz(func(t *testing.T, data []byte) {
		next := func(n int) int {
			if len(data) == 0 {
				return 0
			}
			b := data[0]
			data = data[1:]
			return int(b) % n
		}
		p := Problem{}
		for range next(7) {
			p.Minutes = append(p.Minutes, 1+int64(next(200)))
			p.Band = append(p.Band, nil)
		}
		for range 1 + next(8) {
			p.Weight = append(p.Weight, 1+int64(next(250)))
			p.Repair = append(p.Repair, next(4))
			for test := range p.Band {
				p.Band[test] = append(p.Band[test], uint8(next(3)))
			}
		}
		s := solver(t, p, Limits{})
		s.leafRows = 1 + next(4)
		questions(t, source(9), s, &oracle{p, map[uint32]int64{}}, uint32(1)<<len(p.Weight)-1)
	})
}
