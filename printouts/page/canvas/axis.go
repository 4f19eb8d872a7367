package canvas

import (
	"math"
	"strconv"
)

// ticks gives round numbers that divide the range from low to high into at most n steps of 1, 2 or 5 times a power of
// ten. The first is at most low and the last at least high.
func ticks(low, high float64, n int) []float64 {
	if !finite(low) || !finite(high) || high <= low {
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

// figure prints a tick without the noise of binary fractions.
func figure(x float64) string {
	if text := strconv.FormatFloat(x, 'g', 10, 64); text != "-0" {
		return text
	}
	return "0"
}

// axis maps values to millimeters.
type axis struct {
	from, to   float64 // values at the two ends
	start, end float64 // mm
}

func (a axis) at(x float64) float64 {
	return a.start + (x-a.from)/(a.to-a.from)*(a.end-a.start)
}

func finite(x float64) bool { return !math.IsNaN(x) && !math.IsInf(x, 0) }
