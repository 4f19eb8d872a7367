package vehicle

import (
	"fmt"
	"math"

	"nospark/scenarios/circuit"
	"nospark/scenarios/vehicle/coil"
	"nospark/scenarios/vehicle/trace"
)

// Event is one charging of a coil and what follows, as an oscilloscope would show it: one period from event to event,
// beginning shortly before the switch closes.
type Event struct {
	Period        float64    // seconds
	Closes, Opens float64    // of the switch, or of the command that it does not follow; 0 when there is none
	Burning       [2]float64 // from breakdown to the end of the spark, 0 without a spark
	// sensor signal and command where there are such, primary current, primary voltage, secondary voltage
	Traces []trace.Trace
	coil   *coil.Discharge // nil when the coil is not charged
}

// What the traces of a coil are called. Ignition oscilloscopes show the firing line, which is negative to ground, point
// up.
const (
	currentTitle   = "primary current"
	primaryTitle   = "primary voltage at coil -"
	secondaryTitle = "secondary voltage, negative up"
)

// before is how much of the time between two dwells an event shows before the switch closes.
const before = 0.1

// Event follows the coil of a cylinder (from 0, in the order of the pack's plugs) through one ignition in a condition.
// The primary's feed, the switch, dwell and limits are those that the settled vehicle has; a part that does not work
// leaves flat lines.
//
// Errors: a condition that the vehicle does not reach or in which the engine stands, a plug that no coil reaches, a
// circuit that cannot be solved.
func (v *Vehicle) Event(condition, cylinder int) (*Event, error) {
	id := v.l.p.Conditions[condition].ID
	v = v.under(v.provocation(condition))
	if !v.reaches(condition) {
		return nil, fmt.Errorf("the engine does not run in condition %q, so there is nothing to see", id)
	}
	st := v.plain(condition)
	switch {
	case v.err != nil:
		return nil, v.err
	case st.rpm == 0:
		return nil, fmt.Errorf("the engine stands in condition %q, so nothing happens in time", id)
	}
	k := v.l.towers[v.l.p.Parts[v.l.plugs[cylinder]].Pins[0]].channel
	if k < 0 {
		return nil, fmt.Errorf("no coil reaches the plug of cylinder %d", cylinder+1)
	}
	e, ch := &Event{Period: v.given() / st.firing}, &st.charges[k]
	if ch.start != nil {
		e.Closes = before * (e.Period - ch.time)
		e.Opens = e.Closes + ch.time
	}
	v.addSensor(e, st)
	v.addCommand(e, st, k)
	if ch.amps == 0 {
		v.addIdle(e, st, k)
		return e, nil
	}
	var err error
	if e.coil, err = v.discharge(st, k, cylinder); err != nil {
		return nil, err
	}
	return e, e.addCoil()
}

// discharge gathers what one ignition of a cylinder depends on.
func (v *Vehicle) discharge(st *state, k, cylinder int) (*coil.Discharge, error) {
	ch, c := &st.charges[k], &v.dev.coils[k]
	loaded, err := v.solve(&st.setup, &st.on, phase{high: true, rpm: st.rpm, channel: k, drive: charging,
		amps: ch.amps})
	if err != nil {
		return nil, err
	}
	defer v.pool.give(loaded)
	// The Thevenin equivalent that the inductance sees, split at coil -: what the terminal shows with and without
	// current is the switch's side, the remainder is the feed's.
	sink := math.Max(0, ch.start.Between(c.minus, circuit.Reference))
	sinkOhms := math.Max(1e-4, (loaded.Between(c.minus, circuit.Reference)-ch.start.Between(c.minus,
		circuit.Reference))/ch.amps)
	d := &coil.Discharge{Feed: ch.ramp.Volts + sink, FeedOhms: math.Max(0, ch.ramp.Ohms-sinkOhms), Sink: sink,
		SinkOhms: sinkOhms,
		Limit:    ch.ramp.Limit, Side: c.side, SecondOhms: c.secondOhms, Twin: c.twin, Dwell: ch.time}
	part := v.l.plugs[cylinder]
	d.Shunt, d.Needs = v.burden(st, cylinder, v.cylinder(st, cylinder))
	d.Burn = coil.BurnVolts(v.value(part, "gap_mm"), v.l.p.Conditions[st.setup.condition].PressureBar)
	d.SparkOhms = v.sparkOhms(k, part) - c.secondOhms
	return d, nil
}

