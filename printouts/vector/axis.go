package vector

import (
	"math"
	"strconv"
)

// Ticks gives round numbers that divide the range from low to high into at most n steps of 1, 2 or 5 times a power of
// ten. The first is at most low and the last at least high.
func Ticks(low, high float64, n int) []float64 {
	if !Finite(low) || !Finite(high) || high <= low {
		high = low + 1
	}
	rough := (high - low) / float64(max(n, 1))
	unit := math.Pow(10, math.Floor(math.Log10(rough)))
	step := 10 * unit
	for _, k := range []float64{1, 2, 5} {
		if k*unit >= rough*(1-1e-9) {
			step = k * unit
			break
		}
	}
	var out []float64
	for k := math.Floor(low/step + 1e-9); ; k++ {
		out = append(out, k*step)
		if k*step >= high-1e-9*step {
			return out
		}
	}
}

// TickText prints a tick without the noise of binary fractions.
func TickText(x float64) string {
	if text := strconv.FormatFloat(x, 'g', 10, 64); text != "-0" {
		return text
	}
	return "0"
}

// Axis maps values to millimeters.
type Axis struct {
	From, To   float64 // values at the two ends
	Start, End float64 // mm
}

// At is the place of a value.
func (a Axis) At(x float64) float64 {
	return a.Start + (x-a.From)/(a.To-a.From)*(a.End-a.Start)
}

// Finite tells whether a number can be a place.
func Finite(x float64) bool { return !math.IsNaN(x) && !math.IsInf(x, 0) }
