package isolation

import (
	"fmt"
	"math"
	"math/bits"
	"slices"
)

// Problem is a matrix of hypotheses and tests. Minutes may be any unit of time, for instance tenths.
type Problem struct {
	Weight  []int64   // prior weight of each hypothesis, > 0; only their ratios matter
	Repair  []int     // label of each hypothesis: what has to be concluded
	Minutes []int64   // cost of each test, > 0
	Band    [][]uint8 // [test][hypothesis]: what the test shows under the hypothesis
}

// check reports the first thing wrong with p, naming the place and the offending value.
func (p Problem) check() error {
	n := len(p.Weight)
	switch {
	case n == 0:
		return fmt.Errorf("no hypotheses: at least 1 is needed")
	case n > MaxHypotheses:
		return fmt.Errorf("%d hypotheses: at most %d are supported", n, MaxHypotheses)
	case len(p.Repair) != n:
		return fmt.Errorf("%d repairs for %d hypotheses: one repair per hypothesis is needed", len(p.Repair), n)
	case len(p.Band) != len(p.Minutes):
		return fmt.Errorf("%d rows of bands for %d tests: one row per test is needed", len(p.Band), len(p.Minutes))
	}
	for h, w := range p.Weight {
		if w <= 0 {
			return fmt.Errorf("hypothesis %d: weight %d is not positive", h, w)
		}
	}
	for t, m := range p.Minutes {
		if m <= 0 {
			return fmt.Errorf("test %d: minutes %d are not positive", t, m)
		}
		if len(p.Band[t]) != n {
			return fmt.Errorf("test %d: %d bands for %d hypotheses", t, len(p.Band[t]), n)
		}
	}
	return p.checkRange()
}

// checkRange makes sure that the longest possible diagnosis, every test once under every hypothesis, can be
// counted in an int64. All sums of the search stay below that.
func (p Problem) checkRange() error {
	weight, ok := sum(p.Weight)
	if !ok {
		return fmt.Errorf("weights: their sum exceeds %d", int64(math.MaxInt64))
	}
	minutes, ok := sum(p.Minutes)
	if !ok {
		return fmt.Errorf("minutes: their sum exceeds %d", int64(math.MaxInt64))
	}
	if high, low := bits.Mul64(uint64(weight), uint64(minutes)); high != 0 || low > math.MaxInt64/2 {
		return fmt.Errorf("sum of weights %d times sum of minutes %d exceeds %d: scale the weights down",
			weight, minutes, int64(math.MaxInt64/2))
	}
	return nil
}

// sum adds positive numbers; ok is false when the sum does not fit.
func sum(values []int64) (total int64, ok bool) {
	for _, v := range values {
		if v > math.MaxInt64-total {
			return 0, false
		}
		total += v
	}
	return total, true
}

// clone makes p independent of later changes by the caller.
func (p Problem) clone() Problem {
	c := Problem{
		Weight:  slices.Clone(p.Weight),
		Repair:  slices.Clone(p.Repair),
		Minutes: slices.Clone(p.Minutes),
		Band:    make([][]uint8, len(p.Band)),
	}
	for t, row := range p.Band {
		c.Band[t] = slices.Clone(row)
	}
	return c
}

// grouping numbers the hypotheses by their row of the matrix: equal rows, equal number. Numbers ascend with the
// first hypothesis of each group.
func grouping(p Problem) []int {
	group := make([]int, len(p.Weight))
	number := map[string]int{}
	row := make([]byte, len(p.Minutes))
	for h := range group {
		for t := range p.Minutes {
			row[t] = p.Band[t][h]
		}
		g, ok := number[string(row)]
		if !ok {
			g = len(number)
			number[string(row)] = g
		}
		group[h] = g
	}
	return group
}
