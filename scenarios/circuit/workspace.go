package circuit

// workspace is what Solve needs for the time of one call, and what it remembers of earlier ones.
type workspace struct {
	signature []uint64
	shapes    map[uint64][]*shape // by a hash of the signature
	made      int                 // shapes, since there have been any
	last      []last              // by the number of a shape
	solved    *shape              // of the netlist as it stands, nil when it has been added to since
	retuned   *shape              // the same, when nothing but values of sources has changed since
	replay    replay
	amps      []float64 // by group: current injected
	excess    []float64 // by node: current that arrives

	ties   ties // for a new shape, from here on
	tied   []int32
	placed []bool
	tree   tree
	peeled []Node
	mesh   mesh
	joins  []joining
}

// mostLast bounds for how many shapes, the newest and those asked for again, the last conductances are kept.
const mostLast = 64

// last is what the last netlist of a shape had from its resistances alone. A program that looks at a circuit in many
// situations asks again and again for one in which only sources differ.
type last struct {
	shape  *shape
	ohms   []float64 // by element
	pivots []float64 // Solution.ohms
	weight []float64
	part   []float64 // what replay needs for the forces
}

// lastOf is what is kept for a shape; it may be another one's.
func (w *workspace) lastOf(s *shape) *last {
	i := s.number % mostLast
	for len(w.last) <= i {
		w.last = append(w.last, last{})
	}
	return &w.last[i]
}

// has reports whether it is of a netlist of that shape with the same resistances.
func (l *last) has(n *Netlist, s *shape) bool {
	if l.shape != s {
		return false
	}
	for i := range n.elements {
		if n.elements[i].ohms != l.ohms[i] {
			return false
		}
	}
	return true
}

// keep remembers the conductances of a solution; part is filled already.
func (l *last) keep(n *Netlist, s *Solution) {
	l.shape, l.ohms = s.shape, l.ohms[:0]
	for i := range n.elements {
		l.ohms = append(l.ohms, n.elements[i].ohms)
	}
	l.pivots, l.weight = append(l.pivots[:0], s.ohms...), append(l.weight[:0], s.weight...)
}
