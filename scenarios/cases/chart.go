package cases

import (
	"slices"

	"nospark/scenarios/isolation"
)

// chart is best play from the complaint alone, as it can be printed once for everybody: the tests that it asks for
// under each suspect.
type chart struct {
	found *Found
	tests [][]int // by suspect
}

func newChart(f *Found) *chart {
	c := &chart{found: f, tests: make([][]int, len(f.World.Problem.Weight))}
	c.follow(f.World.Suspects, nil)
	return c
}

// follow writes down the way to every suspect of a set.
func (c *chart) follow(set isolation.Set, way []int) {
	t, more := c.found.Solver.Best(set)
	if !more {
		for i := range set.All() {
			c.tests[i] = slices.Clone(way)
		}
		return
	}
	way = append(slices.Clone(way), t)
	for rest := set; !rest.Empty(); {
		part := c.found.Solver.After(rest, t, c.found.World.Problem.Band[t][rest.First()])
		c.follow(part, way)
		rest = rest.Minus(part)
	}
}

// loses is the share of V that somebody loses who begins with a case and follows the chart all the same, known readings
// for free.
func (c *chart) loses(k Case) float64 {
	p := &c.found.World.Problem
	var spent, weight int64
	for i := range k.Set.All() {
		weight += p.Weight[i]
		for _, t := range c.tests[i] {
			known := false
			for _, r := range k.Known {
				known = known || r.Test == t
			}
			if !known {
				spent += p.Weight[i] * p.Minutes[t]
			}
		}
	}
	return (float64(spent)/float64(weight) - k.Reference) / k.Reference
}
