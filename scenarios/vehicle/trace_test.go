package vehicle

import (
	"math"
	"slices"
	"testing"

	"nospark/scenarios/vehicle/trace"
)

// What lasts less than 10 ns is left out, what lasts longer stays, and so does a jump.
func TestSeen(t *testing.T) {
	tr := trace.Trace{X: []float64{0, 1, 1, 1 + 2e-10, 2, 2, 3, 3 + 1e-6, 4}, Y: []float64{1, 1, -130, -3, -3, 380, 380, 20, 20}}
	got := tr.Seen()
	want := []float64{1, 1, -3, -3, 380, 380, 20, 20}
	if len(got.Y) != len(want) || len(got.X) != len(want) {
		t.Fatalf("%v, want %v", got.Y, want)
	}
	for i := range want {
		if got.Y[i] != want[i] {
			t.Errorf("%v, want %v", got.Y, want)
		}
	}
}

// A thinned trace keeps its ends and its jumps, is much shorter, and none of its values is further off than asked.
func TestThin(t *testing.T) {
	e := loaded(t, "single-coil").event("idle")
	for _, tr := range e.Traces {
		const share = 0.002
		thin := tr.Thin(share)
		low, high := tr.Extremes()
		n := len(thin.X)
		if thin.X[0] != tr.X[0] || thin.X[n-1] != tr.X[len(tr.X)-1] || thin.Title != tr.Title || thin.Unit != tr.Unit {
			t.Errorf("%s: ends moved", tr.Title)
		}
		if len(tr.X) > 100 && n > len(tr.X)/3 {
			t.Errorf("%s: %d of %d entries left", tr.Title, n, len(tr.X))
		}
		worst := 0.0
		for i, x := range tr.X {
			k, _ := slices.BinarySearch(thin.X, x) // the first entry at x or after it
			near := math.Inf(1)
			for ; k < n && (k == 0 || thin.X[k-1] <= x); k++ { // at a jump the nearer of both
				y := thin.Y[k]
				if k > 0 && thin.X[k] > x {
					y = thin.Y[k-1] + (thin.Y[k]-thin.Y[k-1])*(x-thin.X[k-1])/(thin.X[k]-thin.X[k-1])
				}
				near = math.Min(near, math.Abs(y-tr.Y[i]))
			}
			worst = math.Max(worst, near)
		}
		t.Logf("%s: %d of %d entries, at most %.2g off in a range of %.3g", tr.Title, n, len(tr.X), worst, high-low)
		if worst > share*(high-low)*(1+1e-9) {
			t.Errorf("%s: %g off, want at most %g", tr.Title, worst, share*(high-low))
		}
	}
}
