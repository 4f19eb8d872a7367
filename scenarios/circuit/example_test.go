package circuit_test

import (
	"fmt"
	"os"

	"nospark/scenarios/circuit"
)

// A lamp whose ground strap has 0.5 ohm too much: a voltmeter alone would show
// nothing at the strap while the lamp is off.
func ExampleNetlist() {
	var n circuit.Netlist
	plus, body := n.Node("plus"), n.Node("body")
	n.Source("battery", plus, circuit.Reference, 12, 0.02)
	lamp := n.Resistor("lamp", plus, body, 5)
	n.Resistor("strap", body, circuit.Reference, 0.5)
	s, err := n.Solve()
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		return
	}
	volts, ohms := s.Thevenin(body, circuit.Reference)
	fmt.Printf("lamp %.3f A, body %.3f V behind %.3f ohm\n", s.Amps(lamp), s.Volts(body), ohms)
	fmt.Printf("with a meter of 10 Mohm %.3f V\n", volts*10e6/(ohms+10e6))
	// Output:
	// lamp 2.174 A, body 1.087 V behind 0.455 ohm
	// with a meter of 10 Mohm 1.087 V
}

// A coil switched on for 3 ms and off again; a clamp catches its voltage.
func ExampleTransient() {
	var c circuit.Transient
	feed, collector := c.Node("feed"), c.Node("collector")
	c.Source("battery", feed, circuit.Reference, circuit.Steady(12), 0)
	coil := c.Inductor("coil", feed, collector, 4e-3, 0.7)
	c.Switch("contact", collector, circuit.Reference, 0.01, 1e9, 0, 3e-3)
	c.Clamp("clamp", collector, circuit.Reference, 380, 0.1)
	tr, err := c.Run(circuit.Options{Until: 5e-3}, circuit.AmpsOf(coil), circuit.VoltsOf(collector, circuit.Reference))
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		return
	}
	_, peak := tr.Extremes(1, 0, 5e-3)
	fmt.Printf("%.2f A when it opens, %.0f V at most\n", tr.At(0, 2.999e-3), peak)
	// Output:
	// 6.98 A when it opens, 381 V at most
}
