package transient

import (
	"math"
	"strings"
	"testing"
)

// An undamped LC circuit: the error of the trapezoidal rule falls with the
// square of the step, and the amplitude stays.
func TestTrapezoidalOrder(t *testing.T) {
	const period = 2 * math.Pi // 1 H, 1 F
	errorAt := func(steps int) (off float64) {
		var c Circuit
		a := c.Node("a")
		c.Preset(c.Capacitor("capacitor", a, Reference, 1), 1)
		coil := c.Inductor("coil", a, Reference, 1, 0)
		tr := ran(t, &c, Options{Until: 5 * period, FixedStep: 5 * period / float64(steps)}, VoltsOf(a, Reference),
			AmpsOf(coil))
		for i, s := range tr.Time {
			off = math.Max(off, math.Abs(tr.Value[0][i]-math.Cos(s)))
		}
		last := len(tr.Time) - 1
		energy := math.Hypot(tr.Value[0][last], tr.Value[1][last])
		near(t, "amplitude after five periods", energy, 1, 50/float64(steps*steps)*10)
		return off
	}
	coarse, fine := errorAt(2000), errorAt(4000)
	near(t, "ratio of errors", coarse/fine, 4, 0.2)
	// Each radian comes out late by h^2/12.
	h := 5 * period / 4000
	near(t, "error", fine, 5*period*h*h/12, 0.1*fine)
}

// Cutting an inductor's current is where the plain trapezoidal rule rings: here
// the voltage must follow the exponential from the first point on.
func TestNoRingingAfterSwitching(t *testing.T) {
	var c Circuit
	feed, top := c.Node("feed"), c.Node("top")
	c.Source("battery", feed, Reference, Steady(10), 0)
	c.Switch("contact", feed, top, 1e-3, 1e9, 0, 1)
	coil := c.Inductor("coil", top, Reference, 1, 5)
	c.Resistor("shunt", top, Reference, 50)
	for _, o := range []Options{{Until: 1.2}, {Until: 1.2, FixedStep: 1e-3}} {
		tr := ran(t, &c, o, VoltsOf(top, Reference), AmpsOf(coil))
		begin := tr.At(1, 1)
		checked := 0
		for i, s := range tr.Time {
			if s > 1 {
				want := -50 * begin * math.Exp(-(s-1)*55)
				near(t, "voltage", tr.Value[0][i], want, 0.002*50*begin)
				checked++
			}
		}
		if checked < 50 {
			t.Errorf("only %d points after switching", checked)
		}
	}
}

// A capacitor charged through a resistor until a gap breaks down, discharged
// until it goes out, and again: the relaxation oscillation of a glow lamp, with
// the period RC ln((V - low)/(V - high)) and the time of the discharge.
func TestRelaxationOscillator(t *testing.T) {
	const feed, ohms, farads = 1000.0, 1e6, 1e-9
	g := Gap{BreakdownVolts: 500, BurnVolts: 100, BurnOhms: 1000, HoldAmps: 1e-3}
	for _, sign := range []float64{1, -1} {
		var c Circuit
		in, top := c.Node("in"), c.Node("top")
		c.Source("feed", in, Reference, Steady(sign*feed), 0)
		c.Resistor("resistor", in, top, ohms)
		c.Capacitor("capacitor", top, Reference, farads)
		lamp := c.Gap("lamp", top, Reference, g)
		tr := ran(t, &c, Options{Until: 5e-3}, VoltsOf(top, Reference), AmpsOf(lamp))

		first, _ := tr.First(lamp, BreaksDown, 0)
		near(t, "first breakdown", first, ohms*farads*math.Log(feed/(feed-g.BreakdownVolts)), 1e-7)
		out, _ := tr.First(lamp, GoesOut, first)
		second, _ := tr.First(lamp, BreaksDown, out)

		// While it burns: the feed and the burn voltage through their resistors.
		both := ohms * g.BurnOhms / (ohms + g.BurnOhms)
		level := both * (feed/ohms + g.BurnVolts/g.BurnOhms)
		low := g.BurnVolts + g.HoldAmps*g.BurnOhms
		near(t, "discharge", out-first, both*farads*math.Log((g.BreakdownVolts-level)/(low-level)), 2e-8)
		near(t, "recharge", second-out, ohms*farads*math.Log((feed-low)/(feed-g.BreakdownVolts)), 2e-7)
		_, peak := tr.Extremes(1, 0, 5e-3)
		if sign > 0 {
			near(t, "peak current", peak, (g.BreakdownVolts-g.BurnVolts)/g.BurnOhms, 1e-5)
		}
	}
}

// Sources and devices in the steady state: a diode conducts, a coil is its
// winding's resistance, an open switch and a gap carry nothing.
func TestSteadyStateOfDevices(t *testing.T) {
	var c Circuit
	feed, top, low := c.Node("feed"), c.Node("top"), c.Node("low")
	c.Source("battery", feed, Reference, Steady(12), 0.1)
	c.Clamp("diode", feed, top, 0.7, 0.2)
	coil := c.Inductor("coil", top, low, 1e-3, 2)
	c.Resistor("load", low, Reference, 3)
	c.Gap("gap", top, Reference, Gap{BreakdownVolts: 100, BurnVolts: 10, BurnOhms: 1})
	c.Switch("open", top, Reference, 1e-3, 1e9)
	tr := ran(t, &c, Options{Until: 1e-3, FromSteady: true}, AmpsOf(coil), VoltsOf(low, Reference))
	want := (12 - 0.7) / (0.1 + 0.2 + 2 + 3)
	for i := range tr.Time {
		near(t, "coil current", tr.Value[0][i], want, 1e-6)
		near(t, "load voltage", tr.Value[1][i], 3*want, 1e-5)
	}
}

