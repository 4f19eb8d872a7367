package circuit

import "math"

// Solution is the operating point of a netlist. It is read only: any number
// of goroutines may use it at once. Nodes and elements are those of the
// netlist it came from; others panic.
type Solution struct {
	group  []int32   // by node: group of nodes at fixed voltages; 0 holds the Reference
	volts  []float64 // by node
	island []int32   // by group: group that stands for its island; 0 is that of the Reference
	turn   []int32   // by group: its place among the pivots, after all of them for the one that stays
	level  []float64 // by group: volts of its root
	amps   []float64 // by element
	pivots []pivot
	steps  []step
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
func (s *Solution) Connected(a, b Node) bool { return s.islandOf(a) == s.islandOf(b) }

func (s *Solution) islandOf(a Node) int32 { return s.island[s.group[a]] }

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
	i, j := s.group[a], s.group[b]
	if i == j {
		return volts, 0
	}
	var few [64]float64
	amps := few[:]
	if len(s.level) > len(few) {
		amps = make([]float64, len(s.level))
	}
	amps[i], amps[j] = 1, -1
	for p := int(min(s.turn[i], s.turn[j])); p < len(s.pivots); p++ { // no current reaches the groups removed before
		k := &s.pivots[p]
		flow := amps[k.group]
		if flow == 0 {
			continue
		}
		ohms += flow * flow * k.ohms
		for _, t := range s.steps[k.start:k.end] {
			amps[t.to] += flow * t.weight
		}
	}
	return volts, ohms
}

// findIslands gives every group its turn of removal, and the last group removed
// from its piece of the circuit, or 0.
func (s *Solution) findIslands(groups int) {
	s.island, s.turn = grow(s.island, groups), grow(s.turn, groups)
	s.island[0], s.turn[0] = 0, int32(len(s.pivots))
	for p := len(s.pivots) - 1; p >= 0; p-- {
		k := &s.pivots[p]
		s.island[k.group], s.turn[k.group] = k.group, int32(p)
		if k.end > k.start {
			s.island[k.group] = s.island[s.steps[k.start].to]
		}
	}
}

// substitute computes all voltages from the injected currents, which it
// overwrites. On entry s.volts holds voltages above the group's root.
func (s *Solution) substitute(amps []float64, driven bool) {
	if driven {
		for p := range s.pivots {
			k := &s.pivots[p]
			for _, t := range s.steps[k.start:k.end] {
				amps[t.to] += amps[k.group] * t.weight
			}
		}
	}
	s.level = grow(s.level, len(amps))
	s.level[0] = 0
	for p := len(s.pivots) - 1; p >= 0; p-- {
		k := &s.pivots[p]
		v := amps[k.group] * k.ohms
		for _, t := range s.steps[k.start:k.end] {
			v += t.weight * (s.level[t.to] + t.e)
		}
		s.level[k.group] = v
	}
	s.shiftIslands(amps)
	for a, g := range s.group {
		s.volts[a] += s.level[g]
	}
}

// shiftIslands puts the first group of every island at 0 V. shift is scratch,
// by group.
func (s *Solution) shiftIslands(shift []float64) {
	for g := len(s.island) - 1; g >= 0; g-- { // the lowest group writes last
		shift[s.island[g]] = s.level[g]
	}
	for g, at := range s.island {
		if at != 0 {
			s.level[g] -= shift[at]
		}
	}
}
