package statistics

import (
	"math"
	"testing"
)

// TestMannKendall: upper tails of Kendall's table (Hollander and Wolfe, Nonparametric Statistical Methods; from
// memory).
func TestMannKendall(t *testing.T) {
	rising := func(n, s int) []float64 { // n values whose pairs rise s more often than they fall
		values := make([]float64, n)
		for i := range values {
			values[i] = float64(i)
		}
		for fall := (n*(n-1)/2 - s) / 2; fall > 0; fall-- { // each exchange of neighbors adds one falling pair
			for i := 1; i < n; i++ {
				if values[i-1] < values[i] {
					values[i-1], values[i] = values[i], values[i-1]
					break
				}
			}
		}
		return values
	}
	check := func(n, s int, upper float64, decimals int) {
		t.Helper()
		got, p := MannKendall(rising(n, s))
		if got != s {
			t.Errorf("n %d: s %d, want %d", n, got, s)
		}
		near(t, "upper tail", p/2, upper, decimals)
	}
	check(4, 6, .042, 3)
	check(5, 8, .042, 3)
	check(5, 10, .0083, 4)
	check(7, 15, .015, 3)
	check(8, 16, .031, 3)
	check(10, 21, .036, 3)
	check(10, 23, .023, 3)
	if s, p := MannKendall([]float64{3, 3, 3}); s != 0 || p < 1-1e-9 {
		t.Errorf("ties: %d, %v", s, p)
	}
	if s, p := MannKendall(nil); s != 0 || p != 1 {
		t.Errorf("nothing: %d, %v", s, p)
	}
	if s, _ := MannKendall([]float64{3, 2, 1}); s != -3 {
		t.Errorf("falling: %d", s)
	}
}

// TestMeans: by hand. Two samples of three with variance 1 have 4 degrees of freedom, t 2.776; three others leave 2, t
// 4.303 (table of Student's t, from memory).
func TestMeans(t *testing.T) {
	d := Welch([]float64{4, 5, 6}, []float64{1, 2, 3})
	near(t, "difference", d.Mean, 3, 9)
	near(t, "from", d.Low, 3-2.776*math.Sqrt(2./3), 3)
	near(t, "to", d.High, 3+2.776*math.Sqrt(2./3), 3)
	d = OneAgainst(7, []float64{1, 2, 3})
	near(t, "one against three", d.Mean, 5, 9)
	near(t, "from", d.Low, 5-4.303*math.Sqrt(4./3), 2)
	near(t, "to", d.High, 5+4.303*math.Sqrt(4./3), 2)
	for _, d := range []Difference{Welch([]float64{1}, []float64{1, 2}), OneAgainst(1, []float64{2})} {
		if !math.IsNaN(d.Mean) || !math.IsNaN(d.Low) {
			t.Errorf("too few: %+v", d)
		}
	}
}
