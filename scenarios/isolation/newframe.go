package isolation

import "slices"

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
