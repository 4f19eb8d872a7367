package circuit

import (
	"fmt"
	"math"
)

// run is one simulation in progress. The unknowns are the voltages of all
// nodes but the Reference and the currents of inductors, ideal sources and
// resistors of 0 ohms.
type run struct {
	c         *Transient
	now       float64 // seconds
	condition []condition
	unknowns  int
	row       []int // by part: the unknown that is its current, or -1
	dynamic   []Element
	inductors []Element
	henries   []float64 // matrix of the inductors
	loose     []Node    // first nodes of pieces without a path to the Reference

	matrix lu
	rate   float64 // 2/step the matrix was factored for
	stale  bool    // a device has changed since

	x, rhs   []float64
	was, got []charge // by part: at the beginning and end of the step
}

// charge is the state of a capacitor or inductor.
type charge struct{ volts, amps float64 }

func newRun(c *Transient) (*run, error) {
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
			return nil, fmt.Errorf("coupling of %q and %q by %g: want two inductors and a factor from -1 to 1", p.name, q.name, m.factor)
		}
		j, k := at[m.first], at[m.second]
		henries := m.factor * math.Sqrt(p.size*q.size)
		r.henries[j*size+k], r.henries[k*size+j] = henries, henries
	}
	if k := notPositive(r.henries, size); k >= 0 {
		return nil, fmt.Errorf("inductor %q: couplings too strong together, the windings would store negative energy", c.parts[r.inductors[k]].name)
	}
	r.x, r.rhs = make([]float64, r.unknowns), make([]float64, r.unknowns)
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
	var sets ties
	sets.reset(r.c.nodes())
	for i := range r.c.parts {
		p := &r.c.parts[i]
		if p.kind != partCurrent && !math.IsInf(p.ohms, 1) {
			sets.tie(p.a, p.b, 0)
		}
	}
	for a := Node(1); a < Node(r.c.nodes()); a++ {
		if first, _ := sets.find(a); first == a {
			r.loose = append(r.loose, a)
		}
	}
}

// volts is the voltage of a above b in the latest solution.
func (r *run) volts(a, b Node) float64 {
	v := 0.0
	if a != Reference {
		v = r.x[a-1]
	}
	if b != Reference {
		v -= r.x[b-1]
	}
	return v
}

// amps is the current of an element in the latest solution, once it is kept.
func (r *run) amps(e Element) float64 {
	p := &r.c.parts[e]
	if r.row[e] >= 0 {
		return r.x[r.row[e]]
	}
	switch p.kind {
	case partResistor:
		return r.volts(p.a, p.b) / p.ohms
	case partSource:
		if math.IsInf(p.ohms, 1) {
			return 0
		}
		return (r.volts(p.a, p.b) - p.drive(r.now)) / p.ohms
	case partCurrent:
		return p.drive(r.now)
	case partCapacitor:
		return r.was[e].amps
	}
	g, j := p.norton(&r.condition[e])
	return g*r.volts(p.a, p.b) + j
}

// prepare factors the matrix for a rate, which is 2/h for a trapezoidal step
// of h and for a backward Euler step of h/2. A rate of 0 is the steady state:
// inductors are their windings' resistance, capacitors leaks.
func (r *run) prepare(rate float64) error {
	if !r.stale && rate == r.rate {
		return nil
	}
	m := &r.matrix
	m.reset(r.unknowns)
	for i := range r.c.parts {
		p := &r.c.parts[i]
		switch {
		case r.row[i] >= 0:
			r.stampBranch(p, r.row[i])
		case p.kind == partResistor, p.kind == partSource:
			r.stampConductance(p, 1/p.ohms)
		case p.kind == partCapacitor:
			r.stampConductance(p, math.Max(p.size*rate, leakSiemens))
		case p.kind != partCurrent:
			g, _ := p.norton(&r.condition[i])
			r.stampConductance(p, g)
		}
	}
	for _, a := range r.loose {
		m.add(int(a-1), int(a-1), 1)
	}
	size := len(r.inductors)
	for j, e := range r.inductors {
		for k, f := range r.inductors {
			if l := r.henries[j*size+k]; l != 0 {
				m.add(r.row[e], r.row[f], -l*rate)
			}
		}
	}
	if k := m.factor(); k >= 0 {
		where := "a loop of ideal sources and windings without resistance"
		if k < r.c.nodes()-1 {
			where = fmt.Sprintf("node %q", r.c.name(Node(k+1)))
		}
		return fmt.Errorf("no unique solution at %.9g s: look at %s", r.now, where)
	}
	r.rate, r.stale = rate, false
	return nil
}

