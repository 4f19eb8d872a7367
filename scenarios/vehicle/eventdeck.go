package vehicle

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"math"
)

// WriteNetlist writes an event's coil as a deck with a transient analysis that ngspice runs as it is. The dwell and the rise after it
// stand side by side as two circuits that both begin at time 0: d is the coil while the switch is closed, r the same coil once it has
// opened, beginning with the current that the losses leave. No spark jumps, so r shows the available voltage. Errors: an event without
// a charged coil, the writer's.
func (e *Event) WriteNetlist(w io.Writer, title string) error {
	d := e.coil
	if d == nil || !d.hasSecondary() {
		return errors.New("the coil is not charged, or has no secondary")
	}
	amps := ramp{volts: d.feed - d.sink, ohms: d.feedOhms + d.sinkOhms, henries: d.side.henries, limit: d.limit, dwell: d.dwell}.end()
	out := bufio.NewWriter(w)
	line := func(format string, args ...any) { fmt.Fprintf(out, format+"\n", args...) }
	line("%s", oneLine(title))
	line("* run it with: ngspice -b FILE; or interactively: run, plot i(ldp), plot v(rt)")
	line("* dwell %.9g s, then open; sqrt(%g) of the current goes on to the secondary", d.dwell, d.side.transfer)
	d.deckCoil(line, "d", math.Inf(1), 0)
	line("* the closed switch: saturation voltage and resistance up to the current limit")
	line("Bdswitch dm 0 I = pwl(V(dm), -1e4, 0, %.12g, 0, %.12g, %.12g, 1e4, %.12g)", d.sink, d.sink+d.limit*d.sinkOhms, d.limit, d.limit)
	d.deckCoil(line, "r", d.shunt, math.Sqrt(d.side.transfer)*amps/d.side.ratio)
	line("* the open switch and its clamp")
	line("Rropen rm 0 %g", openOhms)
	line("Brclamp rm 0 I = pwl(V(rm), -1e4, 0, %.12g, 0, 1e4, %.12g)", d.side.clamp, (1e4-d.side.clamp)/clampOhms)
	line(".options reltol=1e-5 abstol=1e-9 vntol=1e-6")
	line(".tran 0.4u %.9g 0 0.4u uic", math.Max(d.dwell, d.swing()))
	line(".print tran i(ldp) v(dm) v(rt) v(rm)")
	line(".end")
	return out.Flush()
}

// swing is half a period of the secondary without a load, seconds: the available voltage is reached before.
func (d *discharge) swing() float64 {
	return math.Pi * math.Sqrt(d.side.henries*d.side.farads) * d.side.ratio
}

// deckCoil writes source, windings, capacitance and shunts with nodes that begin with a letter, and the currents to begin with.
func (d *discharge) deckCoil(line func(string, ...any), p string, shunt, second float64) {
	far, foot := "0", p+"p"
	if d.twin {
		foot = "0"
	}
	line("*\nV%sfeed %sf 0 DC %.12g\nR%sfeed %sf %sp %.12g", p, p, d.feed, p, p, p, d.feedOhms)
	line("L%sp %sp %sm %.12g IC=0", p, p, p, d.side.henries)
	line("L%ss %st %sx %.12g IC=%.12g", p, p, p, d.side.henries*d.side.ratio*d.side.ratio, second)
	line("R%ss %sx %s %.12g", p, p, foot, d.secondOhms)
	line("K%s L%sp L%ss %.12g", p, p, p, tight)
	line("C%s %st %s %.12g IC=0", p, p, far, d.side.farads)
	if !math.IsInf(shunt, 1) {
		line("R%sshunt %st %s %.12g", p, p, far, shunt)
	}
	line("* a little capacitance, so that the terminal's voltage has no leap")
	line("C%sm %sm 0 10p", p, p)
}
