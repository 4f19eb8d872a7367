package circuit

import "math"

// Solution is the operating point of a netlist. It is read only: any number
// of goroutines may use it at once. Nodes and elements are those of the
// netlist it came from; others panic.
type Solution struct {
	shape  *shape
	memory []float64 // of all of these
	volts  []float64 // by node
	level  []float64 // by group: volts of its root
	amps   []float64 // by element
	ohms   []float64 // by pivot: 1/sum(g), the resistance seen at its group from the groups removed later; 0 at the last
	weight []float64 // by step, and
	force  []float64 // by step: a removed group's voltage is the sum of weight x (volts of to + force)
}

// Volts is the voltage of a node: against the Reference if a conductive path
// leads there, otherwise against the first declared node of a's island.
func (s *Solution) Volts(a Node) float64 { return s.volts[a] }

// Between is the voltage of a above b with nothing connected between them,
// and 0 when they lie in different islands, where it has no definite value
// and a meter shows nothing.
func (s *Solution) Between(a, b Node) float64 {
	if !s.Connected(a, b) {
		return 0
	}
	return s.volts[a] - s.volts[b]
}

// Connected reports whether a conductive path leads from a to b.
func (s *Solution) Connected(a, b Node) bool { return s.shape.islandOf(a) == s.shape.islandOf(b) }

// Amps is the current through an element from its first to its second node,
// inside the element: a source that delivers has a negative current. Open
// elements carry 0. The current of a short or of an ideal source follows from
// the sum of currents at its nodes; around a loop of nothing but such elements
// it is not determined and Amps is NaN.
//
// A resistor's current is its voltage divided by its resistance, so it carries
// the rounding of the voltages: about 1e-15 of them per ohm.
func (s *Solution) Amps(e Element) float64 { return s.amps[e] }

// Thevenin replaces the circuit seen between a and b by a source of volts
// (a above b) with ohms in series. A load of r ohms there would get
// volts r/(ohms+r). Between islands it is 0 V behind +Inf; between nodes
// joined by shorts and ideal sources the resistance is 0.
//
// It costs one half of a substitution: with the unit current +1 at a and -1 at
// b reduced through the circuit to J_k at each removed group k, the power in
// the circuit, sum of J_k^2 / G_k, equals the resistance. All terms are
// positive, so there is no cancellation.
func (s *Solution) Thevenin(a, b Node) (volts, ohms float64) {
	if !s.Connected(a, b) {
		return 0, math.Inf(1)
	}
	volts = s.volts[a] - s.volts[b]
	i, j := s.shape.group[a], s.shape.group[b]
	if i == j {
		return volts, 0
	}
	var few [64]float64
	amps := few[:]
	if len(s.level) > len(few) {
		amps = make([]float64, len(s.level))
	}
	amps[i], amps[j] = 1, -1
	pivots, to := s.shape.pivots, s.shape.to
	// The current of either node passes the pivots on its own way, then those on the way of both.
	for p, q := s.shape.turn[i], s.shape.turn[j]; int(min(p, q)) < len(pivots); {
		if p > q {
			p, q = q, p
		}
		k := &pivots[p]
		flow := amps[k.group]
		ohms += flow * flow * s.ohms[p]
		for t := k.start; t < k.end; t++ {
			amps[to[t]] += flow * s.weight[t]
		}
		if p == q {
			q = k.next
		}
		p = k.next
	}
	return volts, ohms
}

// fit gives the solution room for a shape; what is in it is whatever was there.
func (s *Solution) fit(sh *shape) {
	nodes, elements, steps := len(sh.group), len(sh.signature)-1, len(sh.to)
	s.shape = sh
	s.memory = grow(s.memory, nodes+sh.groups+elements+len(sh.pivots)+2*steps)
	rest := s.memory
	next := func(n int) (list []float64) {
		list, rest = rest[:n:n], rest[n:]
		return list
	}
	s.volts, s.level, s.amps = next(nodes), next(sh.groups), next(elements)
	s.ohms, s.weight, s.force = next(len(sh.pivots)), next(steps), next(steps)
}

// Blend makes s the operating point at a share of the way from one solution to another of the same circuit, in which
// nothing but the values of sources differs: the circuit is linear in them.
func (s *Solution) Blend(from, to *Solution, share float64) {
	s.fit(to.shape)
	mixed := len(s.volts) + len(s.level) + len(s.amps)
	a, b, into := from.memory[:mixed], to.memory[:mixed], s.memory[:mixed]
	for i := range into {
		into[i] = a[i] + share*(b[i]-a[i])
	}
	copy(s.memory[mixed:], to.memory[mixed:])
}

// substitute computes all voltages from the injected currents, which it
// overwrites. On entry s.volts holds voltages above the group's root.
func (s *Solution) substitute(amps []float64) {
	pivots, to := s.shape.pivots, s.shape.to
	if len(s.shape.currents) > 0 {
		for p := range pivots {
			k := &pivots[p]
			for t := k.start; t < k.end; t++ {
				amps[to[t]] += amps[k.group] * s.weight[t]
			}
		}
	}
	s.level[0] = 0
	for p := len(pivots) - 1; p >= 0; p-- {
		k := &pivots[p]
		v := amps[k.group] * s.ohms[p]
		for t := k.start; t < k.end; t++ {
			v += s.weight[t] * (s.level[to[t]] + s.force[t])
		}
		s.level[k.group] = v
	}
	if s.shape.apart {
		s.shiftIslands(amps)
	}
	for a, g := range s.shape.group {
		s.volts[a] += s.level[g]
	}
}

// shiftIslands puts the first group of every island at 0 V. shift is scratch,
// by group.
func (s *Solution) shiftIslands(shift []float64) {
	island := s.shape.island
	for g := len(island) - 1; g >= 0; g-- { // the lowest group writes last
		shift[island[g]] = s.level[g]
	}
	for g, at := range island {
		if at != 0 {
			s.level[g] -= shift[at]
		}
	}
}
