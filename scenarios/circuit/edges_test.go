package circuit

import (
	"math"
	"slices"
	"strings"
	"testing"
)

func TestErrorsNameTheCulprit(t *testing.T) {
	check := func(name string, build func(n *Netlist, a, b Node), want ...string) {
		t.Helper()
		var n Netlist
		a, b := n.Node("left"), n.Node("right")
		build(&n, a, b)
		s, err := n.Solve()
		if err == nil || s != nil {
			t.Errorf("%s: got %v, %v, want an error alone", name, s, err)
			return
		}
		for _, w := range want {
			if !strings.Contains(err.Error(), w) {
				t.Errorf("%s: %q does not contain %q", name, err, w)
			}
		}
	}
	check("negative resistor", func(n *Netlist, a, b Node) { n.Resistor("wire 7", a, b, -3) },
		`resistor "wire 7"`, `"left"`, `"right"`, "-3 ohms", "0 to +Inf")
	check("NaN resistor", func(n *Netlist, a, b Node) { n.Resistor("wire 7", a, b, math.NaN()) }, `"wire 7"`, "NaN")
	check("negative inner resistance", func(n *Netlist, a, b Node) { n.Source("cell", a, b, 2, -1) }, `source "cell"`,
		"-1 ohms")
	check("NaN source", func(n *Netlist, a, b Node) { n.Source("cell", a, b, math.NaN(), 1) }, `source "cell"`,
		"NaN volts")
	check("infinite current", func(n *Netlist, a, b Node) { n.Current("pump", a, b, math.Inf(1)) },
		`current source "pump"`, "+Inf amperes")
	check("source on itself", func(n *Netlist, a, b Node) { n.Source("cell", a, a, 2, 0) }, `"cell"`, "short-circuited")
	check("shorted ideal source", func(n *Netlist, a, b Node) {
		n.Source("cell", a, b, 2, 0)
		n.Resistor("wire", b, a, 0)
	}, `"cell"`, "2 volts", "short-circuited", `"left"`, `"right"`)
	check("contradicting sources", func(n *Netlist, a, b Node) {
		n.Source("one", a, Reference, 2, 0)
		n.Source("two", b, Reference, 3, 0)
		n.Source("three", b, a, 1.5, 0)
	}, `"three"`, "1.5 volts", "1 volts")
	check("current into a dead end", func(n *Netlist, a, b Node) {
		n.Resistor("r", a, b, 10)
		n.Current("pump", Reference, b, 0.5)
	}, `"pump"`, "0.5 amperes", `"right"`)
	check("current out of a dead end", func(n *Netlist, a, b Node) {
		n.Resistor("r", a, b, 10)
		n.Current("pump", b, Reference, 0.5)
	}, `"pump"`, `"right"`)
	check("current between islands", func(n *Netlist, a, b Node) {
		n.Resistor("r", a, Reference, math.Inf(1))
		n.Current("pump", a, b, 0.5)
	}, `"pump"`, `"right"`)
}

func TestUndeclaredNodePanics(t *testing.T) {
	defer func() {
		if r := recover(); r == nil || !strings.Contains(r.(string), "stray") {
			t.Errorf("got %v, want a panic that names the element", r)
		}
	}()
	var n Netlist
	n.Resistor("stray", n.Node("a"), 7, 1)
}

// Harmless oddities: agreeing sources in parallel, a chain that sums to another
// source, elements on one node, nothing at all, a pump without current.
func TestConsistentIdealLoopsSolve(t *testing.T) {
	var n Netlist
	a, b := n.Node("a"), n.Node("b")
	n.Source("1", a, Reference, 0.1, 0)
	n.Source("2", b, a, 0.2, 0)
	n.Source("3", b, Reference, 0.3, 0) // 0.1 + 0.2 is not 0.3 in binary
	n.Resistor("self", a, a, 5)
	n.Resistor("self short", a, a, 0)
	n.Source("self zero", a, a, 0, 0)
	n.Source("absent", a, b, 7, math.Inf(1))
	load := n.Resistor("load", b, Reference, 3)
	n.Current("idle pump", n.Node("lost"), a, 0)
	s := solved(t, &n)
	near(t, "b", s.Volts(b), 0.3, 1e-15)
	near(t, "load", s.Amps(load), 0.1, 1e-15)
	for e := Element(0); e < 3; e++ {
		if !math.IsNaN(s.Amps(e)) {
			t.Errorf("source %d: got %g, want NaN: its share of the load is not determined", e+1, s.Amps(e))
		}
	}
	for e := Element(3); e < 7; e++ {
		near(t, "element "+n.elements[e].name, s.Amps(e), 0, 0)
	}
	near(t, "empty netlist", solved(t, new(Netlist)).Volts(Reference), 0, 0)
}

