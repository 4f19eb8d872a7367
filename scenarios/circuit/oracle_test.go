package circuit

import (
	"maps"
	"math"
	"math/big"
	"math/rand/v2"
	"slices"
	"testing"
)

const bits = 400 // enough that 60 unknowns from 1e-3 to 1e7 ohms are exact for a float64

func exact(x float64) *big.Float { return new(big.Float).SetPrec(bits).SetFloat64(x) }

// dense is the textbook method without any of the tricks of the package:
// modified nodal analysis with one unknown per node and one per short or ideal
// source, a full matrix and elimination with pivoting, in 400-bit arithmetic.
type dense struct {
	rows    [][]*big.Float // the last column is the right-hand side
	nodes   int
	branch  map[Element]int // unknown that is the current of a short or ideal source
	islands []int           // by node: its island's lowest node
}

func newDense(n *Netlist) *dense {
	d := &dense{nodes: n.Nodes(), branch: map[Element]int{}, islands: make([]int, n.Nodes())}
	for a := range d.islands {
		d.islands[a] = a
	}
	unknowns := d.nodes
	for changed := true; changed; {
		changed = false
		for i := range n.elements {
			e := &n.elements[i]
			if e.kind == current || math.IsInf(e.ohms, 1) {
				continue
			}
			low := min(d.islands[e.a], d.islands[e.b])
			changed = changed || d.islands[e.a] != low || d.islands[e.b] != low
			d.islands[e.a], d.islands[e.b] = low, low
		}
	}
	for i := range n.elements {
		if e := &n.elements[i]; e.kind != current && e.ohms == 0 {
			d.branch[Element(i)] = unknowns
			unknowns++
		}
	}
	d.rows = make([][]*big.Float, unknowns)
	for i := range d.rows {
		d.rows[i] = make([]*big.Float, unknowns+1)
		for j := range d.rows[i] {
			d.rows[i][j] = exact(0)
		}
	}
	for i := range n.elements {
		d.stamp(Element(i), &n.elements[i])
	}
	for a, low := range d.islands {
		if a == low { // the node everything else in the island is measured from
			for j := range d.rows[a] {
				d.rows[a][j] = exact(0)
			}
			d.rows[a][a] = exact(1)
		}
	}
	return d
}

func (d *dense) add(i, j int, x *big.Float, sign float64) {
	d.rows[i][j].Add(d.rows[i][j], new(big.Float).Mul(x, exact(sign)))
}

func (d *dense) stamp(i Element, e *element) {
	a, b, last := int(e.a), int(e.b), len(d.rows)
	one := exact(1)
	k, isBranch := d.branch[i]
	switch {
	case e.kind == current:
		d.add(a, last, exact(e.value), -1)
		d.add(b, last, exact(e.value), 1)
	case isBranch:
		d.add(a, k, one, 1)
		d.add(b, k, one, -1)
		d.add(k, a, one, 1)
		d.add(k, b, one, -1)
		d.add(k, last, exact(e.value), 1)
	case !math.IsInf(e.ohms, 1):
		g := new(big.Float).Quo(one, exact(e.ohms))
		d.add(a, a, g, 1)
		d.add(b, b, g, 1)
		d.add(a, b, g, -1)
		d.add(b, a, g, -1)
		d.add(a, last, new(big.Float).Mul(g, exact(e.value)), 1)
		d.add(b, last, new(big.Float).Mul(g, exact(e.value)), -1)
	}
}

// solve consumes the matrix.
func (d *dense) solve(t *testing.T) []*big.Float {
	t.Helper()
	m := d.rows
	for c := range m {
		best := c
		for i := c + 1; i < len(m); i++ {
			if new(big.Float).Abs(m[i][c]).Cmp(new(big.Float).Abs(m[best][c])) > 0 {
				best = i
			}
		}
		m[c], m[best] = m[best], m[c]
		if m[c][c].Sign() == 0 {
			t.Fatal("the oracle's matrix is singular")
		}
		for i := range m {
			if i == c || m[i][c].Sign() == 0 {
				continue
			}
			f := new(big.Float).Quo(m[i][c], m[c][c])
			for j := c; j < len(m[i]); j++ {
				if m[c][j].Sign() != 0 {
					m[i][j].Sub(m[i][j], new(big.Float).Mul(f, m[c][j]))
				}
			}
		}
	}
	x := make([]*big.Float, len(m))
	for i := range x {
		x[i] = new(big.Float).Quo(m[i][len(m)], m[i][i])
	}
	return x
}

func difference(x []*big.Float, a, b Node) float64 {
	v, _ := new(big.Float).Sub(x[a], x[b]).Float64()
	return v
}

// The fast solver against the dense one on random netlists of every shape.
func TestAgainstDenseOracle(t *testing.T) {
	for _, name := range slices.Sorted(maps.Keys(shapes)) {
		t.Run(name, func(t *testing.T) {
			r := rand.New(rand.NewPCG(1, 1))
			var n Netlist
			worst, worstOhms := 0.0, 0.0
			for range 25 {
				random(r, &n, shapes[name])
				s := solved(t, &n)
				d := newDense(&n)
				islands, branch := d.islands, d.branch
				x := d.solve(t)
				high := s.highest()
				for a := Reference; a < Node(n.Nodes()); a++ {
					want, _ := x[a].Float64()
					worst = math.Max(worst, math.Abs(s.Volts(a)-want)/high)
					if got, want := s.Connected(a, Reference), islands[a] == 0; got != want {
						t.Fatalf("node %d connected to the reference: %v, want %v", a, got, want)
					}
				}
				for e, k := range branch {
					want, _ := x[k].Float64()
					near(t, "current of "+n.elements[e].name, s.Amps(e), want,
						1e-9*math.Abs(want)+1e-11*high/shapes[name].low)
				}
				a, b := Node(r.IntN(n.Nodes())), Node(r.IntN(n.Nodes()))
				worstOhms = math.Max(worstOhms, compareThevenin(t, &n, s, x, islands, a, b))
			}
			t.Logf("worst error: %.2g of the highest voltage, Thevenin resistance %.2g", worst, worstOhms)
			if worst > 1e-12 || worstOhms > 1e-12 {
				t.Error("want at most 1e-12")
			}
		})
	}
}

// compareThevenin returns the relative error of the equivalent resistance.
func compareThevenin(t *testing.T, n *Netlist, s *Solution, x []*big.Float, islands []int, a, b Node) float64 {
	t.Helper()
	volts, ohms := s.Thevenin(a, b)
	if islands[a] != islands[b] {
		near(t, "voltage between islands", volts, 0, 0)
		near(t, "resistance between islands", ohms, math.Inf(1), 0)
		return 0
	}
	near(t, "open-circuit voltage", volts, difference(x, a, b), 1e-12*s.highest())
	n.Current("probe", b, a, 1)
	want := difference(newDense(n).solve(t), a, b) - difference(x, a, b)
	if math.Abs(want) < 1e-9 { // tied nodes: only the difference of two solutions is left
		near(t, "resistance of tied nodes", ohms, want, 1e-9)
		return 0
	}
	return math.Abs(ohms-want) / want
}
