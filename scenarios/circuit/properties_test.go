package circuit

import (
	"maps"
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

// eachRandom runs check on random netlists of every shape.
func eachRandom(t *testing.T, seed uint64, check func(t *testing.T, r *rand.Rand, n *Netlist, s *Solution)) {
	t.Helper()
	for _, name := range slices.Sorted(maps.Keys(shapes)) {
		t.Run(name, func(t *testing.T) {
			r := rand.New(rand.NewPCG(seed, 0))
			var n Netlist
			for range 200 {
				random(r, &n, shapes[name])
				check(t, r, &n, solved(t, &n))
				if t.Failed() {
					return
				}
			}
		})
	}
}

// The currents at every node sum to zero, but for the rounding of voltages
// across the smallest resistance at that node.
func TestKirchhoffCurrentLaw(t *testing.T) {
	eachRandom(t, 2, func(t *testing.T, r *rand.Rand, n *Netlist, s *Solution) {
		sum := make([]float64, n.Nodes())
		slack := make([]float64, n.Nodes())
		for i := range n.elements {
			e, amps := &n.elements[i], s.Amps(Element(i))
			sum[e.a] += amps
			sum[e.b] -= amps
			for _, a := range []Node{e.a, e.b} {
				slack[a] += 1e-12 * math.Abs(amps)
				if e.conducts() && e.ohms > 0 {
					slack[a] += 1e-14 * s.highest() / e.ohms
				}
			}
		}
		// A short passes on the rounding of the nodes at its other end.
		total := 0.0
		for _, x := range slack {
			total += x
		}
		for a := range sum {
			near(t, "sum of currents at "+n.Name(Node(a)), sum[a], 0, total)
		}
	})
}

// The voltage law per element: the two nodes differ by what the current
// through the element makes of its resistance and its source.
func TestOhmsLawOfEveryElement(t *testing.T) {
	eachRandom(t, 3, func(t *testing.T, r *rand.Rand, n *Netlist, s *Solution) {
		for i := range n.elements {
			e, amps := &n.elements[i], s.Amps(Element(i))
			if e.conducts() {
				near(t, "voltage of "+e.name, s.Between(e.a, e.b), e.volts()+amps*e.ohms, 1e-12*s.highest())
			} else if e.kind == resistor {
				near(t, "current of the open "+e.name, amps, 0, 0)
			}
		}
	})
}

// What the sources deliver is what the resistances turn into heat.
func TestPowerBalance(t *testing.T) {
	eachRandom(t, 4, func(t *testing.T, r *rand.Rand, n *Netlist, s *Solution) {
		delivered, heat, moved := 0.0, 0.0, 0.0
		for i := range n.elements {
			e, amps := &n.elements[i], s.Amps(Element(i))
			switch {
			case e.kind == current:
				delivered -= amps * s.Between(e.a, e.b)
				moved += math.Abs(amps * s.Between(e.a, e.b))
			case e.conducts():
				delivered -= amps * e.value
				heat += amps * amps * e.ohms
				moved += math.Abs(amps * e.value)
			}
		}
		near(t, "power delivered", delivered, heat, 1e-9*(moved+heat)+1e-9)
	})
}

// The voltages with all sources are the sums of those with one source each,
// the others replaced by their series resistance or nothing.
func TestSuperposition(t *testing.T) {
	eachRandom(t, 5, func(t *testing.T, r *rand.Rand, n *Netlist, s *Solution) {
		sum := make([]float64, n.Nodes())
		scale := s.highest()
		var one Netlist
		for i := range n.elements {
			if n.elements[i].value == 0 {
				continue
			}
			one.Reset()
			one.names = append(one.names, n.names...)
			for j, e := range n.elements {
				if i != j {
					e.value = 0
				}
				one.elements = append(one.elements, e)
			}
			part := solved(t, &one)
			scale = math.Max(scale, part.highest())
			for a := range sum {
				sum[a] += part.Volts(Node(a))
			}
		}
		for a := range sum {
			near(t, "volts of "+n.Name(Node(a)), sum[a], s.Volts(Node(a)), 1e-11*scale)
		}
	})
}

// pair draws two nodes of one island.
func pair(r *rand.Rand, s *Solution) (a, b Node) {
	for {
		a, b = Node(r.IntN(len(s.volts))), Node(r.IntN(len(s.volts)))
		if s.Connected(a, b) {
			return a, b
		}
	}
}

// A current forced through one pair of nodes raises another pair by as much as
// the same current through the other pair raises the first.
func TestReciprocity(t *testing.T) {
	eachRandom(t, 6, func(t *testing.T, r *rand.Rand, n *Netlist, s *Solution) {
		a, b := pair(r, s)
		c, d := pair(r, s)
		for i := range n.elements {
			n.elements[i].value = 0
		}
		force := n.Current("force", b, a, 1)
		first := solved(t, n)
		n.elements[force].a, n.elements[force].b = d, c
		second := solved(t, n)
		near(t, "transfer resistance", first.Between(c, d), second.Between(a, b),
			1e-12*math.Max(first.highest(), second.highest()))
	})
}

// The Thevenin equivalent predicts what any load does, from a dead short to a
// meter: the voltage and the current with the load in place.
func TestTheveninPredictsLoads(t *testing.T) {
	eachRandom(t, 7, func(t *testing.T, r *rand.Rand, n *Netlist, s *Solution) {
		a, b := Node(r.IntN(n.Nodes())), Node(r.IntN(n.Nodes()))
		if a == b {
			return
		}
		volts, ohms := s.Thevenin(a, b)
		load := logUniform(r, 1e-3, 1e7)
		e := n.Resistor("load", a, b, load)
		after := solved(t, n)
		want := volts / (ohms + load)
		near(t, "load current", after.Amps(e), want, 1e-9*math.Abs(want)+1e-12*s.highest()/load)
		near(t, "load voltage", after.Between(a, b), want*load, 1e-9*math.Abs(want*load)+1e-12*s.highest())
		if !s.Connected(a, b) {
			near(t, "voltage between islands", after.Between(a, b), 0, 1e-12*s.highest())
		}
	})
}

// A solution stays as it was when its netlist is changed and solved again, and
// memory used again gives the same numbers as fresh memory.
func TestSolutionsAreIndependent(t *testing.T) {
	r := rand.New(rand.NewPCG(8, 0))
	var n Netlist
	var reused Solution
	for range 50 {
		for _, name := range slices.Sorted(maps.Keys(shapes)) {
			random(r, &n, shapes[name])
			fresh := solved(t, &n)
			volts, amps := slices.Clone(fresh.volts), slices.Clone(fresh.amps)
			if err := n.SolveInto(&reused); err != nil {
				t.Fatal(err)
			}
			other := n
			other.work = workspace{}
			n.Resistor("another", 0, 1, 5)
			solved(t, &n)
			if !slices.Equal(volts, fresh.volts) || !slices.Equal(amps, fresh.amps) {
				t.Fatal("a later Solve changed an earlier solution")
			}
			if !slices.Equal(volts, reused.volts) || !slices.Equal(amps, reused.amps) {
				t.Fatal("SolveInto and Solve differ")
			}
			if clean := solved(t, &other); !slices.Equal(volts, clean.volts) {
				t.Fatal("the workspace's history shows in the result")
			}
		}
	}
}

// Among shorts alone, those whose removal would part their ends carry a
// definite current, the same as nearly ideal shorts do; the others are part of
// a loop and have none.
func TestCurrentsInWebsOfShorts(t *testing.T) {
	r := rand.New(rand.NewPCG(11, 0))
	for range 300 {
		var n Netlist
		for range 9 {
			n.Node("node")
		}
		shorts := 6 + r.IntN(6)
		for range shorts {
			n.Resistor("short", Node(r.IntN(10)), Node(r.IntN(10)), 0)
		}
		for range 6 {
			n.Source("source", Node(r.IntN(10)), Node(r.IntN(10)), 1e3*r.Float64(), 1e3)
		}
		s := solved(t, &n)
		wires := n
		wires.work = workspace{}
		wires.elements = slices.Clone(n.elements)
		for i := range shorts {
			wires.elements[i].ohms = 1e-4
		}
		almost := solved(t, &wires)
		for i := range shorts {
			var without ties
			without.reset(10)
			for j := range shorts {
				if e := &n.elements[j]; i != j {
					without.tie(e.a, e.b)
				}
			}
			e, got := &n.elements[i], s.Amps(Element(i))
			rootA := without.find(e.a)
			rootB := without.find(e.b)
			switch {
			case e.a == e.b:
				near(t, "short on one node", got, 0, 0)
			case rootA != rootB:
				near(t, "current of a single path", got, almost.Amps(Element(i)), 1e-5)
			case !math.IsNaN(got):
				t.Errorf("short in a loop: got %g, want NaN", got)
			}
		}
	}
}