// Two shorts side by side share a current in an undetermined way; the shorts
// before and behind them still have a definite one.
func TestCurrentsOfShorts(t *testing.T) {
	var n Netlist
	a, b, c, d := n.Node("a"), n.Node("b"), n.Node("c"), n.Node("d")
	battery := n.Source("battery", a, Reference, 12, 0)
	in := n.Resistor("in", a, b, 0)
	one := n.Resistor("one", b, c, 0)
	two := n.Resistor("two", c, b, 0)
	out := n.Source("ammeter", d, c, 0, 0)
	n.Resistor("load", d, Reference, 6)
	n.Resistor("load at b", b, Reference, 12)
	s := solved(t, &n)
	near(t, "battery", s.Amps(battery), -3, 1e-15)
	near(t, "in", s.Amps(in), 3, 1e-15)
	near(t, "out", s.Amps(out), -2, 1e-15)
	if !math.IsNaN(s.Amps(one)) || !math.IsNaN(s.Amps(two)) {
		t.Errorf("got %g and %g, want NaN", s.Amps(one), s.Amps(two))
	}
	volts, ohms := s.Thevenin(a, d)
	near(t, "volts across shorts", volts, 0, 0)
	near(t, "ohms across shorts", ohms, 0, 0)
}

// A strap gone open leaves a battery on an island of its own.
func TestIslands(t *testing.T) {
	var n Netlist
	plus, minus, feed := n.Node("plus"), n.Node("minus"), n.Node("feed")
	alone := n.Node("alone")
	n.Source("battery", plus, minus, 12, 0.01)
	strap := n.Resistor("strap", minus, Reference, math.Inf(1))
	n.Resistor("wire", plus, feed, 0.1)
	lamp := n.Resistor("lamp", feed, minus, 5.89)
	s := solved(t, &n)
	near(t, "first node of the island", s.Volts(plus), 0, 0)
	near(t, "battery", s.Between(plus, minus), 12-0.02, 1e-12)
	near(t, "lamp", s.Amps(lamp), 2, 1e-12)
	near(t, "strap", s.Amps(strap), 0, 0)
	near(t, "meter to the reference", s.Between(plus, Reference), 0, 0)
	near(t, "meter to nowhere", s.Between(plus, alone), 0, 0)
	if volts, ohms := s.Thevenin(feed, Reference); volts != 0 || !math.IsInf(ohms, 1) {
		t.Errorf("Thevenin between islands: %g V, %g ohms, want 0 and +Inf", volts, ohms)
	}
	if s.Connected(plus, Reference) || s.Connected(alone, plus) || !s.Connected(plus, feed) {
		t.Error("wrong connections")
	}

	// A leak of 10 Mohm makes it one circuit again, and no current flows there.
	n.Resistor("leak", feed, Reference, 1e7)
	s = solved(t, &n)
	near(t, "feed held by the leak", s.Volts(feed), 0, 1e-14)
	near(t, "minus", s.Volts(minus), -11.78, 1e-12)
}

func TestFloating(t *testing.T) {
	check := func(n *Netlist, root Node, want ...string) {
		t.Helper()
		if got := n.Floating(root); !slices.Equal(got, want) {
			t.Errorf("floating from %q: got %q, want %q", n.Name(root), got, want)
		}
	}
	var n Netlist
	check(&n, Reference)
	a, b, c, d := n.Node("a"), n.Node("b"), n.Node("c"), n.Node("d")
	n.Source("battery", a, Reference, 12, 0)
	n.Resistor("short", a, b, 0)
	n.Resistor("open", b, c, math.Inf(1))
	n.Current("pump", c, d, 1)
	check(&n, Reference, "c", "d")
	check(&n, c, "reference", "a", "b", "d")
	n.Resistor("load", c, d, 1e9)
	n.Node("e")
	check(&n, Reference, "c", "d", "e")
	n.Source("cell", d, b, 1, 1e6)
	check(&n, Reference, "e")

	n.Reset() // a circuit that does not use the Reference has nothing afloat
	a, b = n.Node("a"), n.Node("b")
	n.Source("cell", a, b, 1, 1)
	check(&n, a)
}
