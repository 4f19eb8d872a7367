package transient

import (
	"fmt"
	"math"
)

const mostSteps = 5_000_000

// Run simulates the circuit and records the probes.
//
// Steps follow the trapezoidal rule, which answers a jump with an oscillation
// that never dies (the voltage of an inductor whose current is cut, say).
// So after every event, the two halves of a short step are done by backward
// Euler, which has no such memory and needs the same matrix (the remedy is
// known from network simulators as critical damping adjustment, Marti and Lin
// 1989; from memory). Step length follows the third divided difference of the
// states, h^3/12 y”' being the error of one trapezoidal step.
//
// A step in which a device leaves its line or a gap breaks down or goes out is
// cut at the crossing, found to 1e-8 of the crossed value.
//
// Errors: a value out of range, a circuit without a unique solution, elements
// that switch to and fro without time passing.
func (c *Circuit) Run(o Options, probes ...Probe) (*Trace, error) {
	if err := c.check(); err != nil {
		return nil, err
	}
	if !(o.Until > 0) || math.IsInf(o.Until, 1) || !(o.MaxStep >= 0) || !(o.FixedStep >= 0) || !(o.Tolerance >= 0) {
		return nil,
			fmt.Errorf("run until %g s with steps up to %g s, tolerance %g: want an end after 0 and no negative values",
				o.Until,
				max(o.MaxStep, o.FixedStep), o.Tolerance)
	}
	r, err := newRun(c)
	if err != nil {
		return nil, err
	}
	p := newPace(r, o)
	tr := &Trace{Value: make([][]float64, len(probes))}
	if o.FromSteady {
		if err := r.steady(); err != nil {
			return nil, err
		}
	}
	if err := r.settle(p.tiny, tr); err != nil {
		return nil, err
	}
	r.record(tr, probes)
	p.restart()
	for len(tr.Time) < mostSteps {
		if r.now >= o.Until {
			return tr, nil
		}
		happened, err := p.step()
		if err != nil {
			return nil, err
		}
		r.record(tr, probes)
		if happened {
			if e, margin := r.leaver(); margin > here {
				tr.Events = append(tr.Events, Event{r.now, e, r.cross(e)})
			}
			if err := r.settle(p.tiny, tr); err != nil {
				return nil, err
			}
			r.record(tr, probes)
			p.restart()
		}
	}
	return nil, fmt.Errorf("gave up at %.9g s after %d steps", r.now, mostSteps)
}

// record adds the latest solution to the trace.
func (r *run) record(tr *Trace, probes []Probe) {
	tr.Time = append(tr.Time, r.now)
	for i, q := range probes {
		var x float64
		if q.isAmps {
			x = r.amps(q.element)
		} else {
			x = r.volts(q.a, q.b)
		}
		tr.Value[i] = append(tr.Value[i], x)
	}
}
