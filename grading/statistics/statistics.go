// Package statistics computes what is said of shares, marks and decisions, with gonum where a formula is a textbook's. It
// knows nothing of labs and students, and decides nothing.
package statistics

import (
	"math"

	"gonum.org/v1/gonum/stat"
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

// RuleMet is the probability that at least met of n opportunities are met by somebody who meets each with probability
// rate: the upper tail of the binomial distribution. For 0 <= met <= n and 0 <= rate <= 1.
func RuleMet(met, n int, rate float64) float64 {
	switch {
	case met <= 0:
		return 1
	case rate <= 0:
		return 0
	case rate >= 1:
		return 1
	}
	return distuv.Binomial{N: float64(n), P: rate}.Survival(float64(met) - 1)
}

// Items are answers by student (rows) and item (columns): 1 for met, 0 for not met, or points. All rows have the same
// length.
type Items [][]float64

// column collects one item.
func (x Items) column(item int) []float64 {
	values := make([]float64, len(x))
	for i, row := range x {
		values[i] = row[item]
	}
	return values
}

// totals are the sums of the rows.
func (x Items) totals() []float64 {
	values := make([]float64, len(x))
	for i, row := range x {
		for _, v := range row {
			values[i] += v
		}
	}
	return values
}

// Alpha is Cronbach's alpha of k items, k/(k-1) (1 - Σ item variances / variance of the totals), with divisor N; for
// items of 0 and 1 it is KR-20 (Kuder and Richardson). NaN for fewer than two items, no students, or totals that do not
// differ.
func Alpha(x Items) float64 {
	if len(x) == 0 || len(x[0]) < 2 {
		return math.NaN()
	}
	k, sum := len(x[0]), 0.0
	for i := range k {
		sum += stat.PopVariance(x.column(i), nil)
	}
	total := stat.PopVariance(x.totals(), nil)
	if total == 0 {
		return math.NaN()
	}
	return float64(k) / float64(k-1) * (1 - sum/total)
}

// PointBiserial is the correlation of an item with the total of the other items. NaN where one of the two does not
// vary.
func PointBiserial(x Items, item int) float64 {
	if len(x) == 0 {
		return math.NaN()
	}
	own, rest := x.column(item), x.totals()
	for i := range rest {
		rest[i] -= own[i]
	}
	if stat.PopVariance(own, nil) == 0 || stat.PopVariance(rest, nil) == 0 {
		return math.NaN()
	}
	return stat.Correlation(own, rest, nil)
}

// latestWeight is the share of the latest value in the decaying average; the rest is the average before it.
const latestWeight = 0.65

// Decaying is the decaying average of values, oldest first: new = 0.35 old + 0.65 latest, beginning with the first
// value. NaN without values.
func Decaying(values []float64) float64 {
	average := math.NaN()
	for i, v := range values {
		if i == 0 {
			average = v
			continue
		}
		average = (1-latestWeight)*average + latestWeight*v
	}
	return average
}
