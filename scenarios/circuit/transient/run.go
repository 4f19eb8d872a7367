package transient

import (
	"fmt"
	"math"
	"slices"
)

// Options of a run. All times are in seconds.
type Options struct {
	Until   float64 // end; a run begins at 0
	MaxStep float64 // longest step; 0: Until/200
	// Tolerance is the error allowed per step in each capacitor voltage and
	// inductor current, relative to the largest value it has had; 0: 1e-5.
	Tolerance float64
	// FixedStep, if not 0, makes all steps this long but for those that events
	// cut short, and ignores the two above.
	FixedStep float64
	// FromSteady begins in the steady state with the sources at time 0 instead
	// of with the preset voltages and currents.
	FromSteady bool
}

const (
	mostSteps  = 5_000_000
	mostEvents = 200  // at one moment
	here       = 0.01 // margin below which a device has not left its line yet
)

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

// steady finds the state that the sources at time 0 maintain.
func (r *run) steady() error {
	for range mostEvents {
		if err := r.prepare(0); err != nil {
			return err
		}
		for i := range r.was {
			r.was[i] = charge{}
		}
		r.improve(r.now, 0, 0)
		e, worst := r.leaver()
		if worst <= here {
			for _, e := range r.dynamic {
				p := &r.c.parts[e]
				if p.kind == partCapacitor {
					r.was[e].volts = r.volts(p.a, p.b)
				} else {
					r.was[e].amps = r.x[r.row[e]]
				}
			}
			return nil
		}
		r.cross(e)
	}
	return fmt.Errorf("no steady state found: the devices do not settle")
}

// leaver returns the part that is farthest off its line in the latest
// solution, and its margin.
func (r *run) leaver() (e Element, worst float64) {
	worst = math.Inf(-1)
	for i := range r.c.parts {
		p := &r.c.parts[i]
		if p.kind != partDevice && p.kind != partGap {
			continue
		}
		v := r.volts(p.a, p.b)
		g, j := p.norton(&r.condition[i])
		if m := p.margin(&r.condition[i], v, g*v+j); m > worst {
			e, worst = Element(i), m
		}
	}
	return e, worst
}

func (r *run) cross(e Element) Change {
	r.stale = true
	p := &r.c.parts[e]
	return p.cross(&r.condition[e], r.volts(p.a, p.b))
}

// settle does what happens without time passing: switches whose time has come,
// then devices that leave their lines because of it, one at a time. Each
// solution is a backward Euler step too short to change a state.
func (r *run) settle(tiny float64, tr *Trace) error {
	for i := range r.c.parts {
		p, c := &r.c.parts[i], &r.condition[i]
		for c.next < len(p.toggles) && p.toggles[c.next] <= r.now {
			c.on = !c.on
			c.at = 0
			c.next++
			r.stale = true
			change := Opens
			if c.on {
				change = Closes
			}
			tr.Events = append(tr.Events, Event{r.now, Element(i), change})
		}
	}
	for range mostEvents {
		if err := r.advance(tiny, true); err != nil {
			return err
		}
		e, worst := r.leaver()
		if worst <= here {
			// Once more from the solution itself, to shed its rounding.
			if err := r.advance(tiny, true); err != nil {
				return err
			}
			r.keep(0)
			return nil
		}
		tr.Events = append(tr.Events, Event{r.now, e, r.cross(e)})
	}
	return fmt.Errorf("elements switch to and fro at %.9g s, the last one %q", r.now,
		r.c.parts[tr.Events[len(tr.Events)-1].Element].name)
}

// keep makes the latest solution the state from which the next step begins.
func (r *run) keep(h float64) {
	r.now += h
	r.was, r.got = r.got, r.was
	for i := range r.c.parts {
		if p, c := &r.c.parts[i], &r.condition[i]; p.kind == partGap && c.burning != 0 && !c.held {
			g, j := p.norton(c)
			c.held = c.burning*(g*r.volts(p.a, p.b)+j) > p.gap.HoldAmps
		}
	}
}

// moments are the times at which steps must end, ascending.
func (c *Circuit) moments(until float64) []float64 {
	all := append(slices.Clone(c.breaks), until)
	for i := range c.parts {
		all = append(all, c.parts[i].toggles...)
	}
	slices.Sort(all)
	return slices.DeleteFunc(slices.Compact(all), func(t float64) bool { return t <= 0 || t > until })
}
