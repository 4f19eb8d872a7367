package vehicle

import (
	"math"
	"slices"
	"testing"
)

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
