package statistics

import (
	"math"

	"gonum.org/v1/gonum/stat"
	"gonum.org/v1/gonum/stat/distuv"
)

// Difference is a difference of means with its 95 % interval; all NaN where there are too few values.
type Difference struct{ Mean, Low, High float64 }

// Welch is the interval of mean(a) - mean(b) for two independent samples of unequal variances (Welch, Biometrika 34,
// 1947; from memory): t quantile with
//
//	(va/na + vb/nb)² / ((va/na)²/(na-1) + (vb/nb)²/(nb-1))
//
// degrees of freedom, v with divisor n-1. Each sample needs two values.
func Welch(a, b []float64) Difference {
	if len(a) < 2 || len(b) < 2 {
		return Difference{math.NaN(), math.NaN(), math.NaN()}
	}
	ma, va := stat.MeanVariance(a, nil)
	mb, vb := stat.MeanVariance(b, nil)
	va, vb = va/float64(len(a)), vb/float64(len(b))
	d, half := ma-mb, 0.0
	if va+vb > 0 {
		df := (va + vb) * (va + vb) / (va*va/float64(len(a)-1) + vb*vb/float64(len(b)-1))
		half = math.Sqrt(va+vb) * distuv.StudentsT{Sigma: 1, Nu: df}.Quantile(0.975)
	}
	return Difference{d, d - half, d + half}
}

// OneAgainst is the difference of one value from the mean of others, with the 95 % range in which the difference of one
// more of their kind lies: mean ± t s root(1 + 1/n), the prediction interval of a normal sample. It needs two others.
func OneAgainst(one float64, others []float64) Difference {
	n := len(others)
	if n < 2 {
		return Difference{math.NaN(), math.NaN(), math.NaN()}
	}
	m, s := stat.MeanStdDev(others, nil)
	half := s * math.Sqrt(1+1/float64(n)) * distuv.StudentsT{Sigma: 1, Nu: float64(n - 1)}.Quantile(0.975)
	return Difference{one - m, one - m - half, one - m + half}
}
