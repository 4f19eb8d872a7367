// Package statistics computes what is said of shares, marks and decisions, with gonum where a formula is a textbook's.
// It knows nothing of labs and students, and decides nothing.
package statistics

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"
)

// Interval is a share with the range in which the true share may well lie.
type Interval struct {
	Share, Low, High float64 // 0..1; NaN of none
}

// Wilson is the 95 % score interval of met of n (E. B. Wilson 1927; R. G. Newcombe, Statistics in Medicine 17, 1998,
// method 3): with p = met/n and z the normal quantile of 0.975
//
//	(p + z²/2n ± z √(p(1-p)/n + z²/4n²)) / (1 + z²/n)
//
// For 0 <= met <= n; NaN for n = 0.
func Wilson(met, n int) Interval {
	if n == 0 {
		return Interval{math.NaN(), math.NaN(), math.NaN()}
	}
	z := distuv.UnitNormal.Quantile(0.975)
	p, count := float64(met)/float64(n), float64(n)
	middle, scale := p+z*z/(2*count), 1+z*z/count
	half := z * math.Sqrt(p*(1-p)/count+z*z/(4*count*count))
	// At the ends one bound is exactly 0 or 1, which rounding would miss.
	low, high := (middle-half)/scale, (middle+half)/scale
	if met == 0 {
		low = 0
	}
	if met == n {
		high = 1
	}
	return Interval{p, low, high}
}
