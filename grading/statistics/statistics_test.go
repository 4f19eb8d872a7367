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

// tenByTen are ten students by ten items (Wuensch, East Carolina University, "KR20"; data and total variance read).
var tenByTen = []string{"1111110110", "1011011101", "1111011001", "0010001000", "0000010010", "1110111111",
	"1101110111", "1111111101", "0101111101", "1101101110"}

// items makes answers from rows of digits.
func items(rows []string) Items {
	var x Items
	for _, row := range rows {
		var values []float64
		for _, c := range row {
			values = append(values, float64(c-'0'))
		}
		x = append(x, values)
	}
	return x
}

func TestAlpha(t *testing.T) {
	x := items(tenByTen)
	sum, total, square := 0.0, 0.0, 0.0
	for i := range 10 {
		p := 0.0
		for _, v := range x.column(i) {
			p += v / 10
		}
		sum += p * (1 - p)
	}
	for _, v := range x.totals() {
		total += v / 10
		square += v * v / 10
	}
	near(t, "sum of pq", sum, 2.18, 2)                         // Wuensch, as read
	near(t, "variance of totals", square-total*total, 5.84, 2) // the same
	near(t, "KR-20", Alpha(x), .6963, 4)                       // follows: 10/9 (1 - 2.18/5.84)
	// Item variances .24, .16, .24 and total variance 1.44 give .833 (visualstatistics.net, "Item Analysis", read).
	// Five students of whom two, four and two meet the items, with totals 3, 3, 1, 1, 0, have these variances.
	near(t, "alpha", Alpha(items([]string{"111", "111", "010", "010", "000"})), .833, 3)
	for name, x := range map[string]Items{"nobody": nil, "one item": items([]string{"1", "0"}),
		"equal totals": items([]string{"10", "01"})} {
		if v := Alpha(x); !math.IsNaN(v) {
			t.Errorf("%s: alpha %v", name, v)
		}
	}
}

// TestPointBiserial uses the same data; the coefficients were derived from it by hand of a spreadsheet.
func TestPointBiserial(t *testing.T) {
	x := items(tenByTen)
	for i, want := range []float64{.7059, .7059, .0000, .4736, .5839, .2861, -.0274, .7059, -.1236, .4759} {
		near(t, "point-biserial", PointBiserial(x, i), want, 4)
	}
	for name, x := range map[string]Items{"nobody": nil, "all met": items([]string{"11", "10"}),
		"others do not vary": items([]string{"11", "01"})} {
		if v := PointBiserial(x, 0); !math.IsNaN(v) {
			t.Errorf("%s: %v", name, v)
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

// TestDecaying: 2, 3, 4 with .65 of the latest give 3.53 (a published example of a decaying average, read): 2.65, then
// 3.5275.
func TestDecaying(t *testing.T) {
	near(t, "decaying average", Decaying([]float64{2, 3, 4}), 3.53, 2)
	near(t, "of one", Decaying([]float64{0.4}), 0.4, 9)
	if !math.IsNaN(Decaying(nil)) {
		t.Error("of none is a number")
	}
}
