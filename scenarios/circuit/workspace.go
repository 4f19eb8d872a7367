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

// mostLast bounds for how many shapes, the newest and those asked for again, the last solution is kept.
const mostLast = 64

// last is the last solution of a shape. A program that looks at a circuit in many situations asks for the same one, or
// for one in which only sources differ, again and again.
type last struct {
	solution    Solution
	ohms, value []float64 // by element
	part        []float64 // what replay needs for the forces
}

// lastOf is what is kept for a shape; it may be another one's.
func (w *workspace) lastOf(s *shape) *last {
	i := s.number % mostLast
	for len(w.last) <= i {
		w.last = append(w.last, last{})
	}
	return &w.last[i]
}

// repeats tells whether a netlist of the same shape has the same resistances as the last one, and whether all values
// are the same.
func (l *last) repeats(n *Netlist) (ohms, all bool) {
	ohms, all = true, true
	for i := range n.elements {
		e := &n.elements[i]
		ohms = ohms && e.ohms == l.ohms[i]
		all = all && e.value == l.value[i]
	}
	return ohms, ohms && all
}

// keep remembers a solution of a netlist; part is filled already.
func (l *last) keep(n *Netlist, s *Solution) {
	l.ohms, l.value = grow(l.ohms, len(n.elements)), grow(l.value, len(n.elements))
	for i := range n.elements {
		l.ohms[i], l.value[i] = n.elements[i].ohms, n.elements[i].value
	}
	l.solution.copy(s)
}
