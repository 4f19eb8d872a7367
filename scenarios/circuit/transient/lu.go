package transient

import (
	"math"
	"slices"
)

// lu is a dense matrix of a few dozen unknowns and its triangular factors,
// rows scaled to a largest entry of 1 before pivots are chosen: voltages in
// kilovolts, leaks of 1e-12 siemens and inductive rows stand side by side.
type lu struct {
	n     int
	a     []float64 // row-major: the matrix, then its factors, the diagonal inverted
	scale []float64 // by original row
	row   []int     // original row that became row i
	y     []float64
}

// reset makes an n x n matrix of zeros.
func (m *lu) reset(n int) {
	m.n = n
	m.a = slices.Grow(m.a[:0], n*n)[:n*n]
	clear(m.a)
	m.scale = slices.Grow(m.scale[:0], n)[:n]
	m.row = slices.Grow(m.row[:0], n)[:n]
	m.y = slices.Grow(m.y[:0], n)[:n]
}

func (m *lu) add(i, j int, x float64) { m.a[i*m.n+j] += x }

// factor returns the column without a usable pivot, or -1 if all went well.
func (m *lu) factor() (singular int) {
	if empty := m.equilibrate(); empty >= 0 {
		return empty
	}
	n, a := m.n, m.a
	for c := range n {
		m.swap(c, m.largest(c))
		upper := a[c*n : c*n+n]
		if !(math.Abs(upper[c]) > 1e-25) { // NaN too
			return c
		}
		upper[c] = 1 / upper[c]
		for i := c + 1; i < n; i++ {
			lower := a[i*n : i*n+n]
			if lower[c] == 0 { // most of them: the matrix is sparse, if small
				continue
			}
			f := lower[c] * upper[c]
			lower[c] = f
			for j := c + 1; j < n; j++ {
				lower[j] -= f * upper[j]
			}
		}
	}
	return -1
}

// equilibrate scales every row to a largest entry of 1. It returns a row of zeros, or -1.
func (m *lu) equilibrate() (empty int) {
	for i := range m.n {
		row := m.a[i*m.n : i*m.n+m.n]
		most := 0.0
		for _, x := range row {
			most = math.Max(most, math.Abs(x))
		}
		if most == 0 {
			return i
		}
		m.row[i], m.scale[i] = i, 1/most
		for j := range row {
			row[j] /= most
		}
	}
	return -1
}

// largest finds the row with the largest entry in column c, from row c on.
func (m *lu) largest(c int) int {
	best := c
	for i := c + 1; i < m.n; i++ {
		if math.Abs(m.a[i*m.n+c]) > math.Abs(m.a[best*m.n+c]) {
			best = i
		}
	}
	return best
}

func (m *lu) swap(i, k int) {
	if i == k {
		return
	}
	m.row[i], m.row[k] = m.row[k], m.row[i]
	upper, lower := m.a[i*m.n:i*m.n+m.n], m.a[k*m.n:k*m.n+m.n]
	for j := range upper {
		upper[j], lower[j] = lower[j], upper[j]
	}
}

// solve writes into x the solution for the right-hand side b, which stays as
// it is. factor must have succeeded.
func (m *lu) solve(b, x []float64) {
	n, y := m.n, m.y
	for i := range n {
		from := m.row[i]
		sum := b[from] * m.scale[from]
		for j, f := range m.a[i*n : i*n+i] {
			sum -= f * y[j]
		}
		y[i] = sum
	}
	for i := n - 1; i >= 0; i-- {
		row := m.a[i*n : i*n+n]
		sum := y[i]
		for j := i + 1; j < n; j++ {
			sum -= row[j] * x[j]
		}
		x[i] = sum * row[i]
	}
}
