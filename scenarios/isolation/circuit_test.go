package isolation

import "math/rand/v2"

// circuit draws an invented circuit and its matrix: loads between a tree of feeds and a tree of grounds, with fuses and
// switches, some of them driven by others. A fault disturbs what lies downstream of it, in the conditions in which
// current flows. Voltage, ground and signal tests are cheap and repeat themselves in three conditions; tests of one
// part are dear. Weights are 1, 3 or 9 and minutes are tenths, as in a real lab.
func circuit(seed uint64, hypotheses, tests int) Problem {
	c := drawCircuit(rand.New(rand.NewPCG(seed, uint64(hypotheses))), hypotheses)
	p := Problem{}
	for _, f := range c.faults {
		p.Weight = append(p.Weight, f.weight)
		p.Repair = append(p.Repair, f.repair)
	}
	c.tests(func(minutes int, band func(f fault) uint8) {
		row := make([]uint8, len(c.faults))
		for h, f := range c.faults {
			row[h] = band(f)
		}
		if len(p.Minutes) < tests {
			p.Minutes = append(p.Minutes, int64(minutes))
			p.Band = append(p.Band, row)
		}
	}, tests)
	return p
}

type faultKind int

const (
	openFeed faultKind = iota
	resistiveFeed
	shortedFeed
	badGround
	badLoad
	nothing
)

// fault is what a hypothesis says: a kind at a place (an index of feeds, grounds or loads), of severity 1 to 4.
type fault struct {
	kind     faultKind
	place    int
	severity int
	repair   int
	weight   int64
}

type wiring struct {
	r       *rand.Rand
	feeds   tree
	grounds tree
	fused   []bool // feed edges
	live    []int  // feed edges: bit mask of conditions
	loads   []load
	faults  []fault
}

type load struct{ feed, ground, driver int } // driver is another load, or -1

// tree holds the parent of each node, -1 for the root, node 0.
type tree []int

func (t tree) below(v, root int) bool {
	for ; v >= 0; v = t[v] {
		if v == root {
			return true
		}
	}
	return false
}

func drawTree(r *rand.Rand, n, chained int) tree {
	t := tree{-1}
	for i := 1; i < n; i++ {
		if r.IntN(10) < chained {
			t = append(t, i-1)
		} else {
			t = append(t, r.IntN(i))
		}
	}
	return t
}

func drawCircuit(r *rand.Rand, hypotheses int) *wiring {
	c := &wiring{r: r, feeds: drawTree(r, 8+hypotheses/8, 7), grounds: drawTree(r, 4+hypotheses/20, 5)}
	n := len(c.feeds)
	for i := range n {
		c.fused = append(c.fused, i == 0 || r.IntN(6) == 0)
		c.live = append(c.live, 7)
		if i > 2 && r.IntN(8) == 0 {
			c.live[i] = []int{3, 6, 5}[r.IntN(3)]
		}
	}
	for i := range 4 + hypotheses/14 {
		l := load{n - 1 - r.IntN(n*2/3), r.IntN(len(c.grounds)), -1}
		if i > 0 && r.IntN(2) == 0 {
			l.driver = r.IntN(i)
		}
		c.loads = append(c.loads, l)
	}
	seen := map[fault]bool{}
	for tries := 0; len(c.faults) < hypotheses-1 && tries < 100000; tries++ {
		f := c.drawFault()
		if !seen[f] {
			seen[f] = true
			f.repair = c.repair(f)
			f.weight = []int64{9, 3, 1}[r.IntN(3)]
			c.faults = append(c.faults, f)
		}
	}
	c.faults = append(c.faults, fault{kind: nothing, repair: 999, weight: 3})
	return c
}

func (c *wiring) drawFault() fault {
	switch k := c.r.IntN(10); {
	case k < 3:
		return fault{kind: openFeed, place: c.r.IntN(len(c.feeds))}
	case k < 5:
		return fault{kind: resistiveFeed, place: c.r.IntN(len(c.feeds)), severity: 1 + c.r.IntN(3)}
	case k < 6:
		return fault{kind: shortedFeed, place: c.r.IntN(len(c.feeds))}
	case k < 8:
		return fault{kind: badGround, place: c.r.IntN(len(c.grounds)), severity: 1 + c.r.IntN(4)}
	}
	return fault{kind: badLoad, place: c.r.IntN(len(c.loads)), severity: 1 + c.r.IntN(3)}
}

