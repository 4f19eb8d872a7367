package transient

import (
	"fmt"
	"math"
)

// newRun numbers the unknowns, collects the inductance matrix and puts every
// element into its initial condition.
func newRun(c *Circuit) (*run, error) {
	r := &run{c: c, condition: make([]condition, len(c.parts)), row: make([]int, len(c.parts)),
		was: make([]charge, len(c.parts)), got: make([]charge, len(c.parts)), stale: true}
	r.unknowns = c.nodes() - 1
	at := make([]int, len(c.parts))
	for i := range c.parts {
		p := &c.parts[i]
		r.condition[i].on = p.on
		r.row[i] = -1
		switch {
		case p.kind == partInductor:
			at[i] = len(r.inductors)
			r.inductors = append(r.inductors, Element(i))
			r.dynamic = append(r.dynamic, Element(i))
			r.was[i].amps = p.start
		case p.kind == partCapacitor:
			r.dynamic = append(r.dynamic, Element(i))
			r.was[i].volts = p.start
			continue
		case p.kind != partResistor && p.kind != partSource || !math.IsInf(1/p.ohms, 1):
			continue
		}
		r.row[i] = r.unknowns
		r.unknowns++
	}
	size := len(r.inductors)
	r.henries = make([]float64, size*size)
	for k, e := range r.inductors {
		r.henries[k*size+k] = c.parts[e].size
	}
	for _, m := range c.mutual {
		p, q := &c.parts[m.first], &c.parts[m.second]
		if p.kind != partInductor || q.kind != partInductor || m.first == m.second || !(math.Abs(m.factor) <= 1) {
			return nil, fmt.Errorf("coupling of %q and %q by %g: want two inductors and a factor from -1 to 1", p.name,
				q.name,
				m.factor)
		}
		j, k := at[m.first], at[m.second]
		henries := m.factor * math.Sqrt(p.size*q.size)
		r.henries[j*size+k], r.henries[k*size+j] = henries, henries
	}
	if k := notPositive(r.henries, size); k >= 0 {
		return nil, fmt.Errorf("inductor %q: couplings too strong together, the windings would store negative energy",
			c.parts[r.inductors[k]].name)
	}
	r.x, r.rhs, r.change = make([]float64, r.unknowns), make([]float64, r.unknowns), make([]float64, r.unknowns)
	r.findLoose()
	return r, nil
}

// notPositive returns the first row at which the symmetric matrix fails to be
// positive semidefinite, or -1 (Cholesky's condition; a coupling of 1 is just
// allowed).
func notPositive(m []float64, n int) int {
	a := append([]float64(nil), m...)
	for c := range n {
		pivot, floor := a[c*n+c], 1e-12*m[c*n+c]
		if pivot < -floor {
			return c
		}
		for i := c + 1; i < n; i++ {
			if pivot <= floor {
				if math.Abs(a[i*n+c]) > 1e-6*math.Sqrt(m[c*n+c]*m[i*n+i]) {
					return i
				}
				continue
			}
			f := a[i*n+c] / pivot
			for j := c; j < n; j++ {
				a[i*n+j] -= f * a[c*n+j]
			}
		}
	}
	return -1
}

// findLoose finds pieces that nothing ties to the Reference, such as a
// secondary winding on its own. Each is tied down at its first node by 1
// siemens, which carries no current.
func (r *run) findLoose() {
	lowest := make([]Node, r.c.nodes()) // of the piece that each node belongs to
	for i := range lowest {
		lowest[i] = Node(i)
	}
	for joined := true; joined; {
		joined = false
		for i := range r.c.parts {
			p := &r.c.parts[i]
			a, b := &lowest[p.a], &lowest[p.b]
			if *a != *b && p.kind != partCurrent && !math.IsInf(p.ohms, 1) {
				*a, *b, joined = min(*a, *b), min(*a, *b), true
			}
		}
	}
	for a := Node(1); int(a) < len(lowest); a++ {
		if lowest[a] == a {
			r.loose = append(r.loose, a)
		}
	}
}
