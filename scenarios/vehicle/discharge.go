package vehicle

import (
	"math"

	"nospark/scenarios/circuit"
)

// discharge is one coil with everything that its charging and its spark depend on, as the settled vehicle has it.
//
// The transfer of less than the whole energy is taken as lost at the moment of switching off: the secondary begins with sqrt(transfer)
// times the current and with everything else at its true value. It is the closed form's assumption, and the one that suits an available
// voltage: losses of the iron and the leakage flux are over before the secondary is at its peak. A loose coupling of the windings would
// lose the same energy but raise the secondary's turns by 1/sqrt(transfer) as seen from the clamp, so that a clamp-limited coil would
// offer a quarter more than clamp times turns; a loss resistance would weigh too little beside the shunt of a fouled plug. The flux that
// is lost leaves through the clamp all the same: the coil's terminal shows its volt-seconds as the spike at switching off (spike).
type discharge struct {
	feed, feedOhms float64 // what drives the primary: volts and ohms on the battery's side, winding included
	sink, sinkOhms float64 // the closed switch and its way to ground
	limit          float64 // amperes
	side           secondary
	secondOhms     float64
	shunt          float64 // ohms across the secondary, +Inf for none
	twin           bool    // the secondary floats between two towers
	dwell          float64 // seconds the switch is closed
	needs          float64 // volts at which a spark jumps; +Inf for none
	sparkOhms      float64 // of leads and plugs in series with the spark
}

const (
	tight      = 0.9999 // coupling of the windings; what is missing to 1 only keeps the inductances apart
	burnVolts  = 1000   // across the burning spark, from memory
	burnOhms   = 500    // common practice, no source
	holdAmps   = 5e-3   // below which the spark goes out; common practice, no source
	openOhms   = 1e7    // of the open switch; common practice, no source
	clampOhms  = 1      // common practice, no source
	absentOhms = 1e12   // of what is not there
)

// hasSecondary reports whether the secondary takes part.
func (d *discharge) hasSecondary() bool { return !math.IsInf(d.secondOhms, 1) }

// windings is a coil in a Transient.
type windings struct {
	circuit.Transient
	plus, minus, tower, foot circuit.Node
	primary, second, charge  circuit.Element
}

// windings begins a circuit: source, primary, clamp and the secondary with its capacitance and what shunts it, in ohms.
func (d *discharge) windings(shunt float64) *windings {
	w := &windings{}
	w.plus, w.minus = w.Node("coil +"), w.Node("coil -")
	w.Source("feed", w.plus, circuit.Reference, circuit.Steady(d.feed), d.feedOhms)
	w.primary = w.Inductor("primary", w.plus, w.minus, d.side.henries, 0)
	w.Clamp("clamp", w.minus, circuit.Reference, d.side.clamp, clampOhms)
	w.tower, w.foot = w.minus, w.minus
	if !d.hasSecondary() {
		return w
	}
	w.tower, w.foot = w.Node("tower"), w.plus
	far := circuit.Reference
	if d.twin {
		w.foot, far = circuit.Reference, circuit.Reference
	}
	w.second = w.Inductor("secondary", w.tower, w.foot, d.side.henries*d.side.ratio*d.side.ratio, d.secondOhms)
	w.Couple(w.primary, w.second, tight)
	w.charge = w.Capacitor("secondary capacitance", w.tower, far, d.side.farads)
	if !math.IsInf(shunt, 1) {
		w.Resistor("shunt", w.tower, far, shunt)
	}
	return w
}

// The probes of a run.
const (
	primaryAmps = iota
	minusVolts  // coil - to ground
	towerVolts  // the tower to the secondary's far end
)

// run follows the coil to an end in seconds.
func (w *windings) run(until float64) (*circuit.Trace, error) {
	return w.Run(circuit.Options{Until: until, MaxStep: until / 100},
		circuit.AmpsOf(w.primary), circuit.VoltsOf(w.minus, circuit.Reference), circuit.VoltsOf(w.tower, circuit.Reference))
}

// charge follows the dwell from the moment the switch closes. Leaks show at high voltage only, and of the kilovolt at the secondary a
// plug sees nothing behind the rotor's gap or the diode of a coil without one (common practice, no source), so nothing shunts it.
func (d *discharge) charge() (*circuit.Trace, error) {
	w := d.windings(math.Inf(1))
	w.LimitedSwitch("switch", w.minus, circuit.Reference,
		circuit.Driver{SaturationVolts: d.sink, OnOhms: d.sinkOhms, LimitAmps: d.limit, OffOhms: openOhms}, 0)
	return w.run(d.dwell)
}

