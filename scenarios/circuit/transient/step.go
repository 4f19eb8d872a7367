package transient

import (
	"fmt"
	"math"
)

// run is one simulation in progress (newRun sets it up). The unknowns are the voltages of all
// nodes but the Reference and the currents of inductors, ideal sources and
// resistors of 0 ohms.
type run struct {
	c         *Circuit
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

	x        []float64 // latest solution
	rhs      []float64
	change   []float64
	was, got []charge // by part: at the beginning and end of the step
}

// charge is the state of a capacitor or inductor.
type charge struct{ volts, amps float64 }

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
			r.stampConductance(p, p.companion(rate))
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
	r.improve(r.now+h, rate, memory)
	size := len(r.inductors)
	for _, e := range r.dynamic {
		if p := &r.c.parts[e]; p.kind == partCapacitor {
			v := r.volts(p.a, p.b)
			r.got[e] = charge{v, p.companion(rate)*(v-r.was[e].volts) - memory*r.was[e].amps}
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

// companion is the conductance that stands for a capacitor during a step.
func (p *part) companion(rate float64) float64 { return max(p.size*rate, leakSiemens) }

// improve replaces r.x by the solution at a moment. It solves for the change
// from r.x to that: the right-hand side is what the currents and voltages of
// all elements at r.x fail to balance. Computed from differences in this way
// it is small, while the companion currents of short steps themselves are huge
// and would drown the currents of large resistances in rounding.
func (r *run) improve(at, rate, memory float64) {
	clear(r.rhs)
	for i := range r.c.parts {
		p := &r.c.parts[i]
		v := r.volts(p.a, p.b)
		row := r.row[i]
		amps := 0.0
		if row >= 0 {
			amps = r.x[row]
		}
		switch p.kind {
		case partResistor:
			if row >= 0 {
				r.rhs[row] = -v
			} else {
				amps = v / p.ohms
			}
		case partSource:
			if row >= 0 {
				r.rhs[row] = p.drive(at) - v
			} else {
				amps = (v - p.drive(at)) / p.ohms
			}
		case partCurrent:
			amps = p.drive(at)
		case partCapacitor:
			amps = p.companion(rate)*(v-r.was[i].volts) - memory*r.was[i].amps
		case partInductor:
			r.rhs[row] = p.ohms*amps - v - memory*r.was[i].volts
		default:
			g, j := p.norton(&r.condition[i])
			amps = g*v + j
		}
		if p.a != Reference {
			r.rhs[p.a-1] -= amps
		}
		if p.b != Reference {
			r.rhs[p.b-1] += amps
		}
	}
	for _, a := range r.loose {
		r.rhs[a-1] -= r.x[a-1]
	}
	for j, e := range r.inductors {
		for k, f := range r.inductors {
			r.rhs[r.row[e]] += r.henries[j*len(r.inductors)+k] * rate * (r.x[r.row[f]] - r.was[f].amps)
		}
	}
	r.matrix.solve(r.rhs, r.change)
	for i, d := range r.change {
		r.x[i] += d
	}
}
