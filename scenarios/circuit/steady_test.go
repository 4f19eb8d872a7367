package circuit

import (
	"math/rand/v2"
	"testing"

	"nospark/scenarios/circuit/transient"
)

// The steady state in time is the operating point of the same Netlist.
func TestSteadyStateInTime(t *testing.T) {
	r := rand.New(rand.NewPCG(10, 0))
	var n Netlist
	for range 100 {
		random(r, &n, shapes["moderate"])
		s := solved(t, &n)
		var c transient.Circuit
		probes := []transient.Probe{}
		for a := Node(1); a < Node(n.Nodes()); a++ {
			c.Node(n.Name(a))
			probes = append(probes, transient.VoltsOf(transient.Node(a), transient.Reference))
		}
		for i := range n.elements {
			switch e := &n.elements[i]; e.kind {
			case resistor:
				c.Resistor(e.name, transient.Node(e.a), transient.Node(e.b), e.ohms)
			case source:
				c.Source(e.name, transient.Node(e.a), transient.Node(e.b), transient.Steady(e.value), e.ohms)
			case current:
				c.Current(e.name, transient.Node(e.a), transient.Node(e.b), transient.Steady(e.value))
			}
			probes = append(probes, transient.AmpsOf(transient.Element(i)))
		}
		for range 3 { // these must not matter
			c.Capacitor("capacitor", transient.Node(r.IntN(n.Nodes())), transient.Node(r.IntN(n.Nodes())), 1e-6)
		}
		tr, err := c.Run(transient.Options{Until: 1e-6, FixedStep: 1e-6, FromSteady: true}, probes...)
		if err != nil {
			t.Fatal(err)
		}
		for a := Node(1); a < Node(n.Nodes()); a++ {
			near(t, "volts", tr.Value[a-1][0], s.Volts(a), 1e-6*s.highest())
		}
		for i := range n.elements {
			near(t, "amps", tr.Value[n.Nodes()-1+i][0], s.Amps(Element(i)), 1e-6*(1+s.highest()))
		}
	}
}
