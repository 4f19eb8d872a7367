package vehicle

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"nospark/scenarios/circuit"
	"nospark/scenarios/circuit/spicetest"
	"nospark/scenarios/pack"
	"nospark/scenarios/pack/packtest"
	"nospark/scenarios/testrun"
)

// settled is one phase of one state as this package solved it.
type settled struct {
	label string
	body  []string
	names []string
	volts []float64 // by netlist node
	root  []int     // by netlist node: the first of its island, from which its voltage counts
}

// each lists the phases of a state, each once.
func (st *state) each() []*solved {
	var list []*solved
	add := func(s *solved) {
		if !slices.Contains(list, s) {
			list = append(list, s)
		}
	}
	for _, ph := range st.mean {
		add(ph.solved)
	}
	st.instants(add)
	return list
}

// catalog collects every distinct phase of a pack's vehicles.
type catalog struct {
	list []settled
	seen map[string]bool
	all  int
}

func (c *catalog) add(t *testing.T, v *Vehicle, st *state, label string) {
	t.Helper()
	var scratch wiring
	for k, p := range st.each() {
		c.all++
		v.build(&st.setup, &st.on, p.phase, &scratch)
		body, err := v.pool.net.SPICECards()
		if err != nil {
			t.Fatalf("%s: %v", label, err)
		}
		text := strings.Join(body, "\n")
		if c.seen[text] {
			continue
		}
		c.seen[text] = true
		s := settled{label: fmt.Sprintf("%s phase %d", label, k+1), body: body, names: v.pool.net.SPICENodes(),
			root: make([]int, v.pool.net.Nodes())}
		for a := range circuit.Node(v.pool.net.Nodes()) {
			s.volts = append(s.volts, p.Volts(a))
			for s.root[a] = 0; !p.Connected(circuit.Node(s.root[a]), a); s.root[a]++ {
			}
		}
		c.list = append(c.list, s)
	}
}

// severities are the ends and the middle of a fault's range.
func severities(f pack.Fault) []float64 {
	if f.Ranged() {
		return []float64{0, 0.5, 1}
	}
	return []float64{0.5}
}

// Every phase in which a vehicle of a built-in pack can settle, with every fault, mild, middling and severe, in every
// condition, with everything connected; and of the tests that unplug something or put a lamp in, all with the healthy
// vehicle and every eighth, another one from fault to fault, with the others: all nodes' voltages as ngspice finds them
// from the exported netlist.
//
// Differences are relative to the voltage or to a millivolt, whichever is more: the last digit of the finest range of
// the meters is 1 mV, so less than a millionth of it shows nowhere, and below lie the roundings of both programs at
// voltages of ten volts.
func TestEveryStateAgreesWithNgspice(t *testing.T) {
	testrun.Slow(t, "asks ngspice for every state")
	const floor = 1e-3
	const perFile = 40
	c := catalog{seen: map[string]bool{}}
	for _, name := range packtest.Packs(t) {
		p, err := pack.Load(name)
		if err != nil {
			t.Fatal(err)
		}
		visit := func(v *Vehicle, label string, arranged func(i int) bool) {
			v.blowFuses()
			for i := range p.Conditions {
				c.add(t, v, v.plain(i), name+" "+label+" "+p.Conditions[i].ID)
			}
			for i := range p.Tests { // what unplugging and lamps make of it
				if test := &p.Tests[i]; !arranged(i) {
					continue
				} else if test.Isolate {
					c.add(t, v, v.onTheTable(test), name+" "+label+" "+test.ID)
				} else if st := v.state(test); st.setup.gone != nil || st.setup.lamp.ohms > 0 {
					c.add(t, v, st, name+" "+label+" "+test.ID)
				}
			}
			if v.err != nil {
				t.Errorf("%s %s: %v", name, label, v.err)
			}
		}
		visit(Healthy(p), "healthy", func(int) bool { return true })
		for k, f := range p.Faults {
			for _, severity := range severities(f) {
				v := Healthy(p)
				v.Apply(f, severity)
				visit(v, fmt.Sprintf("%s at %g", f.ID, severity), func(i int) bool {
					return severity == 0.5 &&
						i%8 == k%8
				})
			}
		}
	}
	var netlists []string
	for group := range slices.Chunk(c.list, perFile) {
		var text strings.Builder
		text.WriteString("phases\n")
		for k, s := range group {
			fmt.Fprintf(&text, ".subckt p%d free\nRfree free 0 1\n%s\n.ends\nX%d free%d p%d\n", k,
				strings.Join(s.body, "\n"), k,
				k, k)
		}
		text.WriteString(".end\n")
		netlists = append(netlists, text.String())
	}
	worst, where, values := 0.0, "", 0
	for i, got := range spicetest.OperatingPoints(t, netlists) {
		for k, s := range c.list[i*perFile : min((i+1)*perFile, len(c.list))] {
			at := func(a int) float64 {
				if s.names[a] == "0" {
					return 0
				}
				return got[fmt.Sprintf("x%d.%s", k, s.names[a])]
			}
			for a := range s.volts {
				if _, printed := got[fmt.Sprintf("x%d.%s", k, s.names[a])]; !printed {
					if s.root[a] != a && s.names[a] != "0" && s.names[a] != s.names[s.root[a]] {
						t.Errorf("%s: ngspice did not print %s", s.label, s.names[a])
					}
					continue // nothing is connected there, or it is the reference itself
				}
				values++
				// ngspice hangs an island on a leak that carries its rounding, so only differences within an island
				// count
				off := math.Abs(at(a)-at(s.root[a])-s.volts[a]) / math.Max(floor, math.Abs(s.volts[a]))
				if off > worst {
					worst, where = off, s.label+" "+s.names[a]
				}
			}
		}
	}
	t.Logf("%d phases, %d distinct, %d voltages against ngspice; worst relative difference %.2g (%s)", c.all,
		len(c.list),
		values, worst, where)
	if !(worst <= 1e-6) {
		t.Error("want at most 1e-6")
	}
	if values < 1000 {
		t.Errorf("only %d voltages were compared", values)
	}
}
