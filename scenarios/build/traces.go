package build

import (
	"slices"

	"nospark/scenarios/lab"
	"nospark/scenarios/vehicle"
)

// scoped lists the tests of the lab that have a picture: for each screen the first one while cranking.
func (d *drawer) scoped() []int {
	list := make([]int, len(lab.Screens))
	for i, s := range lab.Screens {
		list[i] = slices.IndexFunc(d.tests, func(test int) bool {
			t := &d.p.Tests[test]
			return t.Instrument.ID == s.Instrument && d.p.Conditions[t.Condition].Cranking()
		})
	}
	return list
}

// traces are the pictures of a vehicle. A vehicle in which nothing happens in time has flat lines.
func (d *drawer) traces(v *vehicle.Vehicle) []lab.Trace {
	var out []lab.Trace
	for i, test := range d.scoped() {
		if test < 0 {
			continue
		}
		t := lab.Trace{Test: test, X: []float64{-lab.ScopeBefore, lab.ScopeAfter}, Y: []float64{0, 0}}
		if e, err := v.Event(d.p.Tests[d.tests[test]].Condition, 0); err == nil {
			for _, curve := range e.Traces {
				if curve.Title == lab.Screens[i].Quantity && len(curve.X) > 1 {
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
		if at >= -lab.ScopeBefore && at <= lab.ScopeAfter {
			x, y = append(x, at), append(y, curve.Y[i])
		}
	}
	if len(x) < 2 {
		return []float64{-lab.ScopeBefore, lab.ScopeAfter}, []float64{0, 0}
	}
	thin := vehicle.Trace{X: x, Y: y}.Thin(picture)
	return thin.X, thin.Y
}