// release follows the coil from the opening of its switch, with amps in the primary and volts at the tower, for some seconds.
// burning is when the spark breaks down and when it is over; both are 0 without a spark.
func (d *discharge) release(amps, volts, seconds float64) (tr *circuit.Trace, burning [2]float64, err error) {
	never := math.Inf(1)
	w, gap := d.opened(amps, volts, never)
	tr, err = w.run(seconds)
	if err != nil || !d.hasSecondary() {
		return tr, burning, err
	}
	calm := peakTime(tr)
	if !math.IsInf(d.needs, 1) {
		if at, ok := tr.First(gap, circuit.BreaksDown, 0); ok {
			burning = [2]float64{at, seconds}
			if end, ok := tr.First(gap, circuit.GoesOut, at); ok {
				burning[1] = end
			}
			calm = burning[1]
		}
	}
	if calm >= seconds {
		return tr, burning, nil
	}
	w, _ = d.opened(amps, volts, calm)
	tr, err = w.run(seconds)
	return tr, burning, err
}

// opened is the coil after its switch has opened. From calm on the iron takes in every quarter of a swing what it has taken in the first
// rise; before, that loss is taken already.
func (d *discharge) opened(amps, volts, calm float64) (w *windings, gap circuit.Element) {
	w = d.windings(d.shunt)
	w.Resistor("open switch", w.minus, circuit.Reference, openOhms)
	if !d.hasSecondary() {
		w.Preset(w.primary, amps)
		return w, gap
	}
	w.Preset(w.second, math.Sqrt(d.side.transfer)*amps/d.side.ratio)
	w.Preset(w.charge, volts)
	if !math.IsInf(d.needs, 1) {
		gap = w.Gap("spark", w.tower, circuit.Reference, circuit.Gap{BreakdownVolts: d.needs, BurnVolts: math.Min(burnVolts, d.needs),
			BurnOhms: burnOhms + d.sparkOhms, HoldAmps: holdAmps})
	}
	if !math.IsInf(calm, 1) {
		w.Switch("iron", w.tower, w.foot, d.ironOhms(), absentOhms, calm)
	}
	return w, gap
}

// ironOhms is the resistance across the secondary that takes 1 - transfer of the energy in a quarter of a swing.
//
//	e^(-2 zeta pi/2) = transfer, R = sqrt(L/C) / (2 zeta)
//
// Source: decay of the parallel RLC circuit at light damping, textbook.
func (d *discharge) ironOhms() float64 {
	zeta := -math.Log(d.side.transfer) / math.Pi
	return math.Min(absentOhms, math.Sqrt(d.side.henries/d.side.farads)*d.side.ratio/(2*zeta))
}

// peakTime is when the secondary is highest, of either sign.
func peakTime(tr *circuit.Trace) float64 {
	best := 0
	for i, y := range tr.Value[towerVolts] {
		if math.Abs(y) > math.Abs(tr.Value[towerVolts][best]) {
			best = i
		}
	}
	return tr.Time[best]
}

// spike puts into the voltage of coil - what the lost flux adds: the switch's voltage stays at the clamp until the flux has left.
// Faraday's law asks for it: over a cycle the terminal must give back the volt-seconds L i of the whole flux.
func (d *discharge) spike(amps float64, x, y []float64) (xs, ys []float64) {
	flux := 0.0
	if d.hasSecondary() {
		flux = (1 - math.Sqrt(d.side.transfer)) * d.side.henries * amps
	}
	for i := range x {
		if flux <= 0 {
			return append(xs, x[i:]...), append(ys, y[i:]...)
		}
		xs, ys = append(xs, x[i]), append(ys, math.Max(y[i], d.side.clamp))
		if i+1 == len(x) || x[i+1] == x[i] {
			continue
		}
		width, room := x[i+1]-x[i], d.side.clamp-(y[i]+y[i+1])/2
		if room <= 0 {
			continue
		}
		if part := flux / (room * width); part < 1 { // it ends within this step
			at := x[i] + part*width
			xs, ys = append(xs, at, at), append(ys, d.side.clamp, y[i]+part*(y[i+1]-y[i]))
		}
		flux -= room * width
	}
	return xs, ys
}
