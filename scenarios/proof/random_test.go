package proof

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"nospark/scenarios/pack"
)

// net is a random network of a battery, wires and loads, with a voltmeter at every point.
type net struct {
	points int
	parts  []branch // the first is the battery, from point 1 to the reference, point 0
}

type branch struct {
	kind string
	a, b int
	ohms float64
}

const (
	volts      = 12.0
	meterOhms  = 10e6 // of the voltmeter, as its manual has it
	bandBelow  = 3.0
	littleOdds = 1e-6 // readings as near to the edge of a band as this are not compared
)

func randomNet(r *rand.Rand) net {
	n := net{points: 4 + r.IntN(4), parts: []branch{{"battery", 1, 0, 0.1}}}
	add := func(a, b int) {
		if a == b {
			return
		}
		if r.IntN(2) == 0 {
			n.parts = append(n.parts, branch{"wire", a, b, 0.01 + r.Float64()})
		} else {
			n.parts = append(n.parts, branch{"resistor", a, b, 1 + 20*r.Float64()})
		}
	}
	for p := 2; p < n.points; p++ {
		add(p, r.IntN(p))
	}
	for range 1 + r.IntN(4) {
		add(r.IntN(n.points), r.IntN(n.points))
	}
	return n
}

// pack writes the network down, with one part open as its only fault.
func (n net) pack(opened int) string {
	var b strings.Builder
	fmt.Fprint(&b, "name = \"net\"\ntitle = \"net\"\nversion = 1\nreference = \"p0\"\n")
	for p := range n.points {
		fmt.Fprintf(&b, "[[point]]\nid = \"p%d\"\n", p)
	}
	fmt.Fprint(&b, "[[condition]]\nid = \"on\"\nkey = \"run\"\n[[condition]]\nid = \"off\"\nkey = \"off\"\n")
	for i, q := range n.parts {
		fmt.Fprintf(&b, "[[part]]\nid = \"x%d\"\nkind = %q\npins = [\"p%d\", \"p%d\"]\nresistance_ohms = %.17g\n",
			i, q.kind, q.a, q.b, q.ohms)
		if q.kind == "battery" {
			fmt.Fprintf(&b, "emf_volts = %g\n", volts)
		}
	}
	fmt.Fprint(&b, "[[complaint]]\nid = \"odd\"\nlabel = \"odd\"\nwhen = { any_abnormal = true }\n")
	for p := 1; p < n.points; p++ {
		for _, condition := range []string{"on", "off"} {
			fmt.Fprintf(&b, "[[test]]\nid = \"v%d-%s\"\nlabel = \"v\"\ninstrument = \"voltmeter\"\n"+
				"red = \"p%d\"\nblack = \"p0\"\ncondition = %q\nminutes = 1\n"+
				"bands = [{ name = \"low\", below = %g }, { name = \"high\" }]\nnormal = [\"high\"]\n",
				p, condition, p, condition, bandBelow)
		}
	}
	fmt.Fprintf(&b, "[[fault]]\nid = \"open\"\nlabel = \"open\"\nset = [{ part = \"x%d\", resistance_ohms = \"open\" "+
		"}]\n"+
		"weight = 1\nrepair = \"r\"\n", opened)
	fmt.Fprint(&b, "[[repair]]\nid = \"r\"\nlabel = \"r\"\nminutes = 1\n")
	return b.String()
}

