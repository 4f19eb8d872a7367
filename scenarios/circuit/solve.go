package circuit

import (
	"fmt"
	"math"
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
	w := &n.work
	sh := w.retuned
	if sh == nil {
		sh = n.shapeOf()
	}
	w.solved, w.retuned = nil, nil
	s.fit(sh)
	if err := n.fixVolts(s); err != nil {
		return err
	}
	if sh.stray {
		if err := n.checkReturn(s); err != nil {
			return err
		}
	}
	l := w.lastOf(sh)
	if l.has(n, sh) {
		copy(s.ohms, l.pivots)
		copy(s.weight, l.weight)
	} else {
		l.part = grow(l.part, len(sh.joins)+len(sh.products))
		w.replay.conductances(n, s, l.part)
		l.keep(n, s)
	}
	w.replay.forces(n, s, l.part)
	w.amps = grow(w.amps, sh.groups)
	clear(w.amps)
	for _, i := range sh.currents {
		e := &n.elements[i]
		w.amps[sh.group[e.a]] -= e.value
		w.amps[sh.group[e.b]] += e.value
	}
	s.substitute(w.amps)
	n.currents(s)
	w.solved = sh
	return nil
}

// fixVolts fills s.volts with the volts of every node above its group's root.
func (n *Netlist) fixVolts(s *Solution) error {
	clear(s.volts)
	for _, h := range s.shape.ties {
		volts := n.elements[h.element].volts()
		if h.below {
			volts = -volts
		}
		s.volts[h.node] = s.volts[h.up] + volts
	}
	for _, i := range s.shape.loops {
		e := &n.elements[i]
		fixed := s.volts[e.a] - s.volts[e.b]
		if e.kind != source || !contradicts(fixed, e.value) {
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

// checkReturn refuses current sources whose current cannot come back: the sum
// over an island without the Reference must vanish.
func (n *Netlist) checkReturn(s *Solution) error {
	net := make([]float64, len(s.shape.island))
	scale := make([]float64, len(s.shape.island))
	for i := range n.elements {
		if e := &n.elements[i]; e.kind == current {
			from, to := s.shape.islandOf(e.a), s.shape.islandOf(e.b)
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
			if at := s.shape.islandOf(a); at != 0 && math.Abs(net[at]) > 1e-12*scale[at] {
				return fmt.Errorf("%s: %g amperes have nowhere to flow at node %q: no path leads back",
					n.describe(e), e.value, n.Name(a))
			}
		}
	}
	return nil
}
