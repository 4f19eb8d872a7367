package isolation

import "math"

// rollOut returns the cost of the greedy policy from s. With insight it plays best wherever the value is already known.
func (f *frame) rollOut(s rows, insight bool) int64 {
	if f.settled(s) {
		return 0
	}
	if insight {
		if k := f.bound(s, f.top); k.exact {
			return k.low
		}
	}
	c := f.informative(s)
	cost := c.minutes * f.mass(s)
	for _, p := range c.parts {
		if p = p.and(s); !p.empty() {
			cost += f.rollOut(p, insight)
		}
	}
	return cost
}

// informative returns the column with the most information on s per minute. Rates that differ by rounding count as
// equal, so that the choice is the same on every machine.
func (f *frame) informative(s rows) *column {
	mass := float64(f.mass(s))
	var best *column
	most := 0.0
	for i := range f.columns {
		c := &f.columns[i]
		bits := 0.0
		for _, p := range c.parts {
			if p = p.and(s); !p.empty() && p != s {
				share := float64(f.mass(p)) / mass
				bits -= share * math.Log2(share)
			}
		}
		rate := bits / float64(c.minutes)
		switch {
		case rate > most*(1+rounding), best != nil && rate > most*(1-rounding) && c.test < best.test:
			best, most = c, rate
		}
	}
	return best
}

const rounding = 1e-12

// ahead returns an upper bound of the value of s: the best first test when the greedy policy follows.
func (f *frame) ahead(s rows) int64 {
	best := f.rollOut(s, true)
	for i := range f.columns {
		best = min(best, f.highest(&f.columns[i], s))
	}
	return best
}

// highest returns an upper bound of the cost of taking c first.
func (f *frame) highest(c *column, s rows) int64 {
	cost := c.minutes * f.mass(s)
	for _, p := range c.parts {
		if p = p.and(s); p == s {
			return math.MaxInt64 // tells nothing
		} else if !p.empty() {
			cost += f.rollOut(p, true)
		}
	}
	return cost
}
