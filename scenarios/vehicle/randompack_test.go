package vehicle

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"nospark/scenarios/pack"
	"nospark/scenarios/testrun"
)

// network is a random resistor network written twice: as a pack and, by other code, as a SPICE netlist.
type network struct {
	points int
	parts  []netPart
}

type netPart struct {
	kind string // battery, wire, resistor, switch
	a, b int
	ohms float64
	emf  float64
}

// randomNetwork connects all points by a tree and adds a few more branches.
func randomNetwork(r *rand.Rand) network {
	n := network{points: 4 + r.IntN(8)}
	n.parts = append(n.parts, netPart{"battery", 1, 0, 0.01 + r.Float64(), 6 + 12*r.Float64()})
	kinds := []string{"wire", "resistor", "switch"}
	add := func(a, b int) {
		n.parts = append(n.parts, netPart{kinds[r.IntN(3)], a, b, math.Pow(10, -2+6*r.Float64()), 0})
	}
	for p := 2; p < n.points; p++ {
		add(p, r.IntN(p))
	}
	for range 3 + r.IntN(5) {
		if a, b := r.IntN(n.points), r.IntN(n.points); a != b {
			add(a, b)
		}
	}
	return n
}

// pack writes the network with the keys of the smallest pack only: a voltmeter at every point, an ohmmeter on every
// resistor.
func (n network) pack(opened int) string {
	var b strings.Builder
	fmt.Fprintf(&b, "name = \"net\"\ntitle = \"net\"\nversion = 1\nreference = \"p0\"\n")
	for p := range n.points {
		fmt.Fprintf(&b, "[[point]]\nid = \"p%d\"\n", p)
	}
	fmt.Fprintf(&b, "[[condition]]\nid = \"on\"\nkey = \"run\"\n[[condition]]\nid = \"off\"\nkey = \"off\"\n")
	for i, q := range n.parts {
		fmt.Fprintf(&b, "[[part]]\nid = \"x%d\"\nkind = %q\npins = [\"p%d\", \"p%d\"]\nresistance_ohms = %g\n", i,
			q.kind,
			q.a, q.b, q.ohms)
		switch q.kind {
		case "battery":
			fmt.Fprintf(&b, "emf_volts = %g\n", q.emf)
		case "switch":
			fmt.Fprintf(&b, "closed_in = [\"run\"]\n")
		}
	}
	fmt.Fprintf(&b, "[[complaint]]\nid = \"odd\"\nlabel = \"odd\"\nwhen = { any_abnormal = true }\n")
	bands := "bands = [{ name = \"normal\", below = 1.0 }, { name = \"high\" }]\nnormal = [\"normal\"]\n"
	for p := 1; p < n.points; p++ {
		fmt.Fprintf(&b,
			"[[test]]\nid = \"v%d\"\nlabel = \"v\"\ninstrument = \"voltmeter\"\nred = \"p%d\"\nblack = "+
				"\"p0\"\ncondition = \"on\"\nminutes = 1\n%s", p, p, bands)
	}
	fmt.Fprintf(&b,
		"[[fault]]\nid = \"open\"\nlabel = \"open\"\nset = [{ part = \"x%d\", resistance_ohms = \"open\" }]\nweight "+
			"= 1\nrepair = \"r\"\n", opened)
	fmt.Fprintf(&b,
		"[[fault]]\nid = \"short\"\nlabel = \"short\"\nset = [{ part = \"x%d\", resistance_ohms = \"short\" "+
			"}]\nweight = 1\nrepair = \"r\"\n", opened)
	fmt.Fprintf(&b, "[[repair]]\nid = \"r\"\nlabel = \"r\"\nminutes = 1\n")
	return b.String()
}

// netlist writes the network for ngspice with a 10 Mohm meter at one point. ohms replaces the resistance of part
// changed.
func (n network) netlist(meter, changed int, ohms float64) string {
	var b strings.Builder
	fmt.Fprintf(&b, "net\n")
	for i, q := range n.parts {
		value := q.ohms
		if i == changed {
			value = ohms
		}
		if q.kind == "battery" {
			fmt.Fprintf(&b, "V%d s%d %d %.17g\nR%d s%d %d %.17g\n", i, i, q.b, q.emf, i, i, q.a, value)
		} else if !math.IsInf(value, 1) {
			fmt.Fprintf(&b, "R%d %d %d %.17g\n", i, q.a, q.b, value)
		}
	}
	for p := 1; p < n.points; p++ { // keeps cut-off points solvable, far above the meter
		fmt.Fprintf(&b, "RL%d %d 0 1e15\n", p, p)
	}
	fmt.Fprintf(&b,
		"RM %d 0 1e7\n.options reltol=1e-9 abstol=1e-15 vntol=1e-12\n.control\nset numdgt=15\nop\nprint "+
			"v(%d)\n.endc\n.end\n",
		meter, meter)
	return b.String()
}

var printed = regexp.MustCompile(`v\(\d+\) = ([-+.eE\d]+)`)

// Source of the reference values: ngspice, operating point, one run per reading.
func TestRandomPacksAgreeWithNgspice(t *testing.T) {
	testrun.Program(t, "ngspice")
	r := rand.New(rand.NewPCG(7, 11))
	worst, count := 0.0, 0
	for round := range testrun.Times(t, 8, 3) {
		n := randomNetwork(r)
		opened := 1 + r.IntN(len(n.parts)-1)
		p, err := pack.Parse("net.toml", []byte(n.pack(opened)))
		if err != nil {
			t.Fatalf("round %d: %v", round, err)
		}
		for _, c := range []struct {
			fault int
			ohms  float64
		}{{-1, n.parts[opened].ohms}, {0, math.Inf(1)}, {1, 1e-9}} {
			v := Healthy(p)
			if c.fault >= 0 {
				v.Apply(p.Faults[c.fault], 0.5)
			}
			for test := range p.Tests {
				got, want := v.Read(test).Number, spice(t, n.netlist(test+1, opened, c.ohms))
				diff := math.Abs(got-want) / math.Max(math.Abs(want), 1e-6)
				worst, count = math.Max(worst, diff), count+1
				if diff > 1e-6 {
					t.Errorf("round %d, fault %d, v%d: %.12g V, ngspice %.12g V", round, c.fault, test+1, got, want)
				}
			}
		}
	}
	t.Logf("%d readings, worst relative difference %.1e", count, worst)
}

func spice(t *testing.T, netlist string) float64 {
	t.Helper()
	file := filepath.Join(t.TempDir(), "net.cir")
	if err := os.WriteFile(file, []byte(netlist), 0o644); err != nil {
		t.Fatal(err)
	}
	out, err := exec.Command("ngspice", "-b", file).CombinedOutput()
	found := printed.FindSubmatch(out)
	if found == nil {
		t.Fatalf("ngspice: %v\n%s\n%s", err, out, netlist)
	}
	x, err := strconv.ParseFloat(string(found[1]), 64)
	if err != nil {
		t.Fatal(err)
	}
	return x
}
