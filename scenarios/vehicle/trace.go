package vehicle

import "math"

// Trace is one quantity over time.
type Trace struct {
	Title, Unit string
	X           []float64 // seconds, never falling; a jump has two entries
	Y           []float64 // in the unit: volts or amperes
}

// Thin leaves out entries that straight lines between those left can spare: no value moves by more than share of the trace's range, for
// example 0.002 for half a pixel of a picture 250 high. Jumps stay.
func (t Trace) Thin(share float64) Trace {
	low, high := math.Inf(1), math.Inf(-1)
	for _, y := range t.Y {
		low, high = math.Min(low, y), math.Max(high, y)
	}
	off := share * (high - low)
	out := Trace{Title: t.Title, Unit: t.Unit}
	keep := func(i int) { out.X, out.Y = append(out.X, t.X[i]), append(out.Y, t.Y[i]) }
	for from := 0; from < len(t.X); {
		keep(from)
		// From the entry kept, every entry passed by leaves a cone of slopes that go near enough; the next one kept must lie in all.
		to, least, most := from+1, math.Inf(-1), math.Inf(1)
		for i := from + 1; i < len(t.X) && t.X[i] > t.X[from]; i++ {
			width, rise := t.X[i]-t.X[from], t.Y[i]-t.Y[from]
			if slope := rise / width; slope >= least && slope <= most {
				to = i
			}
			least, most = math.Max(least, (rise-off)/width), math.Min(most, (rise+off)/width)
			if least > most {
				break
			}
		}
		from = to
	}
	return out
}
