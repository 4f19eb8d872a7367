package isolation

import (
	"math/bits"
	"slices"
)

// frame is the problem seen from one set of hypotheses: their equal rows merged, useless tests dropped, rows numbered
// anew such that related ones are neighbours. Every subset that contains a merged row wholly or not at all can be
// solved in it, hence every set that tests can lead to.
type frame struct {
	base    Set
	members []Set   // of each row, the hypotheses merged in it
	at      []int   // of each hypothesis of base, its row; -1 otherwise
	weight  []int64 // of each row
	label   []int   // of each row, the number of its set of repairs
	alike   []rows  // of each label, the rows that carry it
	columns []column
	top     *block
	memo    memo
	budget  budget
	levels  []*level
	depth   int
}

// column is a test on the rows of a frame: what remains after each band. Columns have at least two parts.
type column struct {
	test    int // in Problem
	minutes int64
	parts   []rows
}

func newFrame(s *Solver, base Set) *frame {
	f := &frame{base: base, members: s.Groups(base)}
	if len(f.members) > MaxDistinct {
		panic("isolation: a question about more hypotheses than MaxDistinct")
	}
	f.number(s)
	f.columns = f.useful(s)
	order, shape := cluster(f, s.leafRows)
	f.permute(order)
	f.number(s)
	f.columns = f.useful(s)
	f.top = f.plant(shape, 0)
	return f
}

// number fills in what depends on the order of the rows.
func (f *frame) number(s *Solver) {
	f.at = make([]int, len(s.p.Weight))
	for h := range f.at {
		f.at[h] = -1
	}
	f.weight = make([]int64, len(f.members))
	f.label = make([]int, len(f.members))
	f.alike = nil
	labels := map[string]int{}
	for r, m := range f.members {
		for h := range m.All() {
			f.at[h] = r
		}
		f.weight[r] = s.Weight(m)
		key := labelKey(s.Repairs(m))
		l, ok := labels[key]
		if !ok {
			l = len(labels)
			labels[key] = l
			f.alike = append(f.alike, rows{})
		}
		f.label[r] = l
		f.alike[l] = f.alike[l].or(row(r))
	}
}

func (f *frame) permute(order []int) {
	members := make([]Set, len(order))
	for i, r := range order {
		members[i] = f.members[r]
	}
	f.members = members
}

// column returns test as the rows of set see it; parts are in the order of their least rows.
func (f *frame) column(s *Solver, test int, set rows) column {
	c := column{test: test, minutes: s.p.Minutes[test]}
	var place [256]int // part of a band, plus one
	for _, r := range set.members(nil) {
		band := s.p.Band[test][f.members[r].First()]
		if place[band] == 0 {
			c.parts = append(c.parts, rows{})
			place[band] = len(c.parts)
		}
		part := &c.parts[place[band]-1]
		*part = part.or(row(r))
	}
	return c
}

// useful returns the columns, cheapest first, without those that split nothing or that a column at most as dear
// splits at least as finely. Neither can lower the value of any set.
func (f *frame) useful(s *Solver) []column {
	var all, kept []column
	for t := range s.p.Minutes {
		if c := f.column(s, t, f.all()); len(c.parts) > 1 {
			all = append(all, c)
		}
	}
	// Among equal minutes more parts come first, so that one pass finds every column that another replaces.
	slices.SortStableFunc(all, func(a, b column) int {
		if a.minutes != b.minutes {
			return int(min(max(a.minutes-b.minutes, -1), 1))
		}
		return len(b.parts) - len(a.parts)
	})
	for _, c := range all {
		if !slices.ContainsFunc(kept, func(k column) bool { return finer(k.parts, c.parts) }) {
			kept = append(kept, c)
		}
	}
	return kept
}

// finer tells whether each part of a lies within one part of b.
func finer(a, b []rows) bool {
	for _, x := range a {
		if !slices.ContainsFunc(b, x.within) {
			return false
		}
	}
	return true
}

func (f *frame) all() rows {
	var s rows
	for r := range f.members {
		s = s.or(row(r))
	}
	return s
}

// holds tells whether set can be solved in this frame.
func (f *frame) holds(set Set) bool {
	if !set.Within(f.base) {
		return false
	}
	return f.hypotheses(f.rowsOf(set)) == set
}

// rowsOf returns the rows that set touches.
func (f *frame) rowsOf(set Set) rows {
	var s rows
	for h := range set.All() {
		s = s.or(row(f.at[h]))
	}
	return s
}

func (f *frame) hypotheses(s rows) Set {
	var set Set
	for _, r := range s.members(nil) {
		set = set.Union(f.members[r])
	}
	return set
}

func (f *frame) mass(s rows) int64 {
	var total int64
	for i, w := range s.words() {
		for ; w != 0; w &= w - 1 {
			total += f.weight[i<<6+bits.TrailingZeros64(w)]
		}
	}
	return total
}

// settled tells whether all rows of s carry the same label.
func (f *frame) settled(s rows) bool {
	return s.empty() || s.within(f.alike[f.label[s.first()]])
}

// pairCost returns the minutes of the cheapest test that tells row i from row j, 0 if their labels are the same.
func (f *frame) pairCost(i, j int) int64 {
	if f.label[i] == f.label[j] {
		return 0
	}
	both := row(i).or(row(j))
	for _, c := range f.columns {
		if !slices.ContainsFunc(c.parts, both.within) {
			return c.minutes
		}
	}
	panic("isolation: rows that no test tells apart are not merged")
}
