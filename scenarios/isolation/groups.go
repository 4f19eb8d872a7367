package isolation

import (
	"encoding/binary"
	"slices"
)

// Groups divides set into its ambiguity groups: hypotheses that no test can tell apart. Groups of one are
// included; the order is that of their least members.
func (s *Solver) Groups(set Set) []Set {
	place := map[int]int{}
	var groups []Set
	for h := range s.known(set).All() {
		at, ok := place[s.group[h]]
		if !ok {
			at = len(groups)
			place[s.group[h]] = at
			groups = append(groups, Set{})
		}
		groups[at] = groups[at].With(h)
	}
	return groups
}

// Group returns the members of set that no test can tell from hypothesis h, h itself included when it is in set.
func (s *Solver) Group(set Set, h int) Set {
	return s.known(set).Intersect(s.members[s.group[h]])
}

// Splits tells whether test can show different bands on set.
func (s *Solver) Splits(set Set, test int) bool {
	set = s.known(set)
	return !set.Empty() && s.After(set, test, s.p.Band[test][set.First()]) != set
}

// Repairs returns the different repairs of the hypotheses in set, ascending.
func (s *Solver) Repairs(set Set) []int {
	var repairs []int
	for h := range s.known(set).All() {
		repairs = append(repairs, s.p.Repair[h])
	}
	slices.Sort(repairs)
	return slices.Compact(repairs)
}

// Done tells whether set leaves nothing worth testing: every ambiguity group in it carries the same set of
// repairs. No test could then change what is to be concluded. Done is the same as Value being 0.
func (s *Solver) Done(set Set) bool {
	label := ""
	for i, g := range s.Groups(set) {
		l := labelKey(s.Repairs(g))
		if i > 0 && l != label {
			return false
		}
		label = l
	}
	return true
}

// labelKey turns a set of repairs, ascending, into a key for maps.
func labelKey(repairs []int) string {
	var key []byte
	for _, r := range repairs {
		key = binary.AppendVarint(key, int64(r))
	}
	return string(key)
}
