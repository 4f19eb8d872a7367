package isolation

import (
	"cmp"
	"slices"
)

// stop is a place in a line of tests. Each test of the line either ends the diagnosis, if the fault is among
// the rows that it picks out, or leaves the others.
type stop struct {
	minutes, weight int64
	picked          rows
	label           int // of all picked rows, or mixed
}

const mixed = -1

// lineUp solves the case in which every candidate of lv leaves a single part unsettled and the picked rows of any two
// candidates are the same or disjoint. A search that compares sets would meet all unions of them. The tests then stand
// in a line, and the diagnosis also ends when all that is left carries one label.
//
// Whichever tests are taken, they come in ascending order of minutes / weight, as exchanging two neighbors shows
// (Smith's rule of scheduling; for equal minutes it is the order of decreasing probability of Balakrishnan &
// Semmelbauer 1999, section 4.1). The rule does not say which label is left to be inferred, so every choice is tried.
// Parts that carry this label may be picked out all the same, to leave less weight for the tests that follow, and again
// the first of the order are the ones: if testing a part pays, testing one of the same label and a smaller ratio before
// it pays as well. ok is false in other cases.
func (f *frame) lineUp(lv *level, s rows) (value int64, ok bool) {
	line, left := f.stops(lv, s)
	if line == nil {
		return 0, false
	}
	slices.SortStableFunc(line, func(a, b stop) int { return cmp.Compare(a.minutes*b.weight, b.minutes*a.weight) })
	mass := f.mass(s)
	value = queue(line, mixed, 0, mass)
	tested := map[int]int{} // stops met so far, per label
	for _, st := range line {
		if st.label != mixed && left.within(f.alike[st.label]) {
			value = min(value, queue(line, st.label, tested[st.label], mass))
			tested[st.label]++
		}
	}
	return value, true
}

// stops returns the tests of the line, and what none of them picks out: at most a row. The line is nil if picked rows
// overlap.
func (f *frame) stops(lv *level, s rows) (line []stop, left rows) {
	left = s
	for _, c := range lv.cands { // cheapest first
		st := stop{minutes: f.columns[c.column].minutes, label: mixed}
		for _, p := range lv.parts[c.first : c.first+c.n] {
			if f.settled(p) {
				st.picked = st.picked.or(p)
			}
		}
		if slices.ContainsFunc(line, func(o stop) bool { return o.picked == st.picked }) {
			continue // the same for more minutes
		}
		if !st.picked.within(left) {
			return nil, left
		}
		if f.settled(st.picked) {
			st.label = f.label[st.picked.first()]
		}
		st.weight = f.mass(st.picked)
		left = left.less(st.picked)
		line = append(line, st)
	}
	return line, left
}

// queue returns the sum of minutes x weight still unexplained over the stops of line in order, without those
// of the inferred label except the first few, which are tested.
func queue(line []stop, inferred, tested int, mass int64) int64 {
	var value int64
	for _, st := range line {
		if st.label == inferred && inferred != mixed {
			if tested == 0 {
				continue
			}
			tested--
		}
		value += st.minutes * mass
		mass -= st.weight
	}
	return value
}