func (r *run) stampConductance(p *part, g float64) {
	a, b := int(p.a)-1, int(p.b)-1
	if a >= 0 {
		r.matrix.add(a, a, g)
	}
	if b >= 0 {
		r.matrix.add(b, b, g)
	}
	if a >= 0 && b >= 0 {
		r.matrix.add(a, b, -g)
		r.matrix.add(b, a, -g)
	}
}

// stampBranch writes the rows of a part whose current is an unknown.
func (r *run) stampBranch(p *part, row int) {
	if a := int(p.a) - 1; a >= 0 {
		r.matrix.add(a, row, 1)
		r.matrix.add(row, a, 1)
	}
	if b := int(p.b) - 1; b >= 0 {
		r.matrix.add(b, row, -1)
		r.matrix.add(row, b, -1)
	}
	if p.kind == partInductor {
		r.matrix.add(row, row, -p.ohms)
	}
}

// advance solves for the end of a step of h seconds that begins at r.now with
// r.was, by the trapezoidal rule or by backward Euler, and fills r.x and
// r.got. It moves neither the time nor the state.
func (r *run) advance(h float64, euler bool) error {
	rate, memory := 2/h, 1.0 // memory: weight of the old derivative
	if euler {
		rate, memory = 1/h, 0
	}
	if err := r.prepare(rate); err != nil {
		return err
	}
	r.fill(r.now+h, rate, memory)
	r.matrix.solve(r.rhs, r.x)
	size := len(r.inductors)
	for _, e := range r.dynamic {
		if p := &r.c.parts[e]; p.kind == partCapacitor {
			v := r.volts(p.a, p.b)
			r.got[e] = charge{v, p.size*rate*(v-r.was[e].volts) - memory*r.was[e].amps}
		}
	}
	for _, e := range r.inductors {
		r.got[e].amps = r.x[r.row[e]]
	}
	for j, e := range r.inductors {
		v := -memory * r.was[e].volts
		for k, f := range r.inductors {
			v += r.henries[j*size+k] * rate * (r.got[f].amps - r.was[f].amps)
		}
		r.got[e].volts = v
	}
	return nil
}

// fill computes the right-hand side for a moment.
func (r *run) fill(at, rate, memory float64) {
	clear(r.rhs)
	for i := range r.c.parts {
		p := &r.c.parts[i]
		into := 0.0 // current that leaves a and enters b whatever the voltages
		switch p.kind {
		case partSource:
			if r.row[i] >= 0 {
				r.rhs[r.row[i]] = p.drive(at)
				continue
			}
			into = -p.drive(at) / p.ohms
		case partCurrent:
			into = p.drive(at)
		case partCapacitor:
			into = -p.size*rate*r.was[i].volts - memory*r.was[i].amps
		case partDevice, partGap:
			_, into = p.norton(&r.condition[i])
		default:
			continue
		}
		if p.a != Reference {
			r.rhs[p.a-1] -= into
		}
		if p.b != Reference {
			r.rhs[p.b-1] += into
		}
	}
	size := len(r.inductors)
	for j, e := range r.inductors {
		v := -memory * r.was[e].volts
		for k, f := range r.inductors {
			v -= r.henries[j*size+k] * rate * r.was[f].amps
		}
		r.rhs[r.row[e]] = v
	}
}
