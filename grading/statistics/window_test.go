package statistics

import (
	"math"
	"math/bits"
	"testing"
)

// TestWindowMet: .53 at rate .5 and .75 at .6 for 4 of the last 5 within 12 are simulated values of two decimals; one
// window is the binomial; and all sequences of 12 are gone through one by one.
func TestWindowMet(t *testing.T) {
	near(t, "4 of the last 5 within 12 at .5", WindowMet(4, 5, 12, .5), .53, 2)
	near(t, "4 of the last 5 within 12 at .6", WindowMet(4, 5, 12, .6), .75, 2)
	for _, rate := range []float64{0, .3, .8, 1} {
		near(t, "one window", WindowMet(4, 5, 5, rate), RuleMet(4, 5, rate), 12)
		for _, rule := range [][2]int{{1, 1}, {2, 3}, {4, 5}, {8, 10}, {12, 12}} {
			met, of := rule[0], rule[1]
			sum := 0.0
			for x := range uint(1) << 12 {
				passes := false
				for from := 0; from+of <= 12; from++ {
					passes = passes || bits.OnesCount(x>>from&(1<<of-1)) >= met
				}
				if k := bits.OnesCount(x); passes {
					sum += math.Pow(rate, float64(k)) * math.Pow(1-rate, float64(12-k))
				}
			}
			near(t, "all sequences", WindowMet(met, of, 12, rate), sum, 12)
		}
	}
	if p := WindowMet(4, 5, 4, 1); p != 0 {
		t.Errorf("within fewer than a window: %v", p)
	}
	for _, p := range []float64{WindowMet(4, 17, 20, .5), WindowMet(0, 5, 9, .5), WindowMet(6, 5, 9, .5),
		WindowMet(4, 5, 9, 2)} {
		if !math.IsNaN(p) {
			t.Errorf("out of range: %v", p)
		}
	}
}
