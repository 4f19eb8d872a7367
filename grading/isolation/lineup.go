package isolation

import (
	"cmp"
	"math"
	"slices"
)

// stop is a place in a line of tests that each single out one row.
type stop struct{ minutes, weight int64 }

// lineUp solves the case in which every candidate of lv singles out one row and every row of s has a label of its
// own, in which a search that compares sets would meet all subsets. Each test ends the diagnosis or leaves one row less,
// and the row that is left at the end needs no test. Whichever row that is, the others come in ascending order of
// minutes / weight, as exchanging two neighbours shows (Smith's rule of scheduling; for equal minutes it is the order of
// decreasing probability of Balakrishnan & Semmelbauer 1999, section 4.1). Every choice of the last row is tried, since
// the rule does not say which. ok is false when two rows of s share a label.
func (f *frame) lineUp(lv *level, s rows) (value int64, ok bool) {
	var line []stop
	untested := s
	for _, c := range lv.cands { // cheapest first
		for _, p := range lv.parts[c.first : c.first+c.n] {
			if p.single() && p.within(untested) {
				line = append(line, stop{f.columns[c.column].minutes, f.weight[p.first()]})
				untested = untested.less(p)
			}
		}
	}
	for _, r := range s.members(nil) {
		if s.and(f.alike[f.label[r]]) != row(r) {
			return 0, false
		}
	}
	slices.SortStableFunc(line, func(a, b stop) int { return cmp.Compare(a.minutes*b.weight, b.minutes*a.weight) })
	if !untested.empty() { // the row without a test is the last one
		return queue(line, -1, f.mass(s)), true
	}
	value = math.MaxInt64
	for last := range line {
		value = min(value, queue(line, last, f.mass(s)))
	}
	return value, true
}

// queue returns the sum of minutes x weight still unexplained, over the stops of line in order without the one that is
// inferred.
func queue(line []stop, inferred int, mass int64) int64 {
	var value int64
	for i, st := range line {
		if i != inferred {
			value += st.minutes * mass
			mass -= st.weight
		}
	}
	return value
}
