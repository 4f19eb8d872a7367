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