// repair mostly goes with the place; some repairs serve two places, and some places need one of two repairs.
func (c *wiring) repair(f fault) int {
	odd := c.r.IntN(4) == 0
	switch {
	case f.kind == badGround:
		return 100 + f.place
	case f.kind == badLoad && odd:
		return 300 + f.place
	case f.kind == badLoad:
		return 200 + f.place
	case odd:
		return f.place / 2 * 2
	}
	return f.place
}

// shows tells whether a resistance of the severity disturbs a condition (0 key on, 1 cranking, 2 idle) or a loaded
// test.
func shows(severity, condition int, loaded bool) bool {
	return severity >= 3 || condition == 1 || severity == 2 && (condition == 2 || loaded)
}

// feed is the voltage at v: 2 normal, 1 low, 0 none.
func (c *wiring) feed(f fault, v, condition int, loaded bool) uint8 {
	for u := v; u >= 0; u = c.feeds[u] {
		if c.live[u]>>condition&1 == 0 {
			return 0
		}
	}
	switch f.kind {
	case openFeed:
		if c.feeds.below(v, f.place) {
			return 0
		}
	case resistiveFeed:
		if c.feeds.below(v, f.place) && shows(f.severity, condition, loaded) {
			return 1
		}
	case shortedFeed:
		u := f.place
		for !c.fused[u] {
			u = c.feeds[u]
		}
		if c.feeds.below(v, u) {
			return 0
		}
	}
	return 2
}

// ground is the voltage at ground v: 0 good, 1 raised, 2 battery voltage.
func (c *wiring) ground(f fault, v, condition int, loaded bool) uint8 {
	switch {
	case f.kind != badGround || !c.grounds.below(v, f.place):
		return 0
	case f.severity == 4:
		return 2
	case shows(f.severity, condition, loaded):
		return 1
	}
	return 0
}

// works is the signal of load l: 2 fine, 1 weak, 0 dead.
func (c *wiring) works(f fault, l, condition int) uint8 {
	ld := c.loads[l]
	if ld.driver >= 0 && c.works(f, ld.driver, condition) == 0 {
		return 0
	}
	a, b, own := c.feed(f, ld.feed, condition, false), c.ground(f, ld.ground, condition, false), f.kind == badLoad &&
		f.place == l
	switch {
	case a == 0 || b == 2 || own && f.severity == 3:
		return 0
	case a == 1 || b == 1 || own && f.severity == 2 && condition > 0:
		return 1
	}
	return 2
}

// access draws the extra tenths of minutes for reaching each of n places.
func (c *wiring) access(n int) []int {
	extra := make([]int, n)
	for i := range extra {
		extra[i] = []int{0, 5, 10, 20, 40}[c.r.IntN(5)]
	}
	return extra
}

// tests calls add for every test of the circuit, cheap ones first, and then for looks at single places up to wanted.
func (c *wiring) tests(add func(minutes int, band func(f fault) uint8), wanted int) {
	feeds, grounds, loads := c.access(len(c.feeds)), c.access(len(c.grounds)), c.access(len(c.loads))
	count := 0
	each := func(extra []int, base, factor int, band func(f fault, place int) uint8) {
		for v, x := range extra {
			count++
			add(base+factor*x, func(f fault) uint8 { return band(f, v) })
		}
	}
	for condition, base := range []int{10, 20, 15} {
		each(feeds, base, 1, func(f fault, v int) uint8 { return c.feed(f, v, condition, false) })
		each(grounds, base, 1, func(f fault, v int) uint8 { return c.ground(f, v, condition, false) })
		each(loads, base+10, 1, func(f fault, l int) uint8 { return c.works(f, l, condition) })
	}
	each(feeds, 25, 1, func(f fault, v int) uint8 { return c.feed(f, v, 0, true) })
	each(grounds, 25, 1, func(f fault, v int) uint8 { return c.ground(f, v, 0, true) })
	at := func(kind faultKind, show func(f fault) uint8) func(f fault, place int) uint8 {
		return func(f fault, place int) uint8 {
			if f.place != place || f.kind > kind || kind > shortedFeed && f.kind != kind {
				return 0
			}
			return show(f)
		}
	}
	each(loads, 60+5*c.r.IntN(8), 2, at(badLoad, func(f fault) uint8 { return uint8(f.severity) }))
	each(feeds, 70, 3, at(shortedFeed, func(f fault) uint8 { return uint8(f.kind) + 1 }))
	each(grounds, 60, 3, at(badGround, func(fault) uint8 { return 1 }))
	for ; count < wanted; count++ {
		x := c.faults[c.r.IntN(len(c.faults))]
		add(5*(1+c.r.IntN(40)), func(f fault) uint8 {
			if f.kind == x.kind && f.place == x.place {
				return 1
			}
			return 0
		})
	}
}
