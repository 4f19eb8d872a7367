// Package trace is a quantity over time, as an oscilloscope draws it.
package trace

import "math"

// Trace is one quantity over time.
type Trace struct {
	Title, Unit string
	X           []float64 // seconds, never falling; a jump has two entries
	Y           []float64 // in the unit: volts or amperes
}

// Extremes are the lowest and the highest value.
func (t Trace) Extremes() (low, high float64) {
	low, high = math.Inf(1), math.Inf(-1)
	for _, y := range t.Y {
		low, high = math.Min(low, y), math.Max(high, y)
	}
	return low, high
}

// Thin leaves out entries that straight lines between those left can spare: no value moves by more than share of the
// trace's range, for example 0.002 for half a pixel of a picture 250 high. Jumps stay.
func (t Trace) Thin(share float64) Trace {
	low, high := t.Extremes()
	off := share * (high - low)
	out := Trace{Title: t.Title, Unit: t.Unit}
	keep := func(i int) { out.X, out.Y = append(out.X, t.X[i]), append(out.Y, t.Y[i]) }
	for from := 0; from < len(t.X); {
		keep(from)
		// From the entry kept, every entry passed by leaves a cone of slopes that go near enough; the next one kept
		// must lie in all.
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

// Seen leaves out single entries that stand apart from both neighbors for less than 10 ns, the moment in which a switch
// blocks: no oscilloscope of a workshop shows them.
func (t Trace) Seen() Trace {
	const unseen = 10e-9
	out := Trace{Title: t.Title, Unit: t.Unit}
	for i := range t.X {
		if i > 0 && i+1 < len(t.X) && t.X[i+1] > t.X[i] && t.X[i+1]-t.X[i-1] < unseen {
			low, high := math.Min(t.Y[i-1], t.Y[i+1]), math.Max(t.Y[i-1], t.Y[i+1])
			if t.Y[i] < low-1 || t.Y[i] > high+1 {
				continue
			}
		}
		out.X, out.Y = append(out.X, t.X[i]), append(out.Y, t.Y[i])
	}
	return out
}

// Since counts the time from another moment.
func (t Trace) Since(moment float64) Trace {
	out := Trace{Title: t.Title, Unit: t.Unit, X: make([]float64, len(t.X)), Y: t.Y}
	for i := range t.X {
		out.X[i] = t.X[i] - moment
	}
	return out
}

// Within is the part of a trace from one moment to another; where it is longer than that, it begins and ends there.
func (t Trace) Within(from, to float64) Trace {
	out := Trace{Title: t.Title, Unit: t.Unit}
	keep := func(x, y float64) { out.X, out.Y = append(out.X, x), append(out.Y, y) }
	for i := range t.X {
		if i > 0 && t.X[i] > t.X[i-1] {
			for _, edge := range []float64{from, to} {
				if t.X[i-1] < edge && edge < t.X[i] {
					keep(edge, t.Y[i-1]+(t.Y[i]-t.Y[i-1])*(edge-t.X[i-1])/(t.X[i]-t.X[i-1]))
				}
			}
		}
		if t.X[i] >= from && t.X[i] <= to {
			keep(t.X[i], t.Y[i])
		}
	}
	return out
}
