package circuit

import "math"

// currents fills s.amps: first those that voltages determine, whose sum at
// each node is then what the shorts and ideal sources there have to carry.
func (n *Netlist) currents(s *Solution) {
	t := &n.work.tree
	s.amps = grow(s.amps, len(n.elements))
	t.excess = grow(t.excess, n.Nodes())
	clear(t.excess)
	for i := range n.elements {
		e := &n.elements[i]
		amps := 0.0
		switch {
		case e.kind == current:
			amps = e.value
		case e.conducts() && !e.isIdeal():
			amps = (s.Between(e.a, e.b) - e.volts()) / e.ohms
		}
		s.amps[i] = amps
		t.excess[e.a] -= amps
		t.excess[e.b] += amps
	}
	if t.size > 0 {
		n.peel(s)
	}
	for _, i := range t.loops {
		if e := &n.elements[i]; e.a != e.b { // on one node it carries nothing
			n.markLoop(s, i)
		}
	}
}

// peel takes the trees apart from their leaves: the excess of current at a
// leaf leaves through its only element.
func (n *Netlist) peel(s *Solution) {
	t := &n.work.tree
	t.rank = grow(t.rank, n.Nodes())
	t.link = grow(t.link, n.Nodes())
	clear(t.rank)
	t.leaves = t.leaves[:0]
	for a, c := range t.count {
		if c == 1 {
			t.leaves = append(t.leaves, Node(a))
		}
	}
	for k := 0; k < len(t.leaves); k++ {
		a := t.leaves[k]
		// Of the last two nodes of a tree both are leaves; the second has become
		// the root by now, and its excess is the rounding of the whole tree.
		if t.count[a] == 0 {
			continue
		}
		i := t.mix[a]
		e := &n.elements[i]
		flow, to := t.excess[a], e.b
		s.amps[i] = flow
		if a == e.b {
			s.amps[i], to = -flow, e.a
		}
		t.rank[a], t.link[a] = int32(k+1), i
		t.count[a] = 0
		t.excess[to] += flow
		t.mix[to] ^= i
		t.count[to]--
		if t.count[to] == 1 {
			t.leaves = append(t.leaves, to)
		}
	}
}

// markLoop sets the currents around the loop closed by element i to NaN. A
// node is peeled off before the node it hangs on, so climbing always from the
// one with the lower rank meets at the nearest common node.
func (n *Netlist) markLoop(s *Solution, i int32) {
	t := &n.work.tree
	s.amps[i] = math.NaN()
	a, b := n.elements[i].a, n.elements[i].b
	for a != b {
		if t.rank[a] == 0 || t.rank[b] != 0 && t.rank[b] < t.rank[a] {
			a, b = b, a
		}
		up := t.link[a]
		s.amps[up] = math.NaN()
		if e := &n.elements[up]; e.a == a {
			a = e.b
		} else {
			a = e.a
		}
	}
}
