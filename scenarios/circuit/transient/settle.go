package transient

import (
	"fmt"
	"math"
)

const (
	mostEvents = 200  // at one moment
	here       = 0.01 // margin below which a device has not left its line yet
)

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
