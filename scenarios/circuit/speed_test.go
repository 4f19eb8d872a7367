package circuit

import (
	"math"
	"testing"
)

// vehicle builds a circuit of the size and shape a wiring diagram has: 45
// nodes and 64 elements, nearly a tree, a battery, an ideal regulated supply,
// fuses and wires in series, loads to ground, sensors with pull-ups, two opens
// and two shorts.
func vehicle(n *Netlist) (probe [4]Node) {
	n.Reset()
	var at [45]Node
	for i := 1; i < len(at); i++ {
		at[i] = n.Node("point")
	}
	n.Source("battery", at[1], at[2], 12.6, 0.006)
	n.Resistor("strap", at[2], Reference, 0.002)
	n.Resistor("main fuse", at[1], at[3], 0.003)
	n.Resistor("switch", at[3], at[4], 0.01)
	for branch := range 8 { // feed, fuse, connector, load, ground wire
		p := 5 + 4*branch
		n.Resistor("feed", at[3+branch%2], at[p], 0.02)
		n.Resistor("connector", at[p], at[p+1], 0.005*float64(branch%4))
		n.Resistor("load", at[p+1], at[p+2], 2+30*float64(branch*branch))
		n.Resistor("ground wire", at[p+2], at[p+3], 0.01)
		if branch%2 == 0 {
			n.Resistor("ground", at[p+3], Reference, 0.005)
		} else {
			n.Resistor("shared ground", at[p+3], at[p-1], 0.005)
		}
		leak := 1e7
		if branch >= 6 {
			leak = math.Inf(1)
		}
		n.Resistor("leak", at[p+1], Reference, leak)
	}
	n.Source("regulator", at[37], at[8], 5, 0)
	n.Resistor("supply", at[5], at[37], 1500)
	for sensor := range 3 {
		p := 38 + 2*sensor
		n.Resistor("pull-up", at[37], at[p], 1000)
		n.Resistor("signal wire", at[p], at[p+1], 0.05)
		n.Resistor("sensor", at[p+1], at[12+4*sensor], 2500)
	}
	n.Resistor("starter", at[1], at[44], 1e-3)
	n.Resistor("stator", at[44], Reference, 0.06)
	return [4]Node{at[1], at[7], at[39], at[44]}
}

func BenchmarkBuildAndSolve(b *testing.B) {
	var n Netlist
	var s Solution
	b.ReportAllocs()
	for b.Loop() {
		vehicle(&n)
		if err := n.SolveInto(&s); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkSolveFresh(b *testing.B) {
	var n Netlist
	vehicle(&n)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := n.Solve(); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkThevenin(b *testing.B) {
	var n Netlist
	probe := vehicle(&n)
	s, err := n.Solve()
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	for b.Loop() {
		s.Thevenin(probe[1], probe[2])
	}
}
