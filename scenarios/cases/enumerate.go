package cases

import (
	"slices"

	"nospark/scenarios/isolation"
	"nospark/scenarios/lab"
)

// quick is the most that a test may take which somebody is taken to have made before, tenths of a minute.
const quick = 26

// outcomes lists what can be left after one or two quick tests: one case for each different state that offers enough to
// hide.
func (s *search) outcomes() []Case {
	quick := s.quickTests()
	sets := make([][]int, 0, len(quick)*(len(quick)+1)/2)
	for i, t := range quick {
		sets = append(sets, []int{t})
		if s.request.Known < 2 {
			continue
		}
		for _, other := range quick[i+1:] {
			sets = append(sets, []int{t, other})
		}
	}
	slices.SortFunc(sets, s.byCost)
	seen := map[isolation.Set]bool{s.found.World.Suspects: true}
	var all []Case
	for _, tests := range sets {
		for _, c := range s.after(tests) {
			if !seen[c.Set] {
				seen[c.Set] = true
				if s.offers(c.Set) {
					all = append(all, c)
				}
			}
		}
	}
	return all
}

// quickTests lists the tests that may be known: open, quick, never silent and not the same under every row; of several
// that divide all suspects alike the first.
func (s *search) quickTests() []int {
	var tests []int
	divided := map[string]bool{}
	for t, test := range s.lab.Tests {
		if !s.found.World.Open(t) || test.Minutes > quick || s.silent(t) {
			continue
		}
		key := s.division(t)
		if divided[key] {
			continue
		}
		divided[key] = true
		tests = append(tests, t)
	}
	return tests
}

// silent tells whether a test asks for no verdict, or shows the same, under every or some row.
func (s *search) silent(t int) bool {
	first := s.lab.Hypotheses[s.rows.First()].Band(t)
	same := true
	for h := range s.rows.All() {
		band := s.lab.Hypotheses[h].Band(t)
		if s.lab.Tests[t].Bands[band].Silent {
			return true
		}
		same = same && band == first
	}
	return same
}

// division tells which suspects a test tells apart, whatever its bands are called.
func (s *search) division(t int) string {
	var number [256]byte
	next := byte(0)
	var key []byte
	for i := range s.found.World.Suspects.All() {
		band := s.found.World.Problem.Band[t][i]
		if number[band] == 0 {
			next++
			number[band] = next
		}
		key = append(key, number[band])
	}
	return string(key)
}

// after lists what the outcomes of some tests leave, in the order of their bands.
func (s *search) after(tests []int) []Case {
	list := []Case{{Case: lab.Case{Complaint: s.found.World.Complaint}, Set: s.found.World.Suspects}}
	for _, t := range tests {
		var next []Case
		for _, c := range list {
			for band := range s.lab.Tests[t].Bands {
				known := append(slices.Clone(c.Known), lab.Known{Test: t, Band: uint8(band)})
				set := s.keep(c.Set, t, uint8(band))
				if !s.found.World.Rows(set).Empty() {
					next = append(next, Case{Case: lab.Case{Complaint: c.Complaint, Known: known}, Set: set})
				}
			}
		}
		list = next
	}
	return list
}

// keep are the suspects of a set under which a test shows a band.
func (s *search) keep(set isolation.Set, t int, band uint8) isolation.Set {
	row := s.found.World.Problem.Band[t]
	for i := range set.All() {
		if row[i] != band {
			set = set.Without(i)
		}
	}
	return set
}
