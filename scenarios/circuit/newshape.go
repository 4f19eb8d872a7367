package circuit

import "slices"

func (n *Netlist) newShape() *shape {
	w := &n.work
	s := &shape{signature: slices.Clone(w.signature), number: w.made}
	w.made++
	n.tieNodes(s)
	n.numberGroups(s)
	n.hang(s)
	n.peel(s)
	w.mesh.reset(s.groups)
	w.joins = w.joins[:0]
	for i := range n.elements {
		e := &n.elements[i]
		a, b := s.group[e.a], s.group[e.b]
		switch {
		case a == b:
		case e.kind == current:
			s.currents = append(s.currents, int32(i))
		case e.conducts(): // it is not ideal, for it joins two groups
			w.joins = append(w.joins, joining{int32(i), w.mesh.join(a, b)})
		}
	}
	w.mesh.reduce()
	s.joins, s.pivots, s.to = slices.Clone(w.joins), slices.Clone(w.mesh.pivots), slices.Clone(w.mesh.to)
	s.from, s.products = slices.Clone(w.mesh.from), slices.Clone(w.mesh.products)
	s.branches = w.mesh.branches()
	s.findIslands()
	for _, i := range s.currents {
		e := &n.elements[i]
		s.stray = s.stray || s.islandOf(e.a) != 0 || s.islandOf(e.b) != 0
	}
	return s
}

// tieNodes groups the nodes joined by shorts and then by ideal sources, so that a contradiction always shows at a
// source. It notes the elements that joined two groups.
func (n *Netlist) tieNodes(s *shape) {
	t, tied := &n.work.ties, n.work.tied[:0]
	t.reset(n.Nodes())
	for _, kind := range []kind{resistor, source} {
		for i := range n.elements {
			e := &n.elements[i]
			switch {
			case e.kind != kind || !e.isIdeal():
			case t.tie(e.a, e.b):
				tied = append(tied, int32(i))
			default:
				s.loops = append(s.loops, int32(i))
			}
		}
	}
	n.work.tied = tied
}

// numberGroups gives every group a number, by its first node.
func (n *Netlist) numberGroups(s *shape) {
	s.group = make([]int32, n.Nodes())
	for a := range s.group {
		if root := n.work.ties.find(Node(a)); root == Node(a) {
			s.group[a] = int32(s.groups)
			s.groups++
		} else { // a root is lower than its members, so it has its number
			s.group[a] = s.group[root]
		}
	}
}

// hang lists the nodes of every group from its root outwards.
func (n *Netlist) hang(s *shape) {
	tied := n.work.tied
	s.ties = make([]hanging, 0, len(tied))
	n.work.placed = grow(n.work.placed, n.Nodes())
	placed := n.work.placed
	for a := range placed {
		placed[a] = n.work.ties.find(Node(a)) == Node(a)
	}
	for len(s.ties) < len(tied) {
		for _, i := range tied {
			switch e := &n.elements[i]; {
			case placed[e.a] && !placed[e.b]:
				s.ties = append(s.ties, hanging{node: e.b, up: e.a, element: i, below: true})
				placed[e.b] = true
			case placed[e.b] && !placed[e.a]:
				s.ties = append(s.ties, hanging{node: e.a, up: e.b, element: i})
				placed[e.a] = true
			}
		}
	}
}
