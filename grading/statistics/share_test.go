package statistics

import (
	"math"
	"testing"
)

// near compares with a published value, which is rounded to so many decimals.
func near(t *testing.T, name string, got, want float64, decimals int) {
	t.Helper()
	if !(math.Abs(got-want) <= 0.5000001*math.Pow10(-decimals)) {
		t.Errorf("%s is %.6f, want %.*f", name, got, decimals, want)
	}
}

// TestWilson: 81 of 263 and 15 of 148 are examples of Newcombe, Statistics in Medicine 17, 1998 (from memory,
// recomputed); the others follow from the formula by hand, for instance n/(n+z²) where all are met.
func TestWilson(t *testing.T) {
	check := func(met, n int, low, high float64, decimals int) {
		t.Helper()
		w := Wilson(met, n)
		near(t, "low", w.Low, low, decimals)
		near(t, "high", w.High, high, decimals)
		if want := float64(met) / float64(n); w.Share != want {
			t.Errorf("share %v, want %v", w.Share, want)
		}
	}
	check(81, 263, .2553, .3662, 4)
	check(15, 148, .0624, .1605, 4)
	check(0, 20, 0, .1611, 4)
	check(9, 10, .5958, .9821, 4)
	check(5, 5, .5655, 1, 4)
	check(18, 24, .55, .88, 2)
	if w := Wilson(0, 20); w.Low != 0 {
		t.Errorf("low of none is %v", w.Low)
	}
	if w := Wilson(5, 5); w.High != 1 || math.Abs(w.Low-5/(5+1.959964*1.959964)) > 1e-6 {
		t.Errorf("all of 5: %v", w)
	}
	if w := Wilson(0, 0); !math.IsNaN(w.Share) || !math.IsNaN(w.Low) || !math.IsNaN(w.High) {
		t.Errorf("none of none: %v", w)
	}
	for n := 1; n < 40; n++ {
		for met := range n + 1 {
			w, mirror := Wilson(met, n), Wilson(n-met, n)
			if !(0 <= w.Low && w.Low <= w.Share && w.Share <= w.High && w.High <= 1) ||
				math.Abs(w.Low-(1-mirror.High)) > 1e-12 {
				t.Errorf("%d of %d: %v", met, n, w)
			}
		}
	}
}

// TestRuleMet: upper tails of the binomial distribution, derived; 4 of 5 at a half is 6/32.
func TestRuleMet(t *testing.T) {
	rates := []float64{.5, .6, .8, .9}
	for i, want := range []float64{.188, .337, .737, .919} {
		near(t, "4 of 5", RuleMet(4, 5, rates[i]), want, 3)
	}
	for i, want := range []float64{.055, .167, .678, .930} {
		near(t, "8 of 10", RuleMet(8, 10, rates[i]), want, 3)
	}
	near(t, "4 of 5 at a half", RuleMet(4, 5, .5), 6./32, 9)
	near(t, "5 of 5", RuleMet(5, 5, .8), math.Pow(.8, 5), 9)
	for _, c := range []struct {
		met  int
		rate float64
		want float64
	}{{0, .3, 1}, {0, 0, 1}, {3, 0, 0}, {3, 1, 1}} {
		if got := RuleMet(c.met, 5, c.rate); got != c.want {
			t.Errorf("%d of 5 at %v is %v", c.met, c.rate, got)
		}
	}
}