// addCoil runs the coil and adds its traces.
func (e *Event) addCoil() error {
	d := e.coil
	up, err := d.Charge()
	if err != nil {
		return err
	}
	last := len(up.Time) - 1
	amps, volts := up.Value[coil.PrimaryAmps][last], 0.0
	if d.HasSecondary() {
		volts = up.Value[coil.TowerVolts][last]
	}
	down, burning, err := d.Release(amps, volts, e.Period-e.Opens)
	if err != nil {
		return err
	}
	if burning[1] > 0 {
		e.Burning = [2]float64{e.Opens + burning[0], e.Opens + burning[1]}
	}
	// Before the switch closes the coil has come to rest.
	join := func(title, unit string, calm float64, probe int, x, y []float64) {
		t := trace.Trace{Title: title, Unit: unit, X: []float64{0, e.Closes}, Y: []float64{calm, calm}}
		for i := range up.Time {
			t.X, t.Y = append(t.X, e.Closes+up.Time[i]), append(t.Y, up.Value[probe][i])
		}
		for i := range x {
			t.X, t.Y = append(t.X, e.Opens+x[i]), append(t.Y, y[i])
		}
		e.Traces = append(e.Traces, t)
	}
	join(currentTitle, "A", 0, coil.PrimaryAmps, down.Time, down.Value[coil.PrimaryAmps])
	x, y := d.Spike(amps, down.Time, down.Value[coil.MinusVolts])
	join(primaryTitle, "V", d.Feed, coil.MinusVolts, x, y)
	if !d.HasSecondary() {
		e.Traces = append(e.Traces, level(secondaryTitle, "kV", e.Period, 0))
		return nil
	}
	rest := d.Feed
	if d.Twin {
		rest = 0
	}
	join(secondaryTitle, "kV", rest, coil.TowerVolts, down.Time, down.Value[coil.TowerVolts])
	tower := e.Traces[len(e.Traces)-1].Y
	for i := range tower {
		tower[i] *= -1e-3
	}
	return nil
}

// addIdle adds the traces of a coil that is not charged: the voltages follow the command at best, the current is what
// always flows.
func (v *Vehicle) addIdle(e *Event, st *state, k int) {
	c := &v.dev.coils[k]
	e.Traces = append(e.Traces, level(currentTitle, "A", e.Period, v.standing(st, k)),
		v.stepped(e, st, k, primaryTitle, c.minus), level(secondaryTitle, "kV", e.Period, 0))
}

func level(title, unit string, period, y float64) trace.Trace {
	return trace.Trace{Title: title, Unit: unit, X: []float64{0, period}, Y: []float64{y, y}}
}

// addCommand adds the command at the driver's pin.
func (v *Vehicle) addCommand(e *Event, st *state, k int) {
	if n := v.l.channels[k].command; n >= 0 {
		e.Traces = append(e.Traces, v.stepped(e, st, k, "command", v.l.node[n]))
	}
}

// stepped is the voltage of a node to ground, outside and within the dwell.
func (v *Vehicle) stepped(e *Event, st *state, k int, title string, n circuit.Node) trace.Trace {
	off := st.high.Between(n, circuit.Reference)
	if st.charges[k].start == nil {
		return level(title, "V", e.Period, off)
	}
	on := st.charges[k].start.Between(n, circuit.Reference)
	return trace.Trace{Title: title, Unit: "V", X: []float64{0, e.Closes, e.Closes, e.Opens, e.Opens, e.Period},
		Y: []float64{off, off, on, on, off, off}}
}

// addSensor adds the crank sensor's signal, in step with the spark: the output closes when the switch opens.
func (v *Vehicle) addSensor(e *Event, st *state) {
	if v.l.sensor < 0 || st.low == nil {
		return
	}
	red, black := circuit.Reference, circuit.Reference
	if v.l.kinds[v.l.sensor] == "pickup" {
		red, black = v.dev.pickups[0].plus, v.dev.pickups[0].minus
	} else {
		red = v.dev.halls[0].signal
	}
	e.Traces = append(e.Traces, v.cycle(st, func(s *solved) float64 { return s.Between(red, black) }, "sensor signal",
		e.Period, e.Opens, 0)) // the pulse of a spark has come
}

// cycle is a quantity that follows the crank sensor, over a time in seconds; at end the sensor's output closes, or
// would close: the share of pulses that are missing begins with that one.
func (v *Vehicle) cycle(st *state, at func(*solved) float64, title string, seconds, end, missed float64) trace.Trace {
	high, low, step := at(st.high), at(st.low), v.given()/st.pulses
	t := trace.Trace{Title: title, Unit: "V"}
	if v.l.kinds[v.l.sensor] == "pickup" {
		points := int(math.Ceil(48 * seconds / step))
		for i := range points + 1 {
			x, swing := seconds*float64(i)/float64(points), (high-low)/2
			if missing(int(math.Floor((x-end)/step)), missed) {
				swing = 0
			}
			t.X, t.Y = append(t.X, x), append(t.Y, (high+low)/2-swing*math.Sin(2*math.Pi*(x-end)/step))
		}
		return t
	}
	share := v.openPart()
	// The position in the sensor's cycle counts from the closing of the output; it opens when the low share is over.
	for x := end - math.Ceil(end/step)*step; x < seconds; x += step {
		closed := low
		if missing(int(math.Round((x-end)/step)), missed) {
			closed = high
		}
		for _, piece := range [][3]float64{{x, x + (1-share)*step, closed}, {x + (1-share)*step, x + step, high}} {
			if from, to := math.Max(0, piece[0]), math.Min(seconds, piece[1]); from < to {
				t.X, t.Y = append(t.X, from, to), append(t.Y, piece[2], piece[2])
			}
		}
	}
	return t
}

// missing tells which pulses of a damaged wheel's signal do not come, spread evenly; the one with number 0 is the
// first.
func missing(pulse int, share float64) bool {
	return share > 0 && math.Floor(float64(pulse)*share) > math.Floor(float64(pulse-1)*share)
}
