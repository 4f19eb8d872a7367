package results

import (
	"math"
	"testing"
)

// Anscombe's first set (The American Statistician 27, 1973; from memory): y has mean 7.50 and, with divisor N, standard
// deviation 1.937.
func TestStats(t *testing.T) {
	check := func(what string, got, want float64) {
		t.Helper()
		if math.IsNaN(got) != math.IsNaN(want) || math.Abs(got-want) > 0.001 {
			t.Errorf("%s is %v, want %v", what, got, want)
		}
	}
	y := []float64{8.04, 6.95, 7.58, 8.81, 8.33, 9.96, 7.24, 4.26, 10.84, 4.82, 5.68}
	check("mean", mean(y), 7.5009)
	check("deviation", deviation(y), 1.9370)
	check("median", median(y), 7.58)
	check("lowest", lowest(y), 4.26)
	check("highest", highest(y), 10.84)
	check("median of two", median([]float64{1, 2}), 1.5)
	for _, f := range []func([]float64) float64{mean, median, deviation, lowest, highest} {
		check("a figure of nothing", f(nil), math.NaN())
	}
	check("spread of one value", deviation([]float64{5}), math.NaN())
	check("share of none", share(0, 0), math.NaN())
}
