// Package transient follows the voltages and currents of a small lumped
// circuit through time, around inductors, capacitors and switches.
//
// Start with a zero Circuit: declare nodes, add elements, call Run and ask the
// Trace. It is no general simulator: what is not linear is made of straight
// lines, and there are no semiconductors.
package transient

import (
	"fmt"
	"math"
)

// Circuit is a circuit whose voltages and currents are followed through
// time: resistors and sources with capacitors, inductors, scheduled switches
// and a few elements made of straight lines. The zero value has only the
// Reference. Run it as often as wanted: a run changes nothing in it.
type Circuit struct {
	names  []string
	parts  []part
	mutual []mutual
	breaks []float64
}

// Node declares a new node; the name serves messages only.
func (c *Circuit) Node(name string) Node {
	if len(c.names) == 0 {
		c.names = append(c.names, "reference")
	}
	c.names = append(c.names, name)
	return Node(len(c.names) - 1)
}

func (c *Circuit) nodes() int { return max(1, len(c.names)) }

func (c *Circuit) add(p part) Element {
	if last := Node(c.nodes() - 1); p.a < 0 || p.b < 0 || p.a > last || p.b > last {
		panic(fmt.Sprintf("circuit: element %q joins nodes %d and %d, declared are 0 to %d", p.name, p.a, p.b, last))
	}
	c.parts = append(c.parts, p)
	return Element(len(c.parts) - 1)
}

// Steady is the drive of a source that does not change.
func Steady(value float64) func(float64) float64 { return func(float64) float64 { return value } }

// Resistor adds a resistance, 0 to +Inf ohms.
func (c *Circuit) Resistor(name string, a, b Node, ohms float64) Element {
	return c.add(part{kind: partResistor, a: a, b: b, name: name, ohms: ohms})
}

// Source adds an electromotive force that is a function of time, with a series
// resistance in ohms, 0 to +Inf. Announce its jumps with Breaks.
func (c *Circuit) Source(name string, plus, minus Node, volts func(seconds float64) float64, ohms float64) Element {
	return c.add(part{kind: partSource, a: plus, b: minus, name: name, drive: volts, ohms: ohms})
}

// Current adds a current source from one node through the source to another.
func (c *Circuit) Current(name string, from, to Node, amps func(seconds float64) float64) Element {
	return c.add(part{kind: partCurrent, a: from, b: to, name: name, drive: amps})
}

// Capacitor adds a capacitance in farads, > 0.
func (c *Circuit) Capacitor(name string, a, b Node, farads float64) Element {
	return c.add(part{kind: partCapacitor, a: a, b: b, name: name, size: farads})
}

// Inductor adds an inductance in henries, > 0, with the resistance of its
// winding in ohms, 0 or more.
func (c *Circuit) Inductor(name string, a, b Node, henries, ohms float64) Element {
	return c.add(part{kind: partInductor, a: a, b: b, name: name, size: henries, ohms: ohms})
}

// Couple gives two inductors the mutual inductance factor x sqrt(L1 L2), the
// dots at their first nodes. The factor lies within -1 and 1; together the
// inductances must store a positive energy for any currents.
func (c *Circuit) Couple(first, second Element, factor float64) {
	c.mutual = append(c.mutual, mutual{first, second, factor})
}

// Preset is the voltage of a capacitor or the current of an inductor, first
// node to second, with which a run begins unless it begins in a steady state.
func (c *Circuit) Preset(e Element, value float64) { c.parts[e].start = value }

// Breaks announces times in seconds at which a source jumps or bends, so that
// a step ends there.
func (c *Circuit) Breaks(seconds ...float64) { c.breaks = append(c.breaks, seconds...) }

// Switch adds a contact that begins open and changes at each of the given
// times in seconds, ascending. onOhms > 0, offOhms finite.
func (c *Circuit) Switch(name string, a, b Node, onOhms, offOhms float64, toggles ...float64) Element {
	return c.add(part{kind: partDevice, a: a, b: b, name: name, toggles: toggles,
		curves: [2]curve{newCurve([]float64{1 / offOhms}), newCurve([]float64{1 / onOhms})}})
}

