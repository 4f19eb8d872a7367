// Package circuit solves small lumped circuits: the direct-current operating
// point and the Thevenin equivalent between any two nodes. Package transient
// below it tells what happens in time.
//
// Start with a zero Netlist: declare nodes, add elements, call Solve and ask
// the Solution for voltages, currents and equivalents.
//
//	var n circuit.Netlist
//	top := n.Node("top")
//	n.Source("battery", top, circuit.Reference, 12, 0.1)
//	n.Resistor("load", top, circuit.Reference, 10)
//	s, err := n.Solve()
//	// s.Volts(top) is 11.881
//
// It is not a general simulator: there are no semiconductors and no
// small-signal analysis, and the operating point is linear. It knows nothing
// of what the circuit is for.
package circuit

import (
	"fmt"
	"math"
)

// Netlist is a circuit under construction. The zero value is an empty circuit
// that has only the Reference. A Netlist also owns the memory that solving
// needs, so it must not be used by two goroutines at once; solutions may.
type Netlist struct {
	names    []string // by node, once a node is declared; names[0] is the reference
	elements []element
	work     workspace
}

// Reset empties the netlist and keeps its memory. Earlier solutions stay valid.
func (n *Netlist) Reset() { n.Rewind(0, 0) }

// Rewind drops all nodes and all elements but the first so many, which stay as they are. The elements that stay must
// join nodes that stay.
func (n *Netlist) Rewind(nodes, elements int) {
	n.names = n.names[:nodes]
	n.elements = n.elements[:elements]
	n.work.solved = nil
}

// Node declares a new node. The name serves error messages and SPICE export
// only: it need not be unique and is never looked up.
func (n *Netlist) Node(name string) Node {
	if len(n.names) == 0 {
		n.names = append(n.names, "reference")
	}
	n.names = append(n.names, name)
	return Node(len(n.names) - 1)
}

// Nodes is the number of nodes, the Reference included.
func (n *Netlist) Nodes() int { return max(1, len(n.names)) }

// Elements is the number of elements.
func (n *Netlist) Elements() int { return len(n.elements) }

// Name is the name a node was declared with.
func (n *Netlist) Name(a Node) string {
	if a == Reference {
		return "reference"
	}
	return n.names[a]
}

// Resistor adds a resistance in ohms between a and b. 0 is an ideal short,
// which makes a and b the same point; +Inf is open: the element keeps its
// number and carries nothing. A negative or NaN value is reported by Solve.
func (n *Netlist) Resistor(name string, a, b Node, ohms float64) Element {
	return n.add(resistor, name, a, b, 0, ohms)
}

// Source adds an electromotive force in volts with a series resistance in
// ohms. 0 ohms is an ideal source, +Inf ohms an absent one.
func (n *Netlist) Source(name string, plus, minus Node, volts, ohms float64) Element {
	return n.add(source, name, plus, minus, volts, ohms)
}

// Current adds an ideal current source: amps leave node from, flow through
// the source and enter node to.
func (n *Netlist) Current(name string, from, to Node, amps float64) Element {
	return n.add(current, name, from, to, amps, 0)
}

// SetValue gives a source that is in the netlist other volts, or a current source other amperes.
func (n *Netlist) SetValue(e Element, value float64) {
	n.elements[e].value = value
	n.work.retuned = n.work.solved
}

// add panics on a node that was never declared: that is a mistake of the
// calling program, whereas bad values may come from its user.
func (n *Netlist) add(k kind, name string, a, b Node, value, ohms float64) Element {
	if last := Node(n.Nodes() - 1); uint(a) > uint(last) || uint(b) > uint(last) {
		panic(fmt.Sprintf("circuit: element %q joins nodes %d and %d, declared are 0 to %d", name, a, b, last))
	}
	i := len(n.elements)
	if i == cap(n.elements) {
		n.elements = append(n.elements, element{})
	}
	n.elements = n.elements[:i+1]
	e := &n.elements[i]
	e.kind, e.a, e.b, e.value, e.ohms, e.name = k, a, b, value, ohms, name
	n.work.solved = nil
	return Element(i)
}

// check finds parameters outside their range.
func (n *Netlist) check() error {
	for i := range n.elements {
		e := &n.elements[i]
		if e.ohms >= 0 && e.value-e.value == 0 { // nearly all: neither is NaN, nor the value infinite
			continue
		}
		switch {
		case math.IsNaN(e.ohms) || e.ohms < 0:
			return fmt.Errorf("%s: resistance %g ohms, want 0 to +Inf", n.describe(e), e.ohms)
		case math.IsNaN(e.value) || math.IsInf(e.value, 0):
			unit := "volts"
			if e.kind == current {
				unit = "amperes"
			}
			return fmt.Errorf("%s: value %g %s, want a finite number", n.describe(e), e.value, unit)
		}
	}
	return nil
}

// describe names an element and its nodes for an error message.
func (n *Netlist) describe(e *element) string {
	kinds := [...]string{resistor: "resistor", source: "source", current: "current source"}
	return fmt.Sprintf("%s %q (nodes %q and %q)", kinds[e.kind], e.name, n.Name(e.a), n.Name(e.b))
}

// Floating lists the nodes that have no conductive path to root, by name in
// order of declaration, isolated nodes included. Current sources and open
// resistors are no paths. The Reference is listed, as "reference", only if an
// element is connected to it.
func (n *Netlist) Floating(root Node) []string {
	grounded := false
	for i := range n.elements {
		e := &n.elements[i]
		grounded = grounded || e.a == Reference || e.b == Reference
	}
	sets := n.islandTies()
	home := sets.find(root)
	var floating []string
	for a := Reference; a < Node(n.Nodes()); a++ {
		if sets.find(a) == home || a == Reference && !grounded {
			continue
		}
		floating = append(floating, n.Name(a))
	}
	return floating
}

// islandTies groups the nodes of each island under its first node.
func (n *Netlist) islandTies() *ties {
	wired := new(ties)
	wired.reset(n.Nodes())
	for i := range n.elements {
		if e := &n.elements[i]; e.conducts() {
			wired.tie(e.a, e.b)
		}
	}
	return wired
}
