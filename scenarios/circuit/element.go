package circuit

import "math"

// Node is the index of a node in its Netlist.
type Node int

// Reference is the node at 0 V. It exists in every netlist.
const Reference Node = 0

// Element is the index of an element in its Netlist, in order of addition.
type Element int

type kind uint8

const (
	resistor kind = iota
	source
	current
)

// element is one line of the netlist. a and b are the first and second node:
// plus and minus of a source, from and to of a current source.
type element struct {
	kind  kind
	a, b  Node
	value float64 // volts of a source, amperes of a current source
	ohms  float64 // of a resistor or in series with a source
	name  string
}

// idealOhms is the highest resistance whose conductance overflows.
const idealOhms = 0x1p-1024

// isIdeal reports whether the element fixes the voltage between its nodes. A
// resistance so small that its conductance overflows counts as none.
func (e *element) isIdeal() bool { return e.kind != current && e.ohms <= idealOhms }

// conducts reports whether the element is a path for direct current.
func (e *element) conducts() bool { return e.kind != current && e.ohms <= math.MaxFloat64 }

// volts is the voltage the element holds between its nodes when it carries no
// current.
func (e *element) volts() float64 {
	if e.kind == source {
		return e.value
	}
	return 0
}
