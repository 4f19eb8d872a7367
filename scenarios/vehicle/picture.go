package vehicle

import (
	"fmt"
	"slices"

	"nospark/scenarios/pack"
	"nospark/scenarios/pack/cards"
	"nospark/scenarios/vehicle/trace"
)

// SignalSeconds is how long a picture of a signal is: more than a turn of the crank while cranking.
const SignalSeconds = 0.4

// Picture is what the oscilloscope of a test shows. Time 0 is where the coil's switch opens or its command ends; of a
// signal, where the picture begins. Where nothing happens the trace is flat, and where the engine does not run there is
// none at all: the line at 0.
//
// Errors: a test of another instrument, a circuit that cannot be solved.
func (v *Vehicle) Picture(test int) (trace.Trace, error) {
	t := &v.l.p.Tests[test]
	if !t.Instrument.Scope() {
		return trace.Trace{}, fmt.Errorf("test %q is not made with an oscilloscope", t.ID)
	}
	v = v.under(v.provocation(t.Condition))
	v.blowFuses()
	if !v.reaches(t.Condition) {
		return flat("", "", 0), nil
	}
	switch st := v.state(t); {
	case v.err != nil:
		return trace.Trace{}, v.err
	case t.Instrument.ID == cards.ScopeCurrent && (st.rpm == 0 || v.features(st, t).peak == 0):
		return flat(currentTitle, "A", v.features(st, t).level), nil
	case t.Instrument.ID == cards.ScopePrimary && v.features(st, t).dwell == 0:
		return flat(primaryTitle, "V", v.features(st, t).calm), nil
	case t.Instrument.ID == cards.ScopeSignal, t.Instrument.ID == cards.ScopeWave:
		return v.signal(st, t), nil
	case st.rpm == 0:
		return flat(secondaryTitle, "kV", 0), nil
	}
	return v.pictured(t)
}

// flat is the picture of what does not change.
func flat(title, unit string, y float64) trace.Trace {
	return trace.Trace{Title: title, Unit: unit, X: []float64{-SignalSeconds, SignalSeconds}, Y: []float64{y, y}}
}

// pictured follows the coil of a test in time.
func (v *Vehicle) pictured(t *pack.Test) (trace.Trace, error) {
	title, cylinder := secondaryTitle, -1
	switch t.Instrument.ID {
	case cards.ScopeSecondary:
		cylinder = v.l.cylinderAt(t.Red)
	case cards.ScopePrimary:
		title, cylinder = primaryTitle, v.l.firstOf(v.l.channelOf(t.Part))
	default:
		title, cylinder = currentTitle, v.l.firstOf(v.l.channelOf(t.Part))
	}
	if cylinder < 0 {
		return flat(title, "", 0), nil
	}
	e, err := v.Event(t.Condition, cylinder)
	if err != nil {
		return trace.Trace{}, err
	}
	for _, tr := range e.Traces {
		if tr.Title == title {
			// what went before is the end of the last period
			last, tr := tr.Since(e.Opens+e.Period), tr.Since(e.Opens)
			last.X, last.Y = append(last.X, tr.X...), append(slices.Clone(last.Y), tr.Y...)
			return last.Seen(), nil
		}
	}
	panic("vehicle: an event without its " + title)
}

// signal is the crank sensor's signal between the leads of a test.
func (v *Vehicle) signal(st *state, t *pack.Test) trace.Trace {
	red, black := v.node(t.Red), v.node(t.Black)
	at := func(s *solved) float64 { return s.metered(red, black) }
	if st.low == nil || v.l.sensor < 0 {
		return level("signal", "V", SignalSeconds, at(st.high))
	}
	step := v.given() / st.pulses
	if v.l.kinds[v.l.sensor] == "pickup" { // so that a wave comes before and after one that is left out
		return v.cycle(st, at, "signal", SignalSeconds, step/2, 1-v.given())
	}
	return v.cycle(st, at, "signal", SignalSeconds, step, 1-v.given())
}
