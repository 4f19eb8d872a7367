package circuit

import (
	"bytes"
	"errors"
	"flag"
	"fmt"
	"maps"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"nospark/scenarios/circuit/spicetest"
)

var update = flag.Bool("update", false, "write the golden files anew")

// printed reads the lines "name = value" of ngspice.
func printed(out string) map[string]float64 {
	values := map[string]float64{}
	for line := range strings.Lines(out) {
		name, text, ok := strings.Cut(line, " = ")
		if x, err := strconv.ParseFloat(strings.TrimSpace(text), 64); ok && err == nil {
			values[strings.TrimSpace(name)] = x
		}
	}
	return values
}

// ngspice reads the exported netlists of random netlists and must find the same
// voltages, and the same currents through ideal sources.
func TestAgainstNgspice(t *testing.T) {
	const each = 25
	dir := t.TempDir()
	r := rand.New(rand.NewPCG(9, 0))
	type point struct {
		label string
		want  float64
		scale float64
	}
	var script strings.Builder
	want := map[string]point{}
	var n Netlist
	for _, name := range slices.Sorted(maps.Keys(shapes)) {
		for k := range each {
			random(r, &n, shapes[name])
			s := solved(t, &n)
			netlist := fmt.Sprintf("%s%d.cir", name, k)
			var text bytes.Buffer
			if err := n.WriteSPICE(&text, "random netlist "+netlist); err != nil {
				t.Fatal(err)
			}
			if err := os.WriteFile(filepath.Join(dir, netlist), text.Bytes(), 0o600); err != nil {
				t.Fatal(err)
			}
			fmt.Fprintf(&script, "source %s\nop\n", netlist)
			ask := func(what string, x, scale float64) {
				key := fmt.Sprintf("x%d", len(want))
				fmt.Fprintf(&script, "let %s = %s\nprint %s\n", key, what, key)
				want[key] = point{netlist + " " + what, x, scale}
			}
			names, firsts := n.SPICENodes(), n.islandTies()
			for a := Node(1); a < Node(n.Nodes()); a++ {
				if names[a] == "0" { // shorted to the reference
					near(t, "grounded node", s.Volts(a), 0, 0)
					continue
				}
				what := "v(" + names[a] + ")"
				if root := firsts.find(a); root == a && root != Reference {
					continue
				} else if root != Reference { // SPICE's rounding may lift the island as a whole
					what += " - v(" + names[root] + ")"
				}
				ask(what, s.Volts(a), s.highest())
			}
			for i := range n.elements {
				if e := &n.elements[i]; e.kind == source && e.ohms == 0 {
					amps := s.Amps(Element(i))
					ask("i("+strings.ToLower(n.SPICEElement(Element(i)))+")", amps,
						math.Abs(amps)+1e-6*s.highest()/shapes[name].low)
				}
			}
			script.WriteString("remcirc\ndestroy all\n")
		}
	}
	got := printed(spicetest.Run(t, dir, script.String()))
	worst, where := 0.0, ""
	for key, p := range want {
		x, ok := got[key]
		if !ok {
			t.Fatalf("ngspice did not print %s", p.label)
		}
		if off := math.Abs(x-p.want) / p.scale; off > worst {
			worst, where = off, p.label
		}
	}
	t.Logf("%d values of %d netlists; worst relative difference %.2g (%s)", len(want), each*len(shapes), worst, where)
	if worst > 1e-6 {
		t.Error("want at most 1e-6")
	}
}

// A meter in the netlist reads what the Thevenin equivalent says.
func TestMeterInSPICE(t *testing.T) {
	var n Netlist
	probe := vehicle(&n)
	s := solved(t, &n)
	names := n.SPICENodes()
	dir := t.TempDir()
	var script strings.Builder
	want := map[string]float64{}
	for i, meter := range []float64{10, 48, 10e6} {
		a, b := probe[i], probe[i+1]
		var netlist bytes.Buffer
		if err := n.WriteSPICE(&netlist, "meter", fmt.Sprintf("Rmeter %s %s %g", names[a], names[b],
			meter)); err != nil {
			t.Fatal(err)
		}
		file := fmt.Sprintf("meter%d.cir", i)
		if err := os.WriteFile(filepath.Join(dir, file), netlist.Bytes(), 0o600); err != nil {
			t.Fatal(err)
		}
		volts, ohms := s.Thevenin(a, b)
		key := fmt.Sprintf("x%d", i)
		want[key] = volts * meter / (ohms + meter)
		fmt.Fprintf(&script, "source %s\nop\nlet %s = v(%s) - v(%s)\nprint %s\n", file, key, names[a], names[b], key)
	}
	got := printed(spicetest.Run(t, dir, script.String()))
	for key, x := range want {
		near(t, key, got[key], x, 1e-9*math.Abs(x))
	}
}

// The netlist itself, with every special case, as a person reads it.
func TestSPICENetlist(t *testing.T) {
	var n Netlist
	plus, post, feed := n.Node("battery + post"), n.Node("post, \"again\"\n.end"), n.Node("Ω feed")
	lost, isle := n.Node("lost"), n.Node("isle with a name that is far too long")
	n.Source("battery", plus, Reference, 12.6, 0.006)
	n.Resistor("clamp", post, plus, 0)
	n.Resistor("fuse 10 A", post, feed, 0.003)
	n.Resistor("lamp", feed, Reference, 1/0.3)
	n.Resistor("broken wire", feed, isle, math.Inf(1))
	n.Source("supply", isle, lost, 5, 0)
	n.Source("supply again", isle, lost, 5, 0)
	n.Resistor("loop", plus, post, 7)
	n.Current("starter", post, Reference, 150)
	n.Node("nothing here")
	var netlist bytes.Buffer
	if err := n.WriteSPICE(&netlist, "a lamp\non a battery", "Rmeter "+n.SPICENodes()[feed]+" 0 10e6"); err != nil {
		t.Fatal(err)
	}
	golden := filepath.Join("testdata", "netlist.cir")
	if *update {
		if err := os.WriteFile(golden, netlist.Bytes(), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(golden)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(netlist.Bytes(), want) {
		t.Errorf("got:\n%s\nwant:\n%s", netlist.Bytes(), want)
	}
}

type fullDisk struct{}

func (fullDisk) Write([]byte) (int, error) { return 0, errors.New("disk full") }

func TestSPICEErrors(t *testing.T) {
	var n Netlist
	if err := n.WriteSPICE(fullDisk{}, "title"); err == nil || err.Error() != "disk full" {
		t.Errorf("got %v, want the writer's error", err)
	}
	n.Resistor("bad", 0, 0, -1)
	if err := n.WriteSPICE(new(bytes.Buffer), "title"); err == nil {
		t.Error("a negative resistance was exported")
	}
}
