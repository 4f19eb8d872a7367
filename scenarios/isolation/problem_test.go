package isolation

import (
	"math"
	"strings"
	"testing"
)

func TestNewRefuses(t *testing.T) {
	check := func(change func(p *Problem), want string) {
		t.Helper()
		p := pattipati().clone()
		change(&p)
		if _, err := New(p, Limits{}); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("error %v, want one with %q", err, want)
		}
	}
	check(func(p *Problem) { *p = Problem{} }, "no hypotheses")
	check(func(p *Problem) { p.Weight = same(513, 1) }, "513 hypotheses: at most 512")
	check(func(p *Problem) { p.Repair = p.Repair[1:] }, "5 repairs for 6 hypotheses")
	check(func(p *Problem) { p.Minutes = p.Minutes[1:] }, "5 rows of bands for 4 tests")
	check(func(p *Problem) { p.Band[3] = p.Band[3][1:] }, "test 3: 5 bands for 6 hypotheses")
	check(func(p *Problem) { p.Weight[2] = 0 }, "hypothesis 2: weight 0")
	check(func(p *Problem) { p.Minutes[4] = -7 }, "test 4: minutes -7")
	check(func(p *Problem) { p.Weight[0] = math.MaxInt64 }, "weights: their sum")
	check(func(p *Problem) { p.Minutes[0] = math.MaxInt64 }, "minutes: their sum")
	check(func(p *Problem) { p.Weight[0], p.Minutes[0] = 1<<40, 1<<40 }, "scale the weights down")

	if _, err := New(pattipati(), Limits{Nodes: -1}); err == nil {
		t.Error("negative limit accepted")
	}
}

// Large weights are no reason to refuse, or to miscount, as long as the longest diagnosis can be counted.
func TestLargeNumbers(t *testing.T) {
	p := pattipati().clone()
	for h := range p.Weight {
		p.Weight[h] *= 1 << 30
	}
	for m := range p.Minutes {
		p.Minutes[m] *= 1 << 22
	}
	s := solver(t, p, Limits{})
	s.leafRows = 2
	if got := s.Value(s.All()).High; got != 218<<52 {
		t.Errorf("value %d, want %d", got, int64(218)<<52)
	}
}

// 256 equally likely hypotheses and a test for each bit of their number: a complete binary tree, 8 tests deep.
func TestMostHypotheses(t *testing.T) {
	p := Problem{Weight: same(256, 1), Repair: own(256), Minutes: same(8, 3)}
	for bit := range 8 {
		band := make([]uint8, 256)
		for h := range band {
			band[h] = uint8(h >> bit & 1)
		}
		p.Band = append(p.Band, band)
	}
	s := solver(t, p, Limits{})
	if got := s.Value(s.All()); got != (Bracket{256 * 8 * 3, 256 * 8 * 3}) {
		t.Errorf("value %v, want 256 x 8 tests x 3 minutes", got)
	}
	if got := s.After(s.All(), 7, 1); got.Len() != 128 || got.First() != 128 {
		t.Errorf("the highest bit leaves %d hypotheses from %d on", got.Len(), got.First())
	}
}

// The caller may reuse the slices of a Problem.
func TestProblemIsCopied(t *testing.T) {
	p := pattipati()
	s := solver(t, p, Limits{})
	for test := range p.Band {
		clear(p.Band[test])
	}
	p.Weight[0], p.Minutes[1], p.Repair[1] = 1, 100, 0
	if got := s.Value(s.All()); got != (Bracket{218, 218}) {
		t.Errorf("value %v after the problem was changed, want 218", got)
	}
}

func TestOddSets(t *testing.T) {
	s := solver(t, pattipati(), Limits{})
	if got := s.Value(Set{}); got != (Bracket{}) {
		t.Errorf("value of the empty set %v", got)
	}
	if got := s.Cost(Set{}, 0); got != (Bracket{}) {
		t.Errorf("cost of the empty set %v", got)
	}
	if _, ok := s.Best(Set{}); ok || !s.Done(Set{}) || s.GreedyValue(Set{}) != 0 || s.Splits(Set{}, 0) {
		t.Error("the empty set wants a test")
	}
	if got := s.Value(s.All().With(6).With(255)); got != (Bracket{218, 218}) {
		t.Errorf("value %v of a set with strangers, want 218", got)
	}
	if got := s.After(s.All(), 0, 9); !got.Empty() {
		t.Errorf("a band that never shows leaves %v", got)
	}
}

// Without tests everything is one ambiguity group.
func TestNoTests(t *testing.T) {
	s := solver(t, Problem{Weight: same(3, 1), Repair: []int{1, 2, 1}}, Limits{})
	if got := s.Value(s.All()); got != (Bracket{}) || !s.Done(s.All()) {
		t.Errorf("value %v without tests", got)
	}
}

func TestGroups(t *testing.T) {
	p := Problem{Weight: []int64{1, 2, 4, 8, 16}, Repair: []int{3, 1, 2, 3, 1}, Minutes: same(2, 1),
		Band: matrix("01", "00", "01", "11", "01")}
	s := solver(t, p, Limits{})
	groups := s.Groups(s.All())
	if len(groups) != 3 || groups[0] != SetOf(0, 2, 4) || groups[1] != SetOf(1) || groups[2] != SetOf(3) {
		t.Errorf("groups %v", groups)
	}
	if got := s.Group(SetOf(0, 1, 4), 4); got != SetOf(0, 4) {
		t.Errorf("group of 4 in 0, 1, 4 is %v", got)
	}
	if got := s.Repairs(SetOf(0, 2, 3)); len(got) != 2 || got[0] != 2 || got[1] != 3 {
		t.Errorf("repairs %v, want 2, 3", got)
	}
	if got := s.Weight(SetOf(1, 3, 200)); got != 10 {
		t.Errorf("weight %d, want 2 + 8", got)
	}
	// 0 and 3 call for the same repair although a test tells them apart; 2 shares the row of 0 and adds another repair.
	if !s.Done(SetOf(0, 3)) || s.Done(SetOf(0, 2, 3)) {
		t.Errorf("done: %v with the same repair, %v with another in one group", s.Done(SetOf(0, 3)),
			s.Done(SetOf(0, 2, 3)))
	}
}
