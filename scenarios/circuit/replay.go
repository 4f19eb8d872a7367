package circuit

// conductances are the branches of a circuit with their values: the way of the reduction that its shape tells, gone
// with numbers.
type conductances struct {
	g []float64 // by branch: siemens
	e []float64 // by branch: the voltage at which it carries no current
}

func (c *conductances) reset(branches int) {
	c.g, c.e = grow(c.g, branches), grow(c.e, branches)
	clear(c.g)
}

// add puts a conductance with a force in parallel with what is there.
func (c *conductances) add(at place, g, e float64) {
	if at.reversed() {
		e = -e
	}
	k := at.branch()
	had := c.g[k]
	if had == 0 {
		c.g[k], c.e[k] = g, e
		return
	}
	sum := had + g
	if c.e[k] != e {
		c.e[k] += (e - c.e[k]) * (g / sum)
	}
	c.g[k] = sum
}

// reduce removes all groups but the Reference.
func (c *conductances) reduce(s *Solution) {
	products := s.shape.products
	for p := range s.shape.pivots {
		k := &s.shape.pivots[p]
		sum := c.g[k.group]
		for t := k.start; t < k.end; t++ {
			at := s.shape.from[t]
			branch := at.branch()
			s.weight[t], s.force[t] = c.g[branch], c.e[branch]
			if at.reversed() {
				s.force[t] = -s.force[t]
			}
			if branch != k.group {
				sum += s.weight[t]
			}
		}
		if k.start == k.end {
			s.ohms[p] = 0
			continue
		}
		ohms := 1 / sum
		s.ohms[p] = ohms
		for i := k.start; i < k.end; i++ {
			g := s.weight[i]
			s.weight[i] *= ohms
			// Terms before i hold weights by now, and g_i weight_j = g_i g_j / sum.
			for j := k.start; j < i; j++ {
				c.add(products[0], g*s.weight[j], s.force[j]-s.force[i])
				products = products[1:]
			}
		}
	}
}
