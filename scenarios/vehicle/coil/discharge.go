package coil

import (
	"math"

	"nospark/scenarios/circuit/transient"
)

// Discharge is one coil with everything that its charging and its spark depend on, as the settled vehicle has it.
//
// The transfer of less than the whole energy is taken as lost at the moment of switching off: the secondary begins with
// sqrt(transfer) times the current and with everything else at its true value. It is the closed form's assumption, and
// the one that suits an available voltage: losses of the iron and the leakage flux are over before the secondary is at
// its peak. A loose coupling of the windings would lose the same energy but raise the secondary's turns by
// 1/sqrt(transfer) as seen from the clamp, so that a clamp-limited coil would offer a quarter more than clamp times
// turns; a loss resistance would weigh too little beside the shunt of a fouled plug. The flux that is lost leaves
// through the clamp all the same: the coil's terminal shows its volt-seconds as the spike at switching off (spike).
type Discharge struct {
	Feed, FeedOhms float64 // what drives the primary: volts and ohms on the battery's side, winding included
	Sink, SinkOhms float64 // the closed switch and its way to ground
	Limit          float64 // amperes
	Side           Secondary
	SecondOhms     float64
	Shunt          float64 // Ohms across the secondary, +Inf for none
	Twin           bool    // the secondary floats between two towers
	Dwell          float64 // seconds the switch is closed
	Needs          float64 // Volts at which a spark jumps; +Inf for none
	Burn           float64 // Volts across the burning spark, see BurnVolts
	SparkOhms      float64 // of leads and plugs in series with the spark
}

const (
	// DwellCoupling of the windings while the coil charges: closed cores 0.95-0.98, canisters and pencils 0.85-0.95,
	// from memory. The leakage keeps the current from leaping to what charges the secondary's capacitance, so that the
	// ramp begins with a small ripple; a leap at switch-on is the sign of shorted turns.
	DwellCoupling = 0.96
	// TightCoupling is that of the release, where the transfer stands for all losses; what is missing to 1 only keeps
	// the inductances apart.
	TightCoupling = 0.9999

	burnOhms   = 500  // common practice, no source
	holdAmps   = 5e-3 // below which the spark goes out; common practice, no source
	OpenOhms   = 1e7  // of the open switch; common practice, no source
	ClampOhms  = 1    // common practice, no source
	absentOhms = 1e12 // of what is not there
)

// HasSecondary reports whether the secondary takes part.
func (d *Discharge) HasSecondary() bool { return !math.IsInf(d.SecondOhms, 1) }

// windings is a coil in a Transient.
type windings struct {
	transient.Circuit
	plus, minus, tower, foot transient.Node
	primary, second, charge  transient.Element
}

// windings begins a circuit: source, primary, clamp and the secondary with its coupling, its capacitance and what
// shunts it, in ohms.
func (d *Discharge) windings(shunt, coupling float64) *windings {
	w := &windings{}
	w.plus, w.minus = w.Node("coil +"), w.Node("coil -")
	w.Source("feed", w.plus, transient.Reference, transient.Steady(d.Feed), d.FeedOhms)
	w.primary = w.Inductor("primary", w.plus, w.minus, d.Side.Henries, 0)
	w.Clamp("clamp", w.minus, transient.Reference, d.Side.Clamp, ClampOhms)
	w.tower, w.foot = w.minus, w.minus
	if !d.HasSecondary() {
		return w
	}
	w.tower, w.foot = w.Node("tower"), w.plus
	far := transient.Reference
	if d.Twin {
		w.foot, far = transient.Reference, transient.Reference
	}
	w.second = w.Inductor("secondary", w.tower, w.foot, d.Side.Henries*d.Side.Ratio*d.Side.Ratio, d.SecondOhms)
	w.Couple(w.primary, w.second, coupling)
	w.charge = w.Capacitor("secondary capacitance", w.tower, far, d.Side.Farads)
	if !math.IsInf(shunt, 1) {
		w.Resistor("shunt", w.tower, far, shunt)
	}
	return w
}

// The probes of a run.
const (
	PrimaryAmps = iota
	MinusVolts  // coil - to ground
	TowerVolts  // the tower to the secondary's far end
)

// run follows the coil to an end in seconds.
func (w *windings) run(until float64) (*transient.Trace, error) {
	return w.Run(transient.Options{Until: until, MaxStep: until / 100},
		transient.AmpsOf(w.primary), transient.VoltsOf(w.minus, transient.Reference), transient.VoltsOf(w.tower,
			transient.Reference))
}

