package build

import (
	"slices"

	"nospark/scenarios/lab"
	"nospark/scenarios/vehicle"
	"nospark/scenarios/vehicle/trace"
)

// traces are the pictures of a vehicle: one for every test with an oscilloscope; where there is none, one beside each
// of the readings that have one. A vehicle in which nothing happens in time has flat lines.
func (d *drawer) traces(v *vehicle.Vehicle) ([]lab.Trace, error) {
	var out []lab.Trace
	for i, test := range d.tests {
		if !d.p.Tests[test].Instrument.Scope() {
			continue
		}
		curve, err := v.Picture(test)
		if err != nil {
			return nil, err
		}
		out = append(out, cut(i, curve, d.screen(d.p.Tests[test].Instrument.ID)))
	}
	if out == nil {
		out = d.beside(v)
	}
	return out, nil
}

// screen is that of an instrument, with a time axis on which the longest dwell of the pack's modules can be seen.
func (d *drawer) screen(instrument string) *lab.Screen {
	dwell := 0.0
	for i := range d.p.Parts {
		for _, name := range []string{"dwell_10v_milliseconds", "dwell_14v_milliseconds"} {
			if part := &d.p.Parts[i]; part.Kind.Param(name) >= 0 {
				dwell = max(dwell, 1e-3*part.Value(name))
			}
		}
	}
	return lab.ScreenOf(instrument, -dwell)
}

// beside shows a picture beside the first reading while cranking of each instrument that has one.
func (d *drawer) beside(v *vehicle.Vehicle) []lab.Trace {
	var out []lab.Trace
	for k := range lab.Screens {
		s := &lab.Screens[k]
		if s.Beside == "" || s != d.screen(s.Instrument) {
			continue
		}
		i := slices.IndexFunc(d.tests, func(test int) bool {
			t := &d.p.Tests[test]
			return t.Instrument.ID == s.Instrument && d.p.Conditions[t.Condition].Cranking()
		})
		if i < 0 {
			continue
		}
		curve := trace.Trace{}
		if e, err := v.Event(d.p.Tests[d.tests[i]].Condition, 0); err == nil {
			for _, c := range e.Traces {
				if c.Title == s.Beside {
					curve = c.Since(e.Opens)
				}
			}
		}
		out = append(out, cut(i, curve, s))
	}
	return out
}

// cut brings a curve to the time axis of its screen, where it is flat when nothing is left of it.
func cut(test int, curve trace.Trace, s *lab.Screen) lab.Trace {
	const picture = 0.002 // of the range: less than the width of the line
	if curve = curve.Within(s.Begin, s.End); len(curve.X) < 2 {
		return lab.Trace{Test: test, X: []float64{s.Begin, s.End}, Y: []float64{0, 0}}
	}
	for i, y := range curve.Y { // what leaves the screen runs along its edge, and what stays on it is not coarser for it
		curve.Y[i] = max(s.From, min(s.To, y))
	}
	thin := curve.Thin(picture)
	return lab.Trace{Test: test, X: thin.X, Y: thin.Y}
}
