package vehicle

import (
	"math"

	"nospark/scenarios/circuit"
)

// referenceShare is how much of its nominal voltage the controller's reference must keep for the controller to run.
// Common practice, no source.
const referenceShare = 0.8

// switchOff switches off what is starved or lacks an input and reports whether anything changed.
func (v *Vehicle) switchOff(st *state) bool {
	changed := false
	off := func(flags []bool, part int, ok bool) {
		if flags[part] && !ok {
			flags[part] = false
			changed = true
		}
	}
	for i := range v.dev.halls {
		h := &v.dev.halls[i]
		off(st.on.part, h.part, st.setup.has(h.part) && st.fed(h.feed, h.ground, h.minimum))
	}
	for i := range v.dev.relays {
		r := &v.dev.relays[i]
		off(st.on.part, r.part, st.setup.has(r.part) && !math.IsInf(r.coilOhms, 1) &&
			st.reaches(math.Abs(st.high.Between(r.coilA, r.coilB)), r.pullIn))
	}
	if c := v.dev.control; c != nil {
		powered := st.setup.has(c.part) && !c.dead && st.fed(c.feed, c.ground, c.minimum) &&
			st.reaches(st.high.Between(st.high.ref, c.ground), referenceShare*c.refVolts)
		off(st.on.part, c.part, powered)
		off(st.on.active, c.part, st.on.part[c.part] && !c.mute && st.sees(c))
	}
	for i := range v.dev.modules {
		m := &v.dev.modules[i]
		off(st.on.part, m.part, st.setup.has(m.part) && st.fed(m.feed, m.ground, m.minimum))
		off(st.on.active, m.part, st.on.part[m.part] && (m.trigger < 0 || st.toggles(m.trigger, m.ground, m.low,
			m.high)))
	}
	for k := range st.charges {
		off(st.on.channel, k, v.commanded(st, k))
	}
	return changed
}

// reaches compares a voltage with a threshold and remembers how close a call it was.
func (st *state) reaches(volts, threshold float64) bool {
	st.margin = min(st.margin, math.Abs(volts-threshold))
	return volts >= threshold
}

// fed reports whether a part has its supply in all phases at rest.
func (st *state) fed(feed, ground circuit.Node, minimum float64) bool {
	return st.reaches(st.high.Between(feed, ground), minimum) &&
		(st.low == nil || st.reaches(st.low.Between(feed, ground), minimum))
}

// starvedAt is the coil current, in amperes, at which a part loses its supply in some dwell for a millisecond or
// longer; +Inf when it keeps it. Within a dwell voltages follow the coil's current along a line, because the circuit is
// linear in it.
func (st *state) starvedAt(feed, ground circuit.Node, minimum float64) float64 {
	least := math.Inf(1)
	for k := range st.charges {
		ch := &st.charges[k]
		_, late, ok := ch.inDwell()
		if ch.start == nil || ch.amps == 0 || !ok {
			continue
		}
		a, b := ch.start.Between(feed, ground), ch.end.Between(feed, ground)
		if !st.reaches(a+(b-a)*late/ch.amps, minimum) {
			least = math.Min(least, ch.amps*(a-minimum)/(a-b))
		}
	}
	return least
}

// brownOut switches off what loses its supply first while a coil charges: with it off the current may not come that far
// again, and what would have starved later keeps working.
func (v *Vehicle) brownOut(st *state) bool {
	first, part := math.Inf(1), -1
	for i := range v.dev.fed {
		p := &v.dev.fed[i]
		if at := st.starvedAt(p.feed, p.ground, p.minimum); st.on.part[p.part] && at < first {
			first, part = at, p.part
		}
	}
	if part < 0 {
		return false
	}
	st.on.part[part], st.on.active[part] = false, false
	return true
}

// toggles reports whether the sensor moves an input across both thresholds. While the engine stands nothing can be said
// against it.
func (st *state) toggles(input, ground circuit.Node, low, high float64) bool {
	if st.low == nil {
		return true
	}
	a, b := st.low.Between(input, ground), st.high.Between(input, ground)
	if !st.high.Connected(input, ground) {
		return false
	}
	return !st.reaches(min(a, b), low) && st.reaches(max(a, b), high)
}

// sees reports whether the controller gets its crank signal.
func (st *state) sees(c *controlDevice) bool {
	if c.syncMinus < 0 || st.low == nil {
		return st.toggles(c.sync, c.ground, c.low, c.high)
	}
	return st.reaches(math.Abs(st.high.Between(c.sync, c.syncMinus)-st.low.Between(c.sync, c.syncMinus))/2,
		c.pickupVolts)
}

// commanded reports whether the command of a channel crosses its driver's threshold.
func (v *Vehicle) commanded(st *state, k int) bool {
	m, c := v.driver(k), v.l.channels[k]
	if c.command < 0 || st.charges[k].start == nil {
		return true
	}
	start, pin := st.charges[k].start, v.l.node[c.command]
	return start.Connected(pin, m.ground) && st.reaches(start.Between(pin, m.ground), m.high) &&
		!st.reaches(st.high.Between(pin, m.ground), m.low)
}