// Driver holds the values of a LimitedSwitch.
type Driver struct {
	SaturationVolts float64 // no current flows below; >= 0
	OnOhms          float64 // > 0, adds to the saturation voltage
	LimitAmps       float64 // > 0; +Inf: no limit
	OffOhms         float64 // > 0; +Inf counts as 1e12
}

// LimitedSwitch adds a transistor that begins open, changes at the given times
// in seconds and conducts from a to b only. Closed, it drops SaturationVolts
// plus its resistance until the current reaches LimitAmps, and then takes as
// much voltage as it needs to hold the current there, but for a rise of 0.001 %
// per volt.
func (c *Circuit) LimitedSwitch(name string, a, b Node, d Driver, toggles ...float64) Element {
	off := newCurve([]float64{max(1/d.OffOhms, leakSiemens)})
	on := newCurve([]float64{leakSiemens, 1 / d.OnOhms}, d.SaturationVolts)
	if !math.IsInf(d.LimitAmps, 1) {
		on = newCurve([]float64{leakSiemens, 1 / d.OnOhms, limitSlope * d.LimitAmps},
			d.SaturationVolts, d.SaturationVolts+d.LimitAmps*d.OnOhms)
	}
	return c.add(part{kind: partDevice, a: a, b: b, name: name, toggles: toggles, curves: [2]curve{off, on}})
}

// Clamp adds an element that carries nothing until a is volts above b and
// has only ohms > 0 beyond that. With a small voltage it is a diode.
func (c *Circuit) Clamp(name string, a, b Node, volts, ohms float64) Element {
	k := newCurve([]float64{leakSiemens, 1 / ohms}, volts)
	return c.add(part{kind: partDevice, a: a, b: b, name: name, on: true, curves: [2]curve{k, k}})
}

// Gap adds a spark gap.
func (c *Circuit) Gap(name string, a, b Node, g Gap) Element {
	return c.add(part{kind: partGap, a: a, b: b, name: name, gap: g})
}

// check finds values outside their range.
func (c *Circuit) check() error {
	for i := range c.parts {
		p := &c.parts[i]
		bad := func(what string, x float64, want string) error {
			return fmt.Errorf("element %q (nodes %q and %q): %s %g, want %s", p.name, c.name(p.a), c.name(p.b), what, x,
				want)
		}
		if !(p.ohms >= 0) || p.kind == partInductor && math.IsInf(p.ohms, 1) {
			return bad("resistance", p.ohms, "0 ohms or more")
		}
		if (p.kind == partCapacitor || p.kind == partInductor) && !(p.size > 0 && !math.IsInf(p.size, 1)) {
			return bad("size", p.size, "more than 0 farads or henries")
		}
		for _, k := range p.curves {
			if x, ok := k.valid(); !ok {
				return bad("a voltage, or conductance in siemens,", x, "positive finite values, voltages ascending")
			}
		}
		if g := p.gap; p.kind == partGap &&
			!(g.BreakdownVolts > 0 && g.BurnVolts >= 0 && g.BreakdownVolts >= g.BurnVolts &&
				g.BurnOhms > 0 && g.HoldAmps >= 0) {
			return bad("breakdown voltage", g.BreakdownVolts,
				fmt.Sprintf("more than 0 and at least the burn voltage %g, with more than 0 ohms (%g) "+
					"and a holding current of 0 or more (%g)", g.BurnVolts, g.BurnOhms, g.HoldAmps))
		}
		for k := 1; k < len(p.toggles); k++ {
			if !(p.toggles[k] >= p.toggles[k-1]) {
				return bad("switching time", p.toggles[k], "ascending times")
			}
		}
	}
	return nil
}

func (c *Circuit) name(a Node) string {
	if a == Reference {
		return "reference"
	}
	return c.names[a]
}
