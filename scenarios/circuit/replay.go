package circuit

// replay goes the way of the reduction that a circuit's shape tells, with numbers. First come the conductances, on
// which weights and resistances depend, then the forces, which are linear in the sources: of circuits that differ in
// nothing but sources only the second half is new.
type replay struct {
	g, e []float64 // by branch: siemens; the voltage at which it carries no current
}

// conductances fills the weights and resistances of a solution, and by join and product the part that each has in its
// branch once it is there.
func (r *replay) conductances(n *Netlist, s *Solution, part []float64) {
	r.g = grow(r.g, s.shape.branches)
	clear(r.g)
	for i, j := range s.shape.joins {
		part[i] = r.add(j.at, 1/n.elements[j.element].ohms)
	}
	products, part := s.shape.products, part[len(s.shape.joins):]
	for p := range s.shape.pivots {
		k := &s.shape.pivots[p]
		sum := r.g[k.group]
		for t := k.start; t < k.end; t++ {
			branch := s.shape.from[t].branch()
			s.weight[t] = r.g[branch]
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
				part[0] = r.add(products[0], g*s.weight[j])
				products, part = products[1:], part[1:]
			}
		}
	}
}

// add puts a conductance in parallel with what is there and returns its part in the sum.
func (r *replay) add(at place, g float64) float64 {
	k := at.branch()
	had := r.g[k]
	if had == 0 {
		r.g[k] = g
		return 1
	}
	r.g[k] = had + g
	return g / (had + g)
}

// forces fills the forces of a solution.
func (r *replay) forces(n *Netlist, s *Solution, part []float64) {
	r.e = grow(r.e, s.shape.branches)
	clear(r.e)
	for i, j := range s.shape.joins {
		e := &n.elements[j.element]
		r.push(j.at, e.volts()+s.volts[e.b]-s.volts[e.a], part[i])
	}
	products, part := s.shape.products, part[len(s.shape.joins):]
	for p := range s.shape.pivots {
		k := &s.shape.pivots[p]
		for t := k.start; t < k.end; t++ {
			at := s.shape.from[t]
			s.force[t] = r.e[at.branch()]
			if at.reversed() {
				s.force[t] = -s.force[t]
			}
		}
		for i := k.start; i < k.end; i++ {
			for j := k.start; j < i; j++ {
				r.push(products[0], s.force[j]-s.force[i], part[0])
				products, part = products[1:], part[1:]
			}
		}
	}
}

// push gives a branch a force by the part that the force's conductance has in it.
func (r *replay) push(at place, e, part float64) {
	if at.reversed() {
		e = -e
	}
	k := at.branch()
	r.e[k] += (e - r.e[k]) * part
}
