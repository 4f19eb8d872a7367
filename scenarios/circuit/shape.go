package circuit

import "slices"

// shape is all of a solution that does not depend on the elements' values but only on what they join and on which of
// them are open or ideal: which nodes are tied together, in which order groups are removed, where their conductances
// go. Circuits of one shape are solved by the thousand with other values, so a netlist remembers its shapes.
type shape struct {
	signature []uint64
	number    int     // counts the shapes of a netlist
	group     []int32 // by node: group of nodes at fixed voltages; 0 holds the Reference
	groups    int
	island    []int32 // by group: group that stands for its island; 0 is that of the Reference
	turn      []int32 // by group: its place among the pivots, after all of them for the one that stays
	apart     bool    // some island does not hold the Reference
	stray     bool    // a current source ends in such an island

	ties     []hanging
	loops    []int32   // shorts and ideal sources that closed a loop
	unknown  []int32   // those in such a loop, whose current is not determined
	leaves   []leaf    // the others, in the order in which the currents at a node leave one of them unknown
	joins    []joining // elements between two groups, in order
	currents []int32   // current sources between two groups
	branches int       // groups, for their leaks, and edges

	pivots   []pivot
	to       []int32 // by step: the group whose voltage it weighs
	from     []place // by step: the branch it comes from
	products []place // by pivot and pair of its steps: the branch that takes their place
}

// hanging is a node whose voltage an element fixes above (or below) another one's, which comes before it.
type hanging struct {
	node, up Node
	element  int32
	below    bool
}

// leaf is a node with one short or ideal source left, and the node at its other end.
type leaf struct {
	node, to Node
	element  int32
	reversed bool
}

// joining is an element that conducts between two groups.
type joining struct {
	element int32
	at      place
}

// place is a branch, times two, and 1 if the branch is counted the other way around.
type place int32

func (p place) branch() int32  { return int32(p >> 1) }
func (p place) reversed() bool { return p&1 != 0 }

// pivot is one removed group and its steps. The last group of an island that does not hold the Reference has none. Next
// is the first of the pivots that its steps lead to, after all of them for none: what one leads to, the next one leads
// to as well, so what begins at a pivot passes the chain of next ones only.
type pivot struct {
	group      int32
	start, end int32
	next       int32
}

// class is what the shape depends on in an element's values.
type class uint64

const (
	open class = iota
	finite
	ideal
	driven
)

func (e *element) class() class {
	switch {
	case e.kind == current:
		return driven
	case e.isIdeal():
		return ideal
	case e.conducts():
		return finite
	}
	return open
}

// mostShapes bounds what a netlist remembers.
const mostShapes = 4096

// shapeOf finds the netlist's shape.
func (n *Netlist) shapeOf() *shape {
	w := &n.work
	w.signature = append(w.signature[:0], uint64(n.Nodes()))
	hash := uint64(n.Nodes())
	for i := range n.elements {
		e := &n.elements[i]
		word := uint64(e.a)<<34 | uint64(e.b)<<4 | uint64(e.kind)<<2 | uint64(e.class())
		w.signature = append(w.signature, word)
		hash = (hash ^ word) * 0x9e3779b97f4a7c15
		hash ^= hash >> 29
	}
	for _, s := range w.shapes[hash] {
		if slices.Equal(s.signature, w.signature) {
			return s
		}
	}
	if w.shapes == nil || len(w.shapes) >= mostShapes {
		w.shapes = map[uint64][]*shape{}
	}
	s := n.newShape()
	w.shapes[hash] = append(w.shapes[hash], s)
	return s
}

// findIslands gives every group its turn of removal, and the last group removed from its piece of the circuit, or 0.
func (s *shape) findIslands() {
	numbers := make([]int32, 2*s.groups)
	s.island, s.turn = numbers[:s.groups], numbers[s.groups:]
	s.turn[0] = int32(len(s.pivots))
	for p := len(s.pivots) - 1; p >= 0; p-- {
		k := &s.pivots[p]
		s.island[k.group], s.turn[k.group] = k.group, int32(p)
		if k.end > k.start {
			s.island[k.group] = s.island[s.to[k.start]]
		}
		s.apart = s.apart || s.island[k.group] != 0
		k.next = s.turn[0]
		for _, to := range s.to[k.start:k.end] {
			k.next = min(k.next, s.turn[to])
		}
	}
}

func (s *shape) islandOf(a Node) int32 { return s.island[s.group[a]] }
