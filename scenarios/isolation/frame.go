package isolation

import (
	"math/bits"
	"slices"
)

// frame is the problem seen from one set of hypotheses: their equal rows merged, useless tests dropped, rows numbered
// anew such that related ones are neighbors. Every subset that contains a merged row wholly or not at all can be
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

// finer tells whether each part of a lies within one part of b.
func finer(a, b []rows) bool {
	for _, x := range a {
		if !slices.ContainsFunc(b, x.within) {
			return false
		}
	}
	return true
}
