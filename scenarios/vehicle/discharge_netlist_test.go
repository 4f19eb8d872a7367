package vehicle

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"math"

	"nospark/scenarios/vehicle/coil"
)

// writeNetlist writes an event's coil as a netlist with a transient analysis that ngspice runs as it is. The dwell and
// the rise after it stand side by side as two circuits that both begin at time 0: d is the coil while the switch is
// closed, r the same coil once it has opened, beginning with the current that the losses leave. No spark jumps, so r
// shows the available voltage. Errors: an event without a charged coil, the writer's.
func (e *Event) writeNetlist(w io.Writer, title string) error {
	d := e.coil
	if d == nil || !d.HasSecondary() {
		return errors.New("the coil is not charged, or has no secondary")
	}
	amps := coil.Ramp{Volts: d.Feed - d.Sink, Ohms: d.FeedOhms + d.SinkOhms, Henries: d.Side.Henries, Limit: d.Limit,
		Dwell: d.Dwell}.End()
	out := bufio.NewWriter(w)
	line := func(format string, args ...any) { fmt.Fprintf(out, format+"\n", args...) }
	line("%s", title)
	line("* run it with: ngspice -b FILE; or interactively: run, plot i(ldp), plot v(rt)")
	line("* dwell %.9g s, then open; sqrt(%g) of the current goes on to the secondary", d.Dwell, d.Side.Transfer)
	writeCoil(d, line, "d", math.Inf(1), 0, coil.DwellCoupling)
	if d.HasSecondary() && d.Twin {
		line("Rdiron dt 0 %.12g", d.IronOhms())
	} else if d.HasSecondary() {
		line("Rdiron dt dp %.12g", d.IronOhms())
	}
	line("* the closed switch: saturation voltage and resistance up to the current limit")
	line("Bdswitch dm 0 I = pwl(V(dm), -1e4, 0, %.12g, 0, %.12g, %.12g, 1e4, %.12g)", d.Sink, d.Sink+d.Limit*d.SinkOhms,
		d.Limit, d.Limit)
	writeCoil(d, line, "r", d.Shunt, math.Sqrt(d.Side.Transfer)*amps/d.Side.Ratio, coil.TightCoupling)
	line("* the open switch and its clamp")
	line("Rropen rm 0 %g", coil.OpenOhms)
	line("Brclamp rm 0 I = pwl(V(rm), -1e4, 0, %.12g, 0, 1e4, %.12g)", d.Side.Clamp, (1e4-d.Side.Clamp)/coil.ClampOhms)
	line(".options reltol=1e-5 abstol=1e-9 vntol=1e-6")
	line(".tran 0.4u %.9g 0 0.4u uic", math.Max(d.Dwell, swing(d)))
	line(".print tran i(ldp) v(dm) v(rt) v(rm)")
	line(".end")
	return out.Flush()
}

// swing is half a period of the secondary without a load, seconds: the available voltage is reached before.
func swing(d *coil.Discharge) float64 {
	return math.Pi * math.Sqrt(d.Side.Henries*d.Side.Farads) * d.Side.Ratio
}

// writeCoil writes source, windings, capacitance and shunts with nodes that begin with a letter, and the currents to
// begin with.
func writeCoil(d *coil.Discharge, line func(string, ...any), p string, shunt, second, coupling float64) {
	far, foot := "0", p+"p"
	if d.Twin {
		foot = "0"
	}
	line("*\nV%sfeed %sf 0 DC %.12g\nR%sfeed %sf %sp %.12g", p, p, d.Feed, p, p, p, d.FeedOhms)
	line("L%sp %sp %sm %.12g IC=0", p, p, p, d.Side.Henries)
	line("L%ss %st %sx %.12g IC=%.12g", p, p, p, d.Side.Henries*d.Side.Ratio*d.Side.Ratio, second)
	line("R%ss %sx %s %.12g", p, p, foot, d.SecondOhms)
	line("K%s L%sp L%ss %.12g", p, p, p, coupling)
	line("C%s %st %s %.12g IC=0", p, p, far, d.Side.Farads)
	if !math.IsInf(shunt, 1) {
		line("R%sshunt %st %s %.12g", p, p, far, shunt)
	}
	line("* a little capacitance, so that the terminal's voltage has no leap")
	line("C%sm %sm 0 10p", p, p)
}