// A secondary winding that nothing connects to the primary's side: its voltage
// is the turns ratio times the primary's, its ends hang from its first node.
func TestIsolatedWinding(t *testing.T) {
	var c Circuit
	in, x, y := c.Node("in"), c.Node("x"), c.Node("y")
	c.Source("mains", in, Reference, func(s float64) float64 { return 10 * math.Sin(314*s) }, 0)
	p := c.Inductor("primary", in, Reference, 1, 0)
	s := c.Inductor("secondary", x, y, 25, 0)
	c.Couple(p, s, 1)
	load := c.Resistor("load", x, y, 1000)
	tr := ran(t, &c, Options{Until: 0.02}, VoltsOf(x, y), AmpsOf(load), VoltsOf(x, Reference))
	for i, s := range tr.Time {
		if i > 0 {
			near(t, "secondary voltage", tr.Value[0][i], 50*math.Sin(314*s), 0.01)
			near(t, "load current", tr.Value[1][i], 0.05*math.Sin(314*s), 1e-5)
		}
		near(t, "first node", tr.Value[2][i], 0, 1e-9)
	}
}

// A source that jumps, with the jump announced: an RC low pass and its step
// response.
func TestBreaks(t *testing.T) {
	var c Circuit
	in, out := c.Node("in"), c.Node("out")
	const jump = 0.37e-3
	c.Source("step", in, Reference, func(s float64) float64 {
		if s < jump {
			return 0
		}
		return 5
	}, 0)
	c.Breaks(jump)
	c.Resistor("resistor", in, out, 1000)
	c.Capacitor("capacitor", out, Reference, 1e-7)
	tr := ran(t, &c, Options{Until: 1e-3, MaxStep: 1e-4}, VoltsOf(out, Reference))
	for i, s := range tr.Time {
		near(t, "output", tr.Value[0][i], 5*(1-math.Exp(-math.Max(0, s-jump)/1e-4)), 0.01)
	}
}

func TestTransientErrors(t *testing.T) {
	check := func(name string, build func(c *Circuit, a, b Node), want ...string) {
		t.Helper()
		var c Circuit
		a, b := c.Node("left"), c.Node("right")
		build(&c, a, b)
		tr, err := c.Run(Options{Until: 1e-3})
		if err == nil || tr != nil {
			t.Errorf("%s: got %v, %v, want an error alone", name, tr, err)
			return
		}
		for _, w := range want {
			if !strings.Contains(err.Error(), w) {
				t.Errorf("%s: %q does not contain %q", name, err, w)
			}
		}
	}
	check("negative resistor", func(c *Circuit, a, b Node) { c.Resistor("wire", a, b, -1) }, `"wire"`, `"left"`, "-1")
	check("no capacitance", func(c *Circuit, a, b Node) { c.Capacitor("can", a, b, 0) }, `"can"`, "more than 0")
	check("infinite inductance", func(c *Circuit, a, b Node) { c.Inductor("coil", a, b, math.Inf(1), 0) }, `"coil"`)
	check("ideal contact", func(c *Circuit, a, b Node) { c.Switch("contact", a, b, 0, 1e9) }, `"contact"`)
	check("perfectly open contact", func(c *Circuit, a, b Node) { c.Switch("contact", a, b, 1, math.Inf(1)) },
		`"contact"`)
	check("toggles out of order", func(c *Circuit, a, b Node) { c.Switch("contact", a, b, 1, 1e9, 2, 1) },
		`"contact"`,
		"ascending")
	check("negative clamp", func(c *Circuit, a, b Node) { c.Clamp("clamp", a, b, -5, 1) }, `"clamp"`, "-5")
	check("gap that burns above its breakdown", func(c *Circuit, a, b Node) {
		c.Gap("plug", a, b, Gap{BreakdownVolts: 100, BurnVolts: 200, BurnOhms: 1})
	}, `"plug"`, "100", "200")
	check("coupling of a resistor", func(c *Circuit, a, b Node) {
		c.Couple(c.Resistor("wire", a, b, 1), c.Inductor("coil", a, b, 1, 0), 0.5)
	}, `"wire"`, `"coil"`, "0.5")
	check("coupling above 1", func(c *Circuit, a, b Node) {
		c.Couple(c.Inductor("one", a, b, 1, 0), c.Inductor("two", a, b, 1, 0), 1.01)
	}, `"one"`, `"two"`, "1.01")
	check("three couplings that cannot be", func(c *Circuit, a, b Node) {
		one, two, three := c.Inductor("one", a, b, 1, 0), c.Inductor("two", a, b, 1, 0), c.Inductor("three", a, b, 1, 0)
		c.Couple(one, two, 1)
		c.Couple(two, three, 1)
		c.Couple(one, three, -0.5)
	}, "negative energy", `"three"`)
	check("contradicting sources", func(c *Circuit, a, b Node) {
		c.Source("one", a, Reference, Steady(1), 0)
		c.Source("two", a, Reference, Steady(2), 0)
	}, "no unique solution", "ideal sources")

	var c Circuit
	for _, o := range []Options{{}, {Until: -1}, {Until: math.Inf(1)}, {Until: 1, MaxStep: -1},
		{Until: 1, FixedStep: math.NaN()}} {
		if _, err := c.Run(o); err == nil {
			t.Errorf("%+v: want an error", o)
		}
	}
}
