package players

import (
	"cmp"
	"slices"
)

// technician works as the trade teaches: is the output of the part missing? Then its feed, its ground, its inputs, and the part itself. A bad
// reading at one of them leads backwards to what feeds that point. It begins with the part on which most of what is possible hangs, looks only
// where a look can still show something, and concludes when the repair is proven.
func (p *player) technician() {
	from := -1 // point at which the last bad reading leads backwards
	for !p.full() {
		if p.s.Proven(p.set) {
			p.commonest(p.set)
			return
		}
		part := p.suspected(from)
		test, point := p.look(part)
		if test < 0 {
			from, test = -1, p.cheapestTelling()
		}
		band := p.ask(test, false)
		if shown := p.c.lab.Tests[test].Bands[band]; !shown.Normal && !shown.Silent {
			from = point
		}
	}
	p.any()
}

// order is that of the looks at one part.
var order = []string{"output", "result", "feed", "ground", "reference voltage", "input", "end", "path", "own test"}

// look finds the first check of a part that can still show something, and the cheapest test that makes it; -1 if there is none. point is
// where it looks, -1 for nowhere in particular.
func (p *player) look(part string) (test, point int) {
	lab := p.c.lab
	var checks []int
	for c := range lab.Checks {
		if lab.Checks[c].Part == part {
			checks = append(checks, c)
		}
	}
	place := func(c int) int { return slices.Index(order, lab.Checks[c].What) }
	slices.SortStableFunc(checks, func(a, b int) int { return cmp.Compare(place(a), place(b)) })
	for _, c := range checks {
		if test := p.cheapest(lab.Checks[c].Tests); test >= 0 {
			return test, lab.Checks[c].Point
		}
	}
	return -1, -1
}

// cheapest is the cheapest of some tests that can still show something, the first of equals; -1 for none.
func (p *player) cheapest(tests []int) int {
	best := -1
	for _, t := range tests {
		if !p.taken[t] && p.s.Open(t) && p.s.Tells(p.set, t) && (best < 0 || p.c.lab.Tests[t].Minutes < p.c.lab.Tests[best].Minutes) {
			best = t
		}
	}
	return best
}

// cheapestTelling is the cheapest of all tests that can show something. While nothing is proven there is one.
func (p *player) cheapestTelling() int {
	all := make([]int, len(p.c.lab.Tests))
	for t := range all {
		all[t] = t
	}
	return p.cheapest(all)
}

// suspected is the part on which most of what is possible hangs and of which something can still be looked at: of those at a point, if there
// are any, else of all. It is "" where there is none.
func (p *player) suspected(point int) string {
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
	best, here, most := "", false, int64(0)
	for _, c := range p.c.lab.Checks { // in a fixed order, which that of a map is not
		w := weight[c.Part]
		delete(weight, c.Part)
		if w == 0 {
			continue
		}
		if test, _ := p.look(c.Part); test < 0 {
			continue
		}
		at := point >= 0 && p.touches(c.Part, point)
		if best == "" || at && !here || at == here && w > most {
			best, here, most = c.Part, at, w
		}
	}
	return best
}

// touches tells whether a part ends or puts out at a point.
func (p *player) touches(part string, point int) bool {
	for _, c := range p.c.lab.Checks {
		if c.Part == part && c.Point == point && (c.What == "end" || c.What == "output" || c.What == "path") {
			return true
		}
	}
	return false
}
