package players

import (
	"cmp"
	"iter"
	"slices"

	"nospark/grading/bestplay"
	"nospark/scenarios/isolation"
	"nospark/scenarios/lab"
)

// technician works as the trade teaches: is the output of a part missing? Then its feed, its ground, its inputs, and
// the part itself. It begins with the part that needs something on which most of what is possible hangs. A bad reading
// leads backwards, along the wires, fuses and switches before that point, the one first that is easiest to reach; so
// does one that the work order gives. It looks only where something possible is still to be checked, and concludes when
// the repair is proven.
func (p *player) technician() {
	backwards := false
	for _, k := range bestplay.Known(p.c.lab, p.sheet) {
		if shown := p.c.lab.Tests[k.Test].Bands[k.Band]; !shown.Normal && !shown.Silent {
			backwards = !p.isOutput(k.Test)
		}
	}
	for !p.full() {
		if p.s.Proven(p.set) {
			p.commonest(p.set)
			return
		}
		test := p.nextLook(backwards)
		band := p.ask(test, false)
		if shown := p.c.lab.Tests[test].Bands[band]; !shown.Normal && !shown.Silent {
			backwards = !p.isOutput(test)
		}
	}
	p.any()
}

// order is that of the looks at one part.
var order = []string{"output", "result", "feed", "ground", "reference voltage", "input", "path", "own test"}

// nextLook chooses a test. Looks that tell apart what is on the list come first, then those that are owed all the same.
// A place that was looked at is looked at again, by other means, when there is nothing else, and what no check looks at
// comes last.
func (p *player) nextLook(backwards bool) int {
	rows, weight := p.s.Rows(p.set), p.hanging()
	for _, among := range []looks{{set: rows}, {set: p.set}, {set: p.set, again: true}} {
		best, most := -1, int64(-1)
		var way []int // along which the current comes
		for _, part := range p.parts() {
			t := p.look(part, among)
			switch {
			case t < 0:
			case !p.needy(part):
				if weight[part] > 0 {
					way = append(way, t)
				}
			case weight[part] > most:
				best, most = t, weight[part]
			}
		}
		if along := p.cheapest(way, among.set); along >= 0 && (backwards || best < 0) {
			return along
		}
		if best >= 0 {
			return best
		}
	}
	all := make([]int, len(p.c.lab.Tests))
	for t := range all {
		all[t] = t
	}
	return p.cheapest(all, p.set) // while nothing is proven there is one
}

// looks are those that tell some suspects apart, at places where nobody looked or, again, where somebody did.
type looks struct {
	set   isolation.Set
	again bool
}

// parts lists the parts with checks, in a fixed order.
func (p *player) parts() []string {
	var parts []string
	for _, c := range p.c.lab.Checks {
		if !slices.Contains(parts, c.Part) {
			parts = append(parts, c.Part)
		}
	}
	return parts
}

// hanging is the weight of what is possible that hangs on each part.
func (p *player) hanging() map[string]int64 {
	weight := map[string]int64{}
	for h := range p.s.Rows(p.set).All() {
		row := p.c.lab.Hypotheses[h]
		var parts []string
		for _, c := range row.Checks {
			if part := p.c.lab.Checks[c].Part; !slices.Contains(parts, part) {
				parts = append(parts, part)
				weight[part] += row.Weight
			}
		}
	}
	return weight
}

// look finds the first check of a part that can show something, and gives the cheapest test that makes it; -1 if there
// is none. Along a wire there is no first: both ends count alike.
func (p *player) look(part string, among looks) int {
	lab := p.c.lab
	var checks, ends []int
	for c := range p.owed() {
		made := slices.ContainsFunc(lab.Checks[c].Tests, func(t int) bool { return p.taken[t] })
		switch {
		case lab.Checks[c].Part != part || made != among.again:
		case lab.Checks[c].What == "end":
			ends = append(ends, lab.Checks[c].Tests...)
		default:
			checks = append(checks, c)
		}
	}
	place := func(c int) int { return slices.Index(order, lab.Checks[c].What) }
	slices.SortStableFunc(checks, func(a, b int) int { return cmp.Compare(place(a), place(b)) })
	for _, c := range checks {
		if test := p.cheapest(lab.Checks[c].Tests, among.set); test >= 0 {
			return test
		}
	}
	return p.cheapest(ends, among.set)
}

// owed gives the checks of what is still possible, in the lab's order.
func (p *player) owed() iter.Seq[int] {
	owed := make([]bool, len(p.c.lab.Checks))
	for h := range p.s.Rows(p.set).All() {
		for _, c := range p.c.lab.Hypotheses[h].Checks {
			owed[c] = true
		}
	}
	return func(yield func(int) bool) {
		for c := range owed {
			if owed[c] && !yield(c) {
				return
			}
		}
	}
}

// cheapest is the cheapest of some tests that tell suspects of a set apart, the first of equals; -1 for none.
func (p *player) cheapest(tests []int, set isolation.Set) int {
	best := -1
	for _, t := range tests {
		if !p.taken[t] && p.s.Open(t) && p.s.Tells(set, t) &&
			(best < 0 || p.c.lab.Tests[t].Minutes < p.c.lab.Tests[best].Minutes) {
			best = t
		}
	}
	return best
}

// needy tells whether a part needs a feed, a ground or an input.
func (p *player) needy(part string) bool {
	return slices.ContainsFunc(p.c.lab.Checks, func(c lab.Check) bool {
		return c.Part == part && (c.What == "feed" || c.What == "ground" || c.What == "input" ||
			c.What == "reference voltage")
	})
}

// isOutput tells whether a test looks at what a part puts out: if that is missing, the part itself comes next.
func (p *player) isOutput(test int) bool {
	return slices.ContainsFunc(p.c.lab.Checks, func(c lab.Check) bool {
		return (c.What == "output" || c.What == "own test") && slices.Contains(c.Tests, test)
	})
}
