package circuit

import "math"

// currents fills s.amps: first those that voltages determine, whose sum at
// each node is then what the shorts and ideal sources there have to carry.
func (n *Netlist) currents(s *Solution) {
	n.work.excess = grow(n.work.excess, n.Nodes())
	excess := n.work.excess
	clear(excess)
	for i := range n.elements {
		e := &n.elements[i]
		amps := 0.0
		switch class(s.shape.signature[i+1] & 3) {
		case driven:
			amps = e.value
		case finite:
			amps = (s.volts[e.a] - s.volts[e.b] - e.volts()) / e.ohms
		}
		s.amps[i] = amps
		excess[e.a] -= amps
		excess[e.b] += amps
	}
	for i := range s.shape.leaves {
		l := &s.shape.leaves[i]
		flow := excess[l.node]
		excess[l.to] += flow
		if l.reversed {
			flow = -flow
		}
		s.amps[l.element] = flow
	}
	for _, i := range s.shape.unknown {
		s.amps[i] = math.NaN()
	}
}

// tree holds the shorts and ideal sources that joined two groups. They form
// trees, in which the sum of currents at the nodes determines every current.
// A node remembers its number of tree elements and the exclusive or of their
// numbers: at a leaf that is the one element left.
type tree struct {
	count []int32
	mix   []int32
	rank  []int32 // by node: when it was peeled off, 0 if it is a root
	link  []int32 // by node: the element by which it was peeled off
}

func (t *tree) reset(nodes int) {
	for _, list := range []*[]int32{&t.count, &t.mix, &t.rank, &t.link} {
		*list = grow(*list, nodes)
		clear(*list)
	}
}

// peel takes the trees apart from their leaves: the excess of current at a
// leaf leaves through its only element. Elements that closed a loop leave
// undetermined what flows around it.
func (n *Netlist) peel(s *shape) {
	t := &n.work.tree
	t.reset(n.Nodes())
	for _, i := range n.work.tied {
		for _, a := range [2]Node{n.elements[i].a, n.elements[i].b} {
			t.count[a]++
			t.mix[a] ^= i
		}
	}
	s.leaves = make([]leaf, 0, len(n.work.tied))
	leaves := n.work.peeled[:0]
	for a, c := range t.count {
		if c == 1 {
			leaves = append(leaves, Node(a))
		}
	}
	for k := 0; k < len(leaves); k++ {
		a := leaves[k]
		// Of the last two nodes of a tree both are leaves; the second has become
		// the root by now, and its excess is the rounding of the whole tree.
		if t.count[a] == 0 {
			continue
		}
		i := t.mix[a]
		l := leaf{node: a, to: n.elements[i].b, element: i}
		if a == l.to {
			l.to, l.reversed = n.elements[i].a, true
		}
		s.leaves = append(s.leaves, l)
		t.rank[a], t.link[a] = int32(k+1), i
		t.count[a] = 0
		t.mix[l.to] ^= i
		if t.count[l.to]--; t.count[l.to] == 1 {
			leaves = append(leaves, l.to)
		}
	}
	n.work.peeled = leaves
	for _, i := range s.loops {
		if e := &n.elements[i]; e.a != e.b { // on one node it carries nothing
			n.markLoop(s, t, i)
		}
	}
}

// markLoop lists the elements around the loop closed by element i. A
// node is peeled off before the node it hangs on, so climbing always from the
// one with the lower rank meets at the nearest common node.
func (n *Netlist) markLoop(s *shape, t *tree, i int32) {
	s.unknown = append(s.unknown, i)
	a, b := n.elements[i].a, n.elements[i].b
	for a != b {
		if t.rank[a] == 0 || t.rank[b] != 0 && t.rank[b] < t.rank[a] {
			a, b = b, a
		}
		up := t.link[a]
		s.unknown = append(s.unknown, up)
		if e := &n.elements[up]; e.a == a {
			a = e.b
		} else {
			a = e.a
		}
	}
}
