package transient

import (
	"math"
	"testing"
)

// near fails unless got is within tolerance of want, or both are the same
// infinity.
func near(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if got != want && !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s: got %.10g, want %.10g within %g", what, got, want, tolerance)
	}
}

func ran(t *testing.T, c *Circuit, o Options, probes ...Probe) *Trace {
	t.Helper()
	tr, err := c.Run(o, probes...)
	if err != nil {
		t.Fatal(err)
	}
	return tr
}

// The charging and discharging inductors of OpenStax, College Physics, "RL
// circuits" and University Physics 2, "RL circuits", and of Kuphaldt, Lessons
// in Electric Circuits I, "RC and L/R time constants".
func TestTextbookRL(t *testing.T) {
	charge := func(volts, ohms, henries, until, want, tolerance float64) {
		t.Helper()
		var c Circuit
		top := c.Node("top")
		c.Source("battery", top, Reference, Steady(volts), 0)
		coil := c.Inductor("coil", top, Reference, henries, ohms)
		tr := ran(t, &c, Options{Until: until}, AmpsOf(coil))
		got := tr.At(0, until)
		near(t, "current as printed", got, want, tolerance)
		exact := volts / ohms * (1 - math.Exp(-until*ohms/henries))
		near(t, "current as computed", got, exact, 2e-4*exact)
	}
	charge(2, 4, 4, 2, 0.43, 0.005)
	charge(15, 1, 1, 1, 9.482, 0.0005)
	charge(15, 1, 1, 2, 12.97, 0.005)

	var c Circuit
	top := c.Node("top")
	c.Resistor("load", top, Reference, 3)
	coil := c.Inductor("coil", top, Reference, 7.5e-3, 0)
	c.Preset(coil, 10)
	tr := ran(t, &c, Options{Until: 5e-3}, AmpsOf(coil), VoltsOf(top, Reference))
	near(t, "decayed current", tr.At(0, 5e-3), 1.35, 0.005)
	near(t, "voltage at once", tr.Value[1][0], -30, 1e-6)
}

// OpenStax, University Physics 2, "RLC series circuits": with 10 mH, 1.5 uF
// and 2.0 ohm the amplitude halves in 6.9 ms.
func TestTextbookRLCDecay(t *testing.T) {
	var c Circuit
	a, b := c.Node("a"), c.Node("b")
	capacitor := c.Capacitor("capacitor", a, Reference, 1.5e-6)
	c.Preset(capacitor, 100)
	c.Inductor("coil", a, b, 10e-3, 0)
	c.Resistor("loss", b, Reference, 2)
	tr := ran(t, &c, Options{Until: 8e-3, MaxStep: 1e-5}, VoltsOf(a, Reference))
	const period = 2 * math.Pi * 122.47e-6 // sqrt(LC)
	_, begin := tr.Extremes(0, 0, period/2)
	_, later := tr.Extremes(0, 6.9e-3-period/2, 6.9e-3+period/2)
	near(t, "amplitude after 6.9 ms", later/begin, 0.5, 0.02) // the peaks lie up to half a period off
}

// C. Alexander and M. Sadiku, Fundamentals of Electric Circuits, the
// automobile ignition examples: a coil of 4 ohm and 6 mH on 12 V charges to
// 3 A and 27 mJ, and gives 18 kV if the current is cut within 1 us.
func TestAlexanderSadikuSolenoid(t *testing.T) {
	var c Circuit
	feed, top := c.Node("feed"), c.Node("top")
	c.Source("battery", feed, Reference, Steady(12), 0)
	coil := c.Inductor("coil", feed, top, 6e-3, 4)
	c.Switch("contact", top, Reference, 1e-6, 1e9, 0)
	until := 20e-3
	tr := ran(t, &c, Options{Until: until}, AmpsOf(coil))
	amps := tr.At(0, until)
	near(t, "final current", amps, 3, 1e-5)
	near(t, "stored energy", 6e-3*amps*amps/2, 27e-3, 1e-6)

	var cut Circuit
	top = cut.Node("top")
	coil = cut.Inductor("coil", Reference, top, 6e-3, 0)
	cut.Preset(coil, 3)
	cut.Current("cut", top, Reference, func(s float64) float64 { return 3 * (1 - s/1e-6) })
	tr = ran(t, &cut, Options{Until: 1e-6}, VoltsOf(top, Reference))
	low, high := tr.Extremes(0, 1e-8, 1e-6)
	near(t, "lowest voltage while cut", low, 18e3, 1)
	near(t, "highest voltage while cut", high, 18e3, 1)
}

// The same book's contact with a capacitor across: 12 V, 4 ohm, 8 mH, 1 uF;
// the coil reaches -259 V near 140 us after the contact opens. With 3 mH, 0.4
// uF and an ideal secondary of 1:100 the closed form of the coil's voltage,
// -I/(C w) exp(-a t) sin(w t) with I = 3 A, a = R/2L and w^2 = 1/LC - a^2, has
// its extreme at 53.63 us (an answer of -25976 V in circulation leaves the
// damping out).
func TestAlexanderSadikuIgnition(t *testing.T) {
	const opens = 20e-3
	build := func(henries, farads float64) (c Circuit, top, points Node, coil Element) {
		source := c.Node("source")
		top, points = c.Node("top"), c.Node("points")
		c.Source("battery", source, Reference, Steady(12), 0)
		c.Resistor("resistor", source, top, 4)
		coil = c.Inductor("coil", top, points, henries, 0)
		c.Switch("contact", points, Reference, 1e-6, 1e12, 0, opens)
		c.Capacitor("capacitor", points, Reference, farads)
		return c, top, points, coil
	}
	c, top, points, coil := build(8e-3, 1e-6)
	tr := ran(t, &c, Options{Until: opens + 1e-3, MaxStep: 1e-4}, VoltsOf(top, points), AmpsOf(coil))
	near(t, "current before", tr.At(1, opens), 3, 1e-3)
	low, _ := tr.Extremes(0, opens, opens+1e-3)
	near(t, "extreme", low, -259, 0.5)
	near(t, "value at 140 us", tr.At(0, opens+140e-6), -259, 0.5)

	c, _, _, coil = build(3e-3, 0.4e-6)
	high := c.Node("high")
	secondary := c.Inductor("secondary", high, Reference, 30, 0)
	c.Couple(coil, secondary, 1)
	tr = ran(t, &c, Options{Until: opens + 2e-4, MaxStep: 1e-4}, VoltsOf(high, Reference))
	low, _ = tr.Extremes(0, opens, opens+2e-4)
	a := 4 / (2 * 3e-3)
	w := math.Sqrt(1/(3e-3*0.4e-6) - a*a)
	near(t, "attenuation and frequency", math.Hypot(a-666.67, w-28859.8), 0, 0.05)
	at := math.Atan(w/a) / w
	near(t, "time of the extreme", at, 53.63e-6, 5e-9)
	want := -100 * 3 / (0.4e-6 * w) * math.Exp(-a*at) * math.Sin(w*at)
	near(t, "secondary extreme", low, want, 2e-4*math.Abs(want))
	near(t, "secondary at that time", tr.At(0, opens+at), want, 2e-4*math.Abs(want))
}
