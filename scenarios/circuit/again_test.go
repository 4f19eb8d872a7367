package circuit

import (
	"math/rand/v2"
	"slices"
	"testing"
)

// What a netlist remembers of earlier solutions shows in none: solved again as it is, with other sources, with other
// resistances, and cut back and built again, it gives to the last bit what a new netlist gives.
func TestSolvedAgain(t *testing.T) {
	eachRandom(t, 7, func(t *testing.T, r *rand.Rand, n *Netlist, s *Solution) {
		again := func(what string) {
			t.Helper()
			fresh := Netlist{names: slices.Clone(n.names), elements: slices.Clone(n.elements)}
			want, err := fresh.Solve()
			got, errAgain := n.Solve()
			if (err == nil) != (errAgain == nil) {
				t.Fatalf("%s: %v, %v when new", what, errAgain, err)
			}
			if err != nil {
				return
			}
			for a := range Node(n.Nodes()) {
				b := Node(r.IntN(n.Nodes()))
				volts, ohms := got.Thevenin(a, b)
				wantVolts, wantOhms := want.Thevenin(a, b)
				if got.Volts(a) != want.Volts(a) || volts != wantVolts || ohms != wantOhms {
					t.Errorf("%s: node %d at %g V, %g when new; %g V behind %g ohms to %d, %g behind %g when new", what,
						a, got.Volts(a), want.Volts(a), volts, ohms, b, wantVolts, wantOhms)
				}
			}
			for e := range n.elements {
				got, want := got.Amps(Element(e)), want.Amps(Element(e))
				if got != want && (got == got || want == want) { // around a loop of shorts both are NaN
					t.Errorf("%s: %g A through element %d, %g when new", what, got, e, want)
				}
			}
		}
		again("as it is")
		for e := range n.elements {
			if k := n.elements[e].kind; k == source || k == current {
				n.SetValue(Element(e), 2*n.elements[e].value)
			}
		}
		again("other sources")
		for e := range n.elements {
			n.elements[e].ohms *= 3
		}
		again("other resistances")
		half := len(n.elements) / 2
		rest := slices.Clone(n.elements[half:])
		n.Rewind(n.Nodes(), half)
		again("cut back")
		for _, e := range rest {
			n.add(e.kind, e.name, e.a, e.b, e.value, e.ohms)
		}
		again("built again")
	})
}
