package statistics

import (
	"math"
	"math/bits"

	"gonum.org/v1/gonum/stat/distuv"
)

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

// longestWindow bounds WindowMet, whose work doubles with each opportunity of the window.
const longestWindow = 16

// WindowMet is the probability that at some time within n independent opportunities at least met of the last of were
// met, by somebody who meets each with probability rate. It is what a rule comes to that looks again after every
// opportunity, and higher than RuleMet, which looks once. For 1 <= met <= of <= n and of <= 16; NaN beyond, and 0 for n
// < of.
//
// Derivation: the state is which of the last of opportunities were met, 2^of states; whoever passes leaves. The sum of
// those who have left after n steps is the probability, exact but for rounding.
func WindowMet(met, of, n int, rate float64) float64 {
	if of > longestWindow || met < 1 || met > of || !(rate >= 0 && rate <= 1) {
		return math.NaN()
	}
	mask := uint(1)<<of - 1
	state := make([]float64, mask+1)
	state[0] = 1
	passed := 0.0
	for i := 1; i <= n; i++ {
		next := make([]float64, mask+1)
		for s, p := range state {
			if p == 0 {
				continue
			}
			for _, x := range [...]struct {
				to uint
				p  float64
			}{{uint(s) << 1 & mask, p * (1 - rate)}, {(uint(s)<<1 | 1) & mask, p * rate}} {
				if i >= of && bits.OnesCount(x.to) >= met {
					passed += x.p
				} else {
					next[x.to] += x.p
				}
			}
		}
		state = next
	}
	return passed
}
