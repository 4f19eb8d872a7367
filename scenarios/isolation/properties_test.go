package isolation

import (
	"math/big"
	"math/rand/v2"
	"reflect"
	"slices"
	"sync"
	"testing"
)

// player is a fixed policy, sensible or not: in every set it has made up its mind about a test or about giving up.
type player struct {
	r     *rand.Rand
	s     *Solver
	tests int
	moves map[Set]int // -1: stop
}

func (p *player) move(set Set) int {
	m, ok := p.moves[set]
	if !ok {
		m = p.r.IntN(p.tests)
		if p.r.IntN(6) == 0 || !p.s.Splits(set, m) && p.r.IntN(2) == 0 {
			m = -1
		}
		if best, more := p.s.Best(set); more && p.r.IntN(3) == 0 {
			m = best
		}
		p.moves[set] = m
	}
	return m
}

// Under the prior, the minutes that any policy spends are V(start) - V(end) + lost minutes + luck, where luck has mean
// zero. The sum over all hypotheses is computed in exact fractions.
func TestMinutesAreSkillAndLuck(t *testing.T) {
	r := source(3)
	for range 300 {
		p := small(r)
		if len(p.Minutes) == 0 {
			continue
		}
		s := solver(t, p, Limits{})
		pl := &player{r, s, len(p.Minutes), map[Set]int{}}
		per := func(w int64, set Set) *big.Rat { return big.NewRat(w, s.Weight(set)) }
		total := new(big.Rat)
		for h := range s.All().All() {
			luck := new(big.Rat)
			set := s.All()
			for range 8 { // useless tests may repeat for ever
				m := pl.move(set)
				if m < 0 {
					break
				}
				lost := s.Cost(set, m).Low - s.Value(set).Low
				luck.Add(luck, big.NewRat(p.Minutes[m], 1))
				luck.Sub(luck, per(lost, set))
				set = s.After(set, m, p.Band[m][h])
			}
			luck.Sub(luck, per(s.Value(s.All()).Low, s.All()))
			luck.Add(luck, per(s.Value(set).Low, set))
			total.Add(total, luck.Mul(luck, big.NewRat(p.Weight[h], 1)))
		}
		if total.Sign() != 0 {
			t.Fatalf("luck adds up to %v\n%+v", total, p)
		}
	}
}

// Best play to the end costs what Value says, hypothesis by hypothesis.
func TestBestPlayCostsItsValue(t *testing.T) {
	for seed := range uint64(6) {
		p := circuit(seed, 36, 120)
		s := solver(t, p, Limits{})
		var spent int64
		for h := range s.All().All() {
			set := s.All()
			for test, more := s.Best(set); more; test, more = s.Best(set) {
				spent += p.Weight[h] * p.Minutes[test]
				set = s.After(set, test, p.Band[test][h])
			}
			if !s.Done(set) || !set.Has(h) {
				t.Fatalf("seed %d: best play to %d ends at %v", seed, h, set)
			}
		}
		if got := s.Value(s.All()); got != (Bracket{spent, spent}) {
			t.Errorf("seed %d: value %v, best play spends %d", seed, got, spent)
		}
	}
}

// answer is everything that a solver says about a set.
type answer struct {
	value  Bracket
	costs  []Bracket
	best   int
	more   bool
	greedy int64
}

func ask(s *Solver, set Set, tests int) answer {
	a := answer{value: s.Value(set), greedy: s.GreedyValue(set)}
	for test := range tests {
		a.costs = append(a.costs, s.Cost(set, test))
	}
	a.best, a.more = s.Best(set)
	return a
}

// states returns sets that a diagnosis may meet, and some that it may not.
func states(r *rand.Rand, s *Solver, p Problem) []Set {
	sets := []Set{s.All()}
	for range 20 {
		set := sets[r.IntN(len(sets))]
		test := r.IntN(len(p.Minutes))
		sets = append(sets, s.After(set, test, p.Band[test][r.IntN(len(p.Weight))]))
	}
	for range 5 {
		sets = append(sets, Set{r.Uint64()}.Intersect(s.All()))
	}
	return sets
}

func TestAnswersDoNotDependOnTheOrderOfQuestions(t *testing.T) {
	r := source(4)
	for seed := range uint64(4) {
		p := circuit(seed, 28, 60)
		first := solver(t, p, Limits{})
		sets := states(r, first, p)
		want := map[Set]answer{}
		for _, set := range sets {
			want[set] = ask(first, set, len(p.Minutes))
		}
		other := solver(t, p, Limits{})
		other.leafRows = 3
		for _, i := range r.Perm(len(sets)) {
			if got := ask(other, sets[i], len(p.Minutes)); !reflect.DeepEqual(got, want[sets[i]]) {
				t.Fatalf("seed %d: about %v answers %v, in another order %v", seed, sets[i], want[sets[i]], got)
			}
		}
	}
}

func TestConcurrentQuestions(t *testing.T) {
	p := circuit(1, 28, 40)
	r := source(6)
	alone := solver(t, p, Limits{})
	sets := states(r, alone, p)
	want := make([]answer, len(sets))
	for i, set := range sets {
		want[i] = ask(alone, set, len(p.Minutes))
	}
	shared := solver(t, p, Limits{})
	var wg sync.WaitGroup
	for g := range 8 {
		wg.Go(func() {
			for i := range sets {
				at := (i*7 + g*3) % len(sets)
				if got := ask(shared, sets[at], len(p.Minutes)); !reflect.DeepEqual(got, want[at]) {
					t.Errorf("goroutine %d: about %v answers %v, alone %v", g, sets[at], got, want[at])
				}
			}
		})
	}
	wg.Wait()
}

// With every bipartition among the tests, at one minute each, best play is Huffman's code (a theorem; Zimmerman 1959,
// from memory).
func TestAllBipartitionsGiveHuffman(t *testing.T) {
	r := source(7)
	for range 100 {
		n := 2 + r.IntN(6)
		p := Problem{Repair: own(n), Minutes: same(1<<(n-1)-1, 1)}
		for range n {
			p.Weight = append(p.Weight, 1+r.Int64N(50))
		}
		for side := 1; side < 1<<(n-1); side++ {
			band := make([]uint8, n)
			for h := range band {
				band[h] = uint8(side >> h & 1)
			}
			p.Band = append(p.Band, band)
		}
		var want int64
		for heap := slices.Clone(p.Weight); len(heap) > 1; {
			slices.Sort(heap)
			heap[1] += heap[0]
			want += heap[1]
			heap = heap[1:]
		}
		s := solver(t, p, Limits{})
		s.leafRows = 1 + r.IntN(3)
		if got := s.Value(s.All()); got != (Bracket{want, want}) {
			t.Fatalf("weights %v: value %v, Huffman's code %d", p.Weight, got, want)
		}
	}
}
