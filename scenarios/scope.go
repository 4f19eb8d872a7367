package scenarios

import (
	"slices"

	"nospark/scenarios/vehicle"
)

// A plan with scope = true lets the partner show an oscilloscope picture with two lines: the coil's peak current and the available voltage,
// both while cranking, which every vehicle can be asked for. Where the pictures stand, their number and their scales are the same on every
// sheet; only the curves depend on what is hidden.

// Trace is an oscilloscope picture of a sheet, frozen with it.
type Trace struct {
	Test int       `json:"test"`
	X    []float64 `json:"x"` // seconds
	Y    []float64 `json:"y"` // amperes or kilovolts
}

// screen is how one quantity is shown.
type screen struct {
	instrument string // the line that it belongs to
	quantity   string // title of the bench's trace
	title      string
	unit       string
	from, to   float64 // of the scale
	division   float64
}

var screens = []screen{
	{"ammeter", "primary current", "coil primary current", "A", -2, 10, 2},
	{"kv-available", "secondary voltage, negative up", "secondary voltage, cylinder 1", "kV", -20, 40, 10},
}

// The time axis: seconds before and after the moment at which the switch opens.
const (
	scopeBefore   = 8e-3
	scopeAfter    = 4e-3
	scopeDivision = 2e-3
)

// scoped lists the tests of the lab that have a picture: for each screen the first one while cranking.
func (d *drawer) scoped() []int {
	list := make([]int, len(screens))
	for i, s := range screens {
		list[i] = slices.IndexFunc(d.tests, func(test int) bool {
			t := &d.p.Tests[test]
			return t.Instrument.ID == s.instrument && d.p.Conditions[t.Condition].Cranking()
		})
	}
	return list
}

// traces are the pictures of a vehicle. A vehicle in which nothing happens in time has flat lines.
func (d *drawer) traces(v *vehicle.Vehicle) []Trace {
	var out []Trace
	for i, test := range d.scoped() {
		if test < 0 {
			continue
		}
		t := Trace{Test: test, X: []float64{-scopeBefore, scopeAfter}, Y: []float64{0, 0}}
		if e, err := v.Event(d.p.Tests[d.tests[test]].Condition, 0); err == nil {
			for _, curve := range e.Traces {
				if curve.Title == screens[i].quantity && len(curve.X) > 1 {
					t.X, t.Y = cut(curve, e.Opens)
				}
			}
		}
		out = append(out, t)
	}
	return out
}

// cut brings a curve to the time axis of the screen, with the moment of opening at 0.
func cut(curve vehicle.Trace, opens float64) (x, y []float64) {
	const picture = 0.004 // of the range: less than the width of the line
	for i := range curve.X {
		at := curve.X[i] - opens
		if at >= -scopeBefore && at <= scopeAfter {
			x, y = append(x, at), append(y, curve.Y[i])
		}
	}
	if len(x) < 2 {
		return []float64{-scopeBefore, scopeAfter}, []float64{0, 0}
	}
	thin := vehicle.Trace{X: x, Y: y}.Thin(picture)
	return thin.X, thin.Y
}

// plots puts the pictures of a sheet on their screens.
func (s *Sheet) plots(l *Lab) []Plot {
	var out []Plot
	for _, t := range s.Traces {
		for _, sc := range screens {
			if l.Tests[t.Test].Instrument != sc.instrument {
				continue
			}
			x := make([]float64, len(t.X))
			for i := range x {
				x[i] = 1e3 * t.X[i]
			}
			out = append(out, Plot{Line: s.Lines[t.Test].Number, Title: sc.title, XLabel: "ms", YLabel: sc.unit, X: x, Y: t.Y,
				XFrom: -1e3 * scopeBefore, XTo: 1e3 * scopeAfter, XPerDivision: 1e3 * scopeDivision,
				YFrom: sc.from, YTo: sc.to, YPerDivision: sc.division})
		}
	}
	return out
}
