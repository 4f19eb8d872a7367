package circuit

import (
	"fmt"
	"math"
	"slices"
)

// Solve computes the operating point: one reduction of the circuit, after
// which every Thevenin equivalent is cheap. The result does not depend on the
// netlist any more.
//
// An island, a piece of circuit without a conductive path to the Reference,
// is no error: its voltages count from the node of the island that was
// declared first. Errors are a parameter out of range, an ideal source whose
// voltage is contradicted by shorts or other ideal sources around a loop, and
// a current source between nodes that no path closes.
//
// Voltages are accurate to about 1e-12 of the largest voltage in the circuit
// for resistances from 1e-3 to 1e7 ohms in any mixture.
func (n *Netlist) Solve() (*Solution, error) {
	s := new(Solution)
	if err := n.SolveInto(s); err != nil {
		return nil, err
	}
	return s, nil
}

// SolveInto is Solve into a Solution whose memory is used again; what the
// Solution held before is gone. After an error it holds nothing of use.
func (n *Netlist) SolveInto(s *Solution) error {
	if err := n.check(); err != nil {
		return err
	}
	if err := n.tieNodes(); err != nil {
		return err
	}
	groups := n.numberGroups(s)
	w := &n.work
	w.mesh.reset(groups)
	w.amps = grow(w.amps, groups)
	clear(w.amps)
	driven := false
	for i := range n.elements {
		e := &n.elements[i]
		i, j := s.group[e.a], s.group[e.b]
		if i == j {
			continue
		}
		if e.kind == current {
			w.amps[i] -= e.value
			w.amps[j] += e.value
			driven = true
		} else if e.conducts() && !e.isIdeal() {
			w.mesh.join(i, j, 1/e.ohms, e.volts()+s.volts[e.b]-s.volts[e.a])
		}
	}
	// A circuit that is nearly a tree leaves about one term per group and its
	// leak, so this is usually all the memory it takes.
	s.pivots, s.steps = grow(s.pivots, groups), grow(s.steps, 2*groups)
	s.pivots, s.steps = w.mesh.reduce(s.pivots[:0], s.steps[:0])
	s.findIslands(groups)
	if driven {
		if err := n.checkReturn(s); err != nil {
			return err
		}
	}
	s.substitute(w.amps, driven)
	n.currents(s)
	return nil
}

// tieNodes groups the nodes joined by shorts and then by ideal sources, so
// that a contradiction always shows at a source.
func (n *Netlist) tieNodes() error {
	w := &n.work
	w.ties.reset(n.Nodes())
	w.tree.reset(n.Nodes())
	for i := range n.elements {
		if e := &n.elements[i]; e.kind == resistor && e.isIdeal() {
			joined, _ := w.ties.tie(e.a, e.b, 0)
			w.tree.add(i, e, joined)
		}
	}
	for i := range n.elements {
		e := &n.elements[i]
		if e.kind != source || !e.isIdeal() {
			continue
		}
		joined, fixed := w.ties.tie(e.a, e.b, e.value)
		w.tree.add(i, e, joined)
		if joined || !contradicts(fixed, e.value) {
			continue
		}
		if fixed == 0 {
			return fmt.Errorf("%s: ideal source of %g volts is short-circuited", n.describe(e), e.value)
		}
		return fmt.Errorf("%s: ideal source of %g volts closes a loop of ideal sources that holds its nodes at %g volts",
			n.describe(e), e.value, fixed)
	}
	return nil
}

// numberGroups fills s.group, and s.volts with the volts above the group's
// root, and returns the number of groups.
func (n *Netlist) numberGroups(s *Solution) int {
	w := &n.work
	nodes := n.Nodes()
	s.group = grow(s.group, nodes)
	s.volts = grow(s.volts, nodes)
	groups := int32(0)
	for a := range nodes {
		root, over := w.ties.find(Node(a))
		if root == Node(a) {
			s.group[a] = groups
			groups++
		} else { // a root is lower than its members, so it has its number
			s.group[a] = s.group[root]
		}
		s.volts[a] = over
	}
	return int(groups)
}

// checkReturn refuses current sources whose current cannot come back: the sum
// over an island without the Reference must vanish.
func (n *Netlist) checkReturn(s *Solution) error {
	astray := func(e element) bool {
		return e.kind == current && (s.islandOf(e.a) != 0 || s.islandOf(e.b) != 0)
	}
	if !slices.ContainsFunc(n.elements, astray) {
		return nil // as in nearly every circuit
	}
	net := make([]float64, len(s.island))
	scale := make([]float64, len(s.island))
	for i := range n.elements {
		if e := &n.elements[i]; e.kind == current {
			from, to := s.islandOf(e.a), s.islandOf(e.b)
			net[from] -= e.value
			net[to] += e.value
			scale[from] += math.Abs(e.value)
			scale[to] += math.Abs(e.value)
		}
	}
	for i := range n.elements {
		e := &n.elements[i]
		if e.kind != current || e.value == 0 {
			continue
		}
		for _, a := range [2]Node{e.b, e.a} {
			if at := s.islandOf(a); at != 0 && math.Abs(net[at]) > 1e-12*scale[at] {
				return fmt.Errorf("%s: %g amperes have nowhere to flow at node %q: no path leads back",
					n.describe(e), e.value, n.Name(a))
			}
		}
	}
	return nil
}
