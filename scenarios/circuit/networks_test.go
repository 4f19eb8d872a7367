package circuit

import (
	"math"
	"testing"
)

// near fails unless got is within tolerance of want, or both are the same
// infinity.
func near(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if got != want && !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s: got %.10g, want %.10g within %g", what, got, want, tolerance)
	}
}

func solved(t *testing.T, n *Netlist) *Solution {
	t.Helper()
	s, err := n.Solve()
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// Tony R. Kuphaldt, Lessons in Electric Circuits, volume I, chapter "DC
// network analysis": unbalanced bridges and two batteries on one load.
func TestKuphaldtNetworks(t *testing.T) {
	bridge := func(volts float64, ohms [5]float64, want2, want3, tolerance float64) {
		t.Helper()
		var n Netlist
		v1, v2, v3 := n.Node("1"), n.Node("2"), n.Node("3")
		n.Source("battery", v1, Reference, volts, 0)
		n.Resistor("r1", v1, v2, ohms[0])
		n.Resistor("r2", v1, v3, ohms[1])
		n.Resistor("r3", v2, v3, ohms[2])
		n.Resistor("r4", v2, Reference, ohms[3])
		n.Resistor("r5", v3, Reference, ohms[4])
		s := solved(t, &n)
		near(t, "node 2", s.Volts(v2), want2, tolerance)
		near(t, "node 3", s.Volts(v3), want3, tolerance)
		near(t, "battery terminal", s.Volts(v1), volts, 0)
	}
	bridge(24, [5]float64{150, 50, 100, 300, 250}, 17.6552, 19.3103, 5e-5)
	bridge(10, [5]float64{12, 18, 6, 18, 12}, 5.294, 4.706, 5e-4)

	var n Netlist
	v1, v2, v3 := n.Node("1"), n.Node("2"), n.Node("3")
	n.Source("b1", v1, Reference, 28, 0)
	n.Source("b2", v3, Reference, 7, 0)
	n.Resistor("r1", v1, v2, 4)
	load := n.Resistor("load", v2, Reference, 2)
	n.Resistor("r3", v2, v3, 1)
	s := solved(t, &n)
	near(t, "load voltage", s.Volts(v2), 8, 1e-12)
	near(t, "load current", s.Amps(load), 4, 1e-12)

	n.Reset() // the same with the load taken away
	v1, v2, v3 = n.Node("1"), n.Node("2"), n.Node("3")
	n.Source("b1", v1, Reference, 28, 0)
	n.Source("b2", v3, Reference, 7, 0)
	n.Resistor("r1", v1, v2, 4)
	n.Resistor("r3", v2, v3, 1)
	volts, ohms := solved(t, &n).Thevenin(v2, Reference)
	near(t, "Thevenin voltage", volts, 11.2, 1e-12)
	near(t, "Thevenin resistance", ohms, 0.8, 1e-12)
}

// OpenStax, College Physics, "Resistors in series and parallel".
func TestOpenStaxResistors(t *testing.T) {
	var n Netlist
	v1, v2 := n.Node("1"), n.Node("2")
	n.Source("battery", v1, Reference, 12, 0)
	r1 := n.Resistor("r1", v1, v2, 1)
	n.Resistor("r2", v2, Reference, 6)
	n.Resistor("r3", v2, Reference, 13)
	s := solved(t, &n)
	near(t, "current", s.Amps(r1), 2.35, 0.005)
	near(t, "voltage", s.Volts(v2), 9.65, 0.005)

	n.Reset()
	v1, v2 = n.Node("1"), n.Node("2")
	v3 := n.Node("3")
	n.Source("battery", v1, Reference, 12, 0)
	n.Resistor("r1", v1, v2, 1)
	n.Resistor("r2", v2, v3, 6)
	r3 := n.Resistor("r3", v3, Reference, 13)
	near(t, "series current", solved(t, &n).Amps(r3), 0.6, 1e-12)
}

// OpenStax, University Physics 2, "Electromotive Force": terminal voltage.
// The 11.90 V printed there for the first case is 11.88 V when computed from its values.
func TestOpenStaxTerminalVoltage(t *testing.T) {
	check := func(inner, load, wantAmps, wantVolts, tolerance float64) {
		t.Helper()
		var n Netlist
		top := n.Node("terminal")
		b := n.Source("battery", top, Reference, 12, inner)
		r := n.Resistor("load", top, Reference, load)
		s := solved(t, &n)
		near(t, "terminal voltage", s.Volts(top), wantVolts, tolerance)
		near(t, "current", s.Amps(r), wantAmps, 5e-4)
		near(t, "battery current", s.Amps(b), -wantAmps, 5e-4)
	}
	check(0.1, 10, 1.188, 11.88, 5e-3)
	check(0.1, 0.5, 20, 10, 1e-12)
	check(0.5, 0.5, 12, 6, 1e-12)
}

// Kuphaldt, volume I, "DC metering circuits": a 10 Mohm meter on the lower of
// two 250 Mohm in series across 24 V reads 0.8889 V, by its Thevenin
// equivalent as well as with the meter in the circuit.
func TestKuphaldtMeterLoading(t *testing.T) {
	var n Netlist
	top, mid := n.Node("top"), n.Node("middle")
	n.Source("battery", top, Reference, 24, 0)
	n.Resistor("upper", top, mid, 250e6)
	n.Resistor("lower", mid, Reference, 250e6)
	volts, ohms := solved(t, &n).Thevenin(mid, Reference)
	near(t, "open voltage", volts, 12, 1e-9)
	near(t, "reading", volts*10e6/(ohms+10e6), 0.8889, 5e-5)
	n.Resistor("meter", mid, Reference, 10e6)
	near(t, "reading with the meter in place", solved(t, &n).Volts(mid), 0.8889, 5e-5)
}

// A ladder of n equal sections has the input resistance z1/2 + sqrt(z1^2/4 +
// z1 z2) when n is large (The Feynman Lectures on Physics II, "AC circuits", a
// ladder network; from memory): with 1 ohm everywhere the golden ratio.
func TestLongLadder(t *testing.T) {
	var n Netlist
	in := n.Node("in")
	at := in
	for range 500 {
		next := n.Node("rung")
		n.Resistor("series", at, next, 1)
		n.Resistor("shunt", next, Reference, 1)
		at = next
	}
	_, ohms := solved(t, &n).Thevenin(in, Reference)
	near(t, "input resistance", ohms, (1+math.Sqrt(5))/2, 1e-14)
}
