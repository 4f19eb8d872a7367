package transient

import (
	"math"
	"sort"
)

// Probe is something to record: the voltage between two nodes or the current
// of an element. Make one with VoltsOf or AmpsOf.
type Probe struct {
	a, b    Node
	element Element
	isAmps  bool
}

// VoltsOf records the voltage of a above b.
func VoltsOf(a, b Node) Probe { return Probe{a: a, b: b} }

// AmpsOf records the current through an element from its first to its second
// node.
func AmpsOf(e Element) Probe { return Probe{element: e, isAmps: true} }

// Change is what happened to an element at a moment.
type Change string

const (
	Closes     Change = "closes"      // a switch
	Opens      Change = "opens"       // a switch
	Rises      Change = "rises"       // a clamp begins to conduct, a driver leaves cut-off or begins to limit
	Falls      Change = "falls"       // the reverse
	BreaksDown Change = "breaks down" // a gap
	GoesOut    Change = "goes out"    // a gap
)

// Event is a Change with its element and time in seconds.
type Event struct {
	Time    float64
	Element Element
	Change  Change
}

// Trace is the record of a run.
type Trace struct {
	Time   []float64   // seconds, never falling; an event has two entries, before and after
	Value  [][]float64 // by probe, by time: volts or amperes
	Events []Event
}

// At is the value of a probe at a time, by straight lines between the recorded
// ones; the last value applies after the end, and at an event the one after it.
func (tr *Trace) At(probe int, seconds float64) float64 {
	v := tr.Value[probe]
	i := sort.Search(len(tr.Time), func(i int) bool { return tr.Time[i] > seconds })
	switch i {
	case 0:
		return v[0]
	case len(v):
		return v[i-1]
	}
	f := (seconds - tr.Time[i-1]) / (tr.Time[i] - tr.Time[i-1])
	return v[i-1] + f*(v[i]-v[i-1])
}

// Extremes returns the lowest and highest recorded value of a probe between
// two times.
func (tr *Trace) Extremes(probe int, from, to float64) (low, high float64) {
	low, high = math.Inf(1), math.Inf(-1)
	for i, at := range tr.Time {
		if at >= from && at <= to {
			low, high = math.Min(low, tr.Value[probe][i]), math.Max(high, tr.Value[probe][i])
		}
	}
	return low, high
}

// First is the time of the first such change of an element at or after a
// time; ok is false if there was none.
func (tr *Trace) First(e Element, change Change, after float64) (seconds float64, ok bool) {
	for _, ev := range tr.Events {
		if ev.Element == e && ev.Change == change && ev.Time >= after {
			return ev.Time, true
		}
	}
	return 0, false
}
