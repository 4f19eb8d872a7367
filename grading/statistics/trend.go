package statistics

import "math"

// MannKendall tests whether values rise or fall in their order (Mann, Econometrica 13, 1945; Kendall, Biometrika 30,
// 1938; both from memory). s is the number of pairs that rise minus those that fall; p is the probability of an |s| as
// large in values whose order tells nothing, exact without ties and on the safe side with them. For fewer than two
// values p is 1.
//
// Derivation: without ties the number of falling pairs of a random order of n is distributed as the sum of independent
// uniform numbers on 0..0, 0..1, ..., 0..n-1, one for each value and how many of the earlier ones are larger.
func MannKendall(values []float64) (s int, p float64) {
	n := len(values)
	for i := range values {
		for k := range i {
			switch {
			case values[i] > values[k]:
				s++
			case values[i] < values[k]:
				s--
			}
		}
	}
	falling := []float64{1} // probability of each number of falling pairs
	for k := 1; k < n; k++ {
		next := make([]float64, len(falling)+k)
		for i, q := range falling {
			for add := range k + 1 {
				next[i+add] += q / float64(k+1)
			}
		}
		falling = next
	}
	pairs := n * (n - 1) / 2
	size := s
	if size < 0 {
		size = -size
	}
	for i, q := range falling {
		if other := pairs - 2*i; other >= size || other <= -size {
			p += q
		}
	}
	return s, math.Min(1, p)
}