// read is the voltage at a point with the meter on it, by nodal analysis and Gaussian elimination. It shares nothing
// with the program. A branch of infinite ohms is left out; what hangs on nothing is held by the meter, or by a
// resistance too large to matter.
func read(points int, parts []branch, at int) float64 {
	g := make([][]float64, points)
	for i := range g {
		g[i] = make([]float64, points+1)
		g[i][i] = 1e-15
	}
	g[at][at] += 1 / meterOhms
	for _, q := range parts {
		y := 1 / q.ohms
		g[q.a][q.a] += y
		g[q.b][q.b] += y
		g[q.a][q.b] -= y
		g[q.b][q.a] -= y
		if q.kind == "battery" {
			g[q.a][points] += volts * y
			g[q.b][points] -= volts * y
		}
	}
	g[0] = make([]float64, points+1)
	g[0][0] = 1
	for i := range g {
		most := i
		for k := i; k < points; k++ {
			if math.Abs(g[k][i]) > math.Abs(g[most][i]) {
				most = k
			}
		}
		g[i], g[most] = g[most], g[i]
		for k := range g {
			if k == i {
				continue
			}
			f := g[k][i] / g[i][i]
			for c := i; c <= points; c++ {
				g[k][c] -= f * g[i][c]
			}
		}
	}
	return g[at][points] / g[at][at]
}

// felt tells whether the reading at a pin of a part falls into another band when the pin is cut off or has 3 ohm in it,
// the lead staying on the part's side. sure is false where a reading lies on the edge of a band.
func (n net) felt(opened, part, end int) (changes, sure bool) {
	parts := slices.Clone(n.parts)
	parts[opened].ohms = math.Inf(1)
	at := [2]int{parts[part].a, parts[part].b}[end]
	now := read(n.points, parts, at)
	sure = math.Abs(now-bandBelow) > littleOdds
	for _, ohms := range []float64{math.Inf(1), 3} {
		changed := append(slices.Clone(parts), branch{"wire", at, n.points, ohms})
		if end == 0 {
			changed[part].a = n.points
		} else {
			changed[part].b = n.points
		}
		then := read(n.points+1, changed, n.points)
		sure = sure && math.Abs(then-bandBelow) > littleOdds
		changes = changes || (now < bandBelow) != (then < bandBelow)
	}
	return changes, sure
}

// Brute force on small random packs: what satisfies the check of a pin, against a second solver.
func TestRandomPacksByBruteForce(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 5))
	ends, needs, proven := 0, 0, 0
	for range 300 {
		n := randomNet(r)
		opened := 1 + r.IntN(len(n.parts)-1)
		p, err := pack.Parse("net.toml", []byte(n.pack(opened)))
		if err != nil {
			t.Fatal(err)
		}
		m := matrix(t, p)
		list := Of(p, m)[0]
		q := n.parts[opened]
		parts := slices.Clone(n.parts)
		parts[opened].ohms = math.Inf(1)
		low := func(at int) bool { return read(n.points, parts, at) < bandBelow }
		for end, at := range []int{q.a, q.b} {
			if q.kind == "wire" && at <= 1 || at == 0 { // posts: owed nothing, or nothing to measure
				continue
			}
			changes, sure := n.felt(opened, opened, end)
			if !sure {
				continue
			}
			what, want := "end", []string{}
			if q.kind == "resistor" {
				what = []string{"feed", "ground"}[end]
				if low(at) { // an abnormal reading proves no feed
					changes = false
				}
				needs++
			} else {
				ends++
				changes = changes || low(at)
			}
			if changes {
				want = []string{fmt.Sprintf("v%d-on", at), fmt.Sprintf("v%d-off", at)}
				proven++
			}
			if what == "feed" && changes { // key-off volts prove none
				want = want[:1]
			}
			i := slices.IndexFunc(list, func(c Check) bool { return c.What == what && c.Point == at })
			var got []string
			if i >= 0 {
				for _, test := range list[i].Tests {
					got = append(got, p.Tests[test].ID)
				}
			}
			if !slices.Equal(got, want) {
				t.Errorf("%v, part %d open: %s at point %d: %v, want %v", n, opened, what, at, got, want)
			}
		}
	}
	t.Logf("%d ends and %d needs, %d of them with a test", ends, needs, proven)
	if ends < 100 || needs < 100 || proven < 100 {
		t.Error("too few to mean something")
	}
}
