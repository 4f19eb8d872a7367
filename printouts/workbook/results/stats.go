package results

import (
	"math"
	"slices"
)

// mean is the arithmetic mean; NaN, an empty cell, for no values.
func mean(values []float64) float64 {
	sum := 0.0
	for _, v := range values {
		sum += v
	}
	return sum / float64(len(values))
}

// median is the middle value, or the mean of the two in the middle; NaN for no values.
func median(values []float64) float64 {
	sorted := slices.Sorted(slices.Values(values))
	n := len(sorted)
	if n == 0 {
		return math.NaN()
	}
	return (sorted[(n-1)/2] + sorted[n/2]) / 2
}

// deviation is the standard deviation with divisor N, the root of the mean squared distance from the mean; NaN below
// two values, which have no spread to speak of.
func deviation(values []float64) float64 {
	if len(values) < 2 {
		return math.NaN()
	}
	m, sum := mean(values), 0.0
	for _, v := range values {
		sum += (v - m) * (v - m)
	}
	return math.Sqrt(sum / float64(len(values)))
}

// lowest and highest are NaN for no values.
func lowest(values []float64) float64 {
	if len(values) == 0 {
		return math.NaN()
	}
	return slices.Min(values)
}

func highest(values []float64) float64 {
	if len(values) == 0 {
		return math.NaN()
	}
	return slices.Max(values)
}

// share is k of n; NaN of none.
func share(k, n int) float64 { return float64(k) / float64(n) }
