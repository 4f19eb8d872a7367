package statistics

import (
	"math"

	"gonum.org/v1/gonum/mathext"
	"gonum.org/v1/gonum/stat/combin"
	"gonum.org/v1/gonum/stat/distuv"
)

// Consistency says how often a decision by a count would be the same a second time with other opportunities of the same
// kind.
type Consistency struct {
	N          int     // persons
	Agree      float64 // P0, share of persons decided the same way twice
	Kappa      float64 // (P0 - Pe) / (1 - Pe); NaN where everybody is decided alike
	Low, High  float64 // of kappa, 95 %
	Passed     float64 // share that the model lets pass
	Dependable float64 // KR-21 of the counts, 0..1
}

// DecisionConsistency estimates the consistency of "at least met of n" from one count each: counts[k] persons met k of
// n. It is Huynh's method (Journal of Educational Measurement 13, 1976): the rates of the persons follow a beta
// distribution, fitted by mean and KR-21,
//
//	r = n/(n-1) (1 - m (n - m) / (n s²)), a = (1/r - 1) m, b = n/r - n - a
//
// and two counts of one person are then beta-binomial together, f(x, y) = C(n,x) C(n,y) B(a+x+y, b+2n-x-y) / B(a, b).
// Derivation: given a rate p, x and y are independent binomials; the integral over the beta density is the formula.
//
// The interval is a delete-one jackknife of atanh kappa with Student's t, back by tanh; only n+1 different persons can
// be left out. Its coverage is a test. A KR-21 of 0 or less means no difference between persons, and kappa 0.
func DecisionConsistency(counts []int, met int) Consistency {
	n := len(counts) - 1
	c := consistency(counts, met)
	for _, k := range counts {
		c.N += k
	}
	c.Low, c.High = math.NaN(), math.NaN()
	if c.N < 3 || n < 2 || math.IsNaN(c.Kappa) {
		return c
	}
	all, size := atanh(c.Kappa), float64(c.N)
	var sum, squares float64
	for k, persons := range counts {
		if persons == 0 {
			continue
		}
		without := append([]int{}, counts...)
		without[k]--
		less := consistency(without, met).Kappa
		if math.IsNaN(less) {
			return c
		}
		pseudo := size*all - (size-1)*atanh(less)
		sum += float64(persons) * pseudo
		squares += float64(persons) * pseudo * pseudo
	}
	mean := sum / size
	spread := math.Sqrt(max(0, squares/size-mean*mean) / (size - 1))
	half := spread * distuv.StudentsT{Sigma: 1, Nu: size - 1}.Quantile(0.975)
	c.Low, c.High = max(0, math.Tanh(all-half)), math.Tanh(all+half)
	return c
}

// atanh keeps a kappa of 1 finite.
func atanh(kappa float64) float64 { return math.Atanh(min(kappa, 1-1e-9)) }

// consistency is DecisionConsistency without N and interval.
func consistency(counts []int, met int) Consistency {
	n := len(counts) - 1
	var size, sum, squares float64
	for k, persons := range counts {
		size += float64(persons)
		sum += float64(persons * k)
		squares += float64(persons * k * k)
	}
	c := Consistency{Kappa: math.NaN(), Agree: math.NaN(), Passed: math.NaN(), Dependable: math.NaN()}
	if size < 2 || n < 2 {
		return c
	}
	items, mean := float64(n), sum/size
	variance := (squares - size*mean*mean) / (size - 1)
	if mean <= 0 || mean >= items {
		return Consistency{Kappa: math.NaN(), Agree: 1, Passed: mean / items, Dependable: 0}
	}
	c.Dependable = min(1, items/(items-1)*(1-mean*(items-mean)/(items*variance)))
	if !(c.Dependable > 1e-6) { // also where nothing varies
		c.Dependable = 0
		c.Passed = RuleMet(met, n, mean/items)
		c.Agree = c.Passed*c.Passed + (1-c.Passed)*(1-c.Passed)
		c.Kappa = 0
		return c
	}
	if c.Dependable > 1-1e-6 { // everybody meets all or nothing
		c.Passed = mean / items
		c.Agree, c.Kappa = 1, 1
		return c
	}
	a := (1/c.Dependable - 1) * mean
	b := items/c.Dependable - items - a
	both, neither := 0.0, 0.0
	for x := range n + 1 {
		for y := range n + 1 {
			p := math.Exp(choose(n, x) + choose(n, y) +
				mathext.Lbeta(a+float64(x+y), b+float64(2*n-x-y)) - mathext.Lbeta(a, b))
			switch {
			case x >= met && y >= met:
				both += p
			case x < met && y < met:
				neither += p
			}
		}
	}
	c.Agree = both + neither
	c.Passed = both + (1-both-neither)/2
	chance := c.Passed*c.Passed + (1-c.Passed)*(1-c.Passed)
	c.Kappa = max(0, (c.Agree-chance)/(1-chance))
	return c
}

// choose is the logarithm of the number of ways to choose k of n.
func choose(n, k int) float64 { return combin.LogGeneralizedBinomial(float64(n), float64(k)) }

// AgreeAt is the probability that somebody who meets each opportunity with probability rate is decided the same way
// twice.
func AgreeAt(met, n int, rate float64) float64 {
	q := RuleMet(met, n, rate)
	return q*q + (1-q)*(1-q)
}