// Charge follows the dwell from the moment the switch closes. Leaks show at high voltage only, and of the kilovolt at
// the secondary a plug sees nothing behind the rotor's gap or the diode of a coil without one (common practice, no
// source), so nothing but the iron's loss shunts it.
func (d *Discharge) Charge() (*transient.Trace, error) {
	w := d.windings(math.Inf(1), DwellCoupling)
	if d.HasSecondary() {
		w.Resistor("iron", w.tower, w.foot, d.IronOhms())
	}
	w.LimitedSwitch("switch", w.minus, transient.Reference,
		transient.Driver{SaturationVolts: d.Sink, OnOhms: d.SinkOhms, LimitAmps: d.Limit, OffOhms: OpenOhms}, 0)
	return w.run(d.Dwell)
}

// Release follows the coil from the opening of its switch, with amps in the primary and volts at the tower, for some
// seconds. burning is when the spark breaks down and when it is over; both are 0 without a spark.
func (d *Discharge) Release(amps, volts, seconds float64) (tr *transient.Trace, burning [2]float64, err error) {
	never := math.Inf(1)
	w, gap := d.opened(amps, volts, never)
	tr, err = w.run(seconds)
	if err != nil || !d.HasSecondary() {
		return tr, burning, err
	}
	calm := PeakTime(tr)
	if !math.IsInf(d.Needs, 1) {
		if at, ok := tr.First(gap, transient.BreaksDown, 0); ok {
			burning = [2]float64{at, seconds}
			if end, ok := tr.First(gap, transient.GoesOut, at); ok {
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

// opened is the coil after its switch has opened. From calm on the iron takes in every quarter of a swing what it has
// taken in the first rise; before, that loss is taken already.
func (d *Discharge) opened(amps, volts, calm float64) (w *windings, gap transient.Element) {
	w = d.windings(d.Shunt, TightCoupling)
	w.Resistor("open switch", w.minus, transient.Reference, OpenOhms)
	if !d.HasSecondary() {
		w.Preset(w.primary, amps)
		return w, gap
	}
	w.Preset(w.second, math.Sqrt(d.Side.Transfer)*amps/d.Side.Ratio)
	w.Preset(w.charge, volts)
	if !math.IsInf(d.Needs, 1) {
		gap = w.Gap("spark", w.tower, transient.Reference, transient.Gap{BreakdownVolts: d.Needs,
			BurnVolts: math.Min(d.Burn, d.Needs),
			BurnOhms:  burnOhms + d.SparkOhms, HoldAmps: holdAmps})
	}
	if !math.IsInf(calm, 1) {
		w.Switch("iron", w.tower, w.foot, d.IronOhms(), absentOhms, calm)
	}
	return w, gap
}

// IronOhms is the resistance across the secondary that takes 1 - transfer of the energy in a quarter of a swing.
//
//	e^(-2 zeta pi/2) = transfer, R = sqrt(L/C) / (2 zeta)
//
// Source: decay of the parallel RLC circuit at light damping, textbook.
func (d *Discharge) IronOhms() float64 {
	zeta := -math.Log(d.Side.Transfer) / math.Pi
	return math.Min(absentOhms, math.Sqrt(d.Side.Henries/d.Side.Farads)*d.Side.Ratio/(2*zeta))
}

// PeakTime is when the secondary is highest, of either sign.
func PeakTime(tr *transient.Trace) float64 {
	best := 0
	for i, y := range tr.Value[TowerVolts] {
		if math.Abs(y) > math.Abs(tr.Value[TowerVolts][best]) {
			best = i
		}
	}
	return tr.Time[best]
}

// Spike puts into the voltage of coil - what the lost flux adds: the switch's voltage stays at the clamp until the flux
// has left. Faraday's law asks for it: over a cycle the terminal must give back the volt-seconds L i of the whole flux.
func (d *Discharge) Spike(amps float64, x, y []float64) (xs, ys []float64) {
	flux := 0.0
	if d.HasSecondary() {
		flux = (1 - math.Sqrt(d.Side.Transfer)) * d.Side.Henries * amps
	}
	for i := range x {
		if flux <= 0 {
			return append(xs, x[i:]...), append(ys, y[i:]...)
		}
		xs, ys = append(xs, x[i]), append(ys, math.Max(y[i], d.Side.Clamp))
		if i+1 == len(x) || x[i+1] == x[i] {
			continue
		}
		width, room := x[i+1]-x[i], d.Side.Clamp-(y[i]+y[i+1])/2
		if room <= 0 {
			continue
		}
		if part := flux / (room * width); part < 1 { // it ends within this step
			at := x[i] + part*width
			xs, ys = append(xs, at, at), append(ys, d.Side.Clamp, y[i]+part*(y[i+1]-y[i]))
		}
		flux -= room * width
	}
	return xs, ys
}
