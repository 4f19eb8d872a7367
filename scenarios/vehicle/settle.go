package vehicle

import (
	"math"

	"nospark/scenarios/vehicle/coil"
)

// Electrical state and behavior depend on each other: a module without ground is not powered, so it does not switch,
// so no current flows in its ground. settle begins with every part awake and solves; whatever finds itself starved or
// without its input is switched off for good, and the circuit is solved again. Parts are only ever switched off, so
// this ends after at most as many rounds as there are parts, and a starved part stays off instead of blinking.

// settle finds the state of a setup. A circuit that cannot be solved is noted in v.err and gives an engine that stands.
func (v *Vehicle) settle(s setup) *state {
	st := v.newState(s)
	for {
		if !v.solveRest(st) {
			return st
		}
		clear(st.charges)
		if v.switchOff(st) { // what has no supply or no input to begin with charges no coil
			continue
		}
		if st.rpm == 0 {
			break
		}
		if !v.solveCharges(st) {
			return st
		}
		if !v.switchOff(st) && !v.brownOut(st) {
			break
		}
	}
	v.average(st)
	return st
}

// try solves a phase and notes an error.
func (v *Vehicle) try(st *state, ph phase) *solved {
	ph.rpm = st.rpm
	sol, err := v.solve(&st.setup, &st.on, ph)
	if err != nil && v.err == nil {
		v.err = err
	}
	if sol != nil {
		st.own = append(st.own, sol)
	}
	return sol
}

// solveRest solves the phases without a charging coil and finds the engine's speed.
func (v *Vehicle) solveRest(st *state) bool {
	st.low, st.high = nil, v.try(st, phase{high: true, channel: -1})
	if st.high == nil {
		return false
	}
	c := v.l.p.Conditions[st.setup.condition]
	st.rpm = c.SpeedRPM
	if c.Cranking() {
		st.rpm = v.cranked(st)
	}
	st.mean = append(st.mean[:0], weighted{st.high, 1})
	if st.rpm == 0 {
		return true
	}
	st.pulses = st.rpm / 60 * v.pulsesPerRevolution() * v.given()
	if n := len(v.l.channels); n > 0 {
		st.firing = st.rpm / 60 * float64(v.l.cylinders) / 2 / float64(n) * v.given()
	}
	if len(v.dev.pickups) > 0 { // its voltage depends on the speed, which was not known yet
		st.high = v.try(st, phase{high: true, channel: -1})
		st.mean[0].solved = st.high
	}
	st.low = v.try(st, phase{channel: -1})
	return st.low != nil && st.high != nil
}

// cranked is the speed at which the starter turns the engine, 1/min: proportional to the voltage across it.
func (v *Vehicle) cranked(st *state) float64 {
	d := v.decode().starter
	if d == nil || !st.setup.has(d.part) {
		return 0
	}
	volts := st.high.Between(d.plus, d.minus)
	if !st.reaches(volts, d.turns) {
		return 0
	}
	return d.speed * volts / d.at
}

func (v *Vehicle) pulsesPerRevolution() float64 {
	if v.l.sensor < 0 {
		return 0
	}
	return v.value(v.l.sensor, "pulses_per_revolution")
}

// given is the share of the sensor's pulses that come: all but of a damaged wheel. What is missing comes as a pulse
// that does not happen, so that the ignition it would have brought does not happen either.
func (v *Vehicle) given() float64 {
	switch d := v.decode(); {
	case len(d.halls) > 0:
		return d.halls[0].given
	case len(d.pickups) > 0:
		return d.pickups[0].given
	}
	return 1
}

// openPart is the part of one pulse in which the sensor's output is open.
func (v *Vehicle) openPart() float64 {
	if len(v.dev.halls) > 0 {
		return v.dev.halls[0].highPart
	}
	return 0.5
}

// highShare is the part of the time that the sensor's output is open: of a pulse that is missing all of it. An inductive
// sensor rests between its two peaks then.
func (v *Vehicle) highShare() float64 {
	if len(v.dev.halls) == 0 {
		return v.openPart()
	}
	return 1 - (1-v.openPart())*v.given()
}

// solveCharges finds what each channel does: it charges its coil, or it is commanded and does not follow, or it is not
// even commanded.
func (v *Vehicle) solveCharges(st *state) bool {
	for k := range st.charges {
		m, ch := v.driver(k), &st.charges[k]
		*ch = charge{time: v.dwell(st, m)}
		switch {
		case v.switches(st, k):
			v.solveCharge(st, k)
		case v.commands(st, k):
			ch.start = v.try(st, phase{high: true, channel: k, drive: commanded})
			ch.end = ch.start
		default:
			continue
		}
		if ch.end == nil {
			return false
		}
	}
	return true
}

// dwell is how long a module closes an output, seconds: the time that suits its feed's voltage, and at most its share
// of the time from spark to spark. One without a share follows the pulses of the sensor and leaves a fifth of each.
func (v *Vehicle) dwell(st *state, m *moduleDevice) float64 {
	share := m.dwellShare
	if share == 0 {
		share = 0.8 * v.openPart()
	}
	return math.Min(m.dwellAt(st.high.Between(m.feed, m.ground)), share*v.given()/st.firing/float64(len(st.charges)))
}

// solveCharge finds the current a coil is charged to. It follows from the Thevenin equivalent that the inductance sees.
func (v *Vehicle) solveCharge(st *state, k int) {
	ch := &st.charges[k]
	if ch.start = v.try(st, phase{high: true, channel: k, drive: closed}); ch.start == nil {
		return
	}
	volts, ohms := ch.start.Thevenin(ch.start.middle[k], v.dev.coils[k].minus)
	ch.ramp = coil.Ramp{Volts: volts, Ohms: ohms, Henries: v.dev.coils[k].side.Henries, Limit: v.driver(k).limit,
		Dwell: ch.time}
	if ch.amps = ch.ramp.End(); ch.amps < 1e-3 {
		st.margin = 0
		ch.amps = 0
		ch.start = v.try(st, phase{high: true, channel: k, drive: pulled})
		ch.end = ch.start
		return
	}
	ch.hold = ch.time - ch.ramp.ToLimit()
	if ch.end = v.raised(st, ch.start, ch.last(k)); ch.end == nil {
		ch.end = v.try(st, ch.last(k))
	}
	if ch.end != nil && v.losesCommand(st, k) {
		ch.end = v.try(st, ch.last(k))
	}
}

// raised is the phase in which the coil of the phase that was solved last carries another current; nil where that is
// not all that differs.
func (v *Vehicle) raised(st *state, start *solved, ph phase) *solved {
	if ph.drive != charging || start.phase.blocked != 0 || len(v.dev.lamps) > 0 {
		return nil
	}
	sol := v.pool.take()
	sol.wiring.copy(&start.wiring)
	v.pool.net.SetValue(start.wiring.drive, ph.amps)
	if err := v.pool.net.SolveInto(&sol.Solution); err != nil || sol.pushing(true) != 0 {
		v.pool.give(sol)
		return nil
	}
	ph.rpm = st.rpm
	sol.phase = ph
	st.own = append(st.own, sol)
	return sol
}

// during is the phase of a charge at some current on the way. The circuit is linear in it, so it lies between start and
// end, unless an output is blocked in one of them or the coil's current is held at its limit.
func (v *Vehicle) during(st *state, k int, amps float64) *solved {
	ch, ph := &st.charges[k], phase{high: true, channel: k, drive: charging, amps: amps}
	if a, b := &ch.start.phase, &ch.end.phase; b.drive != charging || a.blocked != b.blocked || len(v.dev.lamps) > 0 {
		return v.try(st, ph)
	}
	ph.rpm, ph.blocked = st.rpm, ch.end.phase.blocked
	sol := v.pool.take()
	sol.Blend(&ch.start.Solution, &ch.end.Solution, amps/ch.amps)
	sol.wiring.copy(&ch.end.wiring)
	sol.phase = ph
	st.own = append(st.own, sol)
	return sol
}

// last is the phase of a charge just before the switch opens.
func (ch *charge) last(k int) phase {
	ph := phase{high: true, channel: k, drive: charging, amps: ch.amps}
	if ch.hold > 0 {
		ph.drive = limiting
	}
	return ph
}

// losesCommand ends a dwell early in which the driver no longer finds its command high, because the coil's current
// lifts its own ground: the current then stops where command minus ground crosses the lower threshold.
func (v *Vehicle) losesCommand(st *state, k int) bool {
	ch, m, pin := &st.charges[k], v.driver(k), v.l.channels[k].command
	if pin < 0 {
		return false
	}
	first, last := ch.start.Between(v.l.node[pin], m.ground), ch.end.Between(v.l.node[pin], m.ground)
	if st.reaches(last, m.low) || first <= m.low {
		return false
	}
	ch.amps *= (first - m.low) / (first - last)
	ch.time = math.Min(ch.time, ch.ramp.Until(ch.amps))
	ch.ramp.Dwell, ch.hold, ch.known = ch.time, 0, false
	return true
}

// lasting calls f for every situation of a cycle that lasts a millisecond, at its most extreme.
func (v *Vehicle) lasting(st *state, f func(*solved)) {
	f(st.high)
	if st.low != nil {
		f(st.low)
	}
	for k := range st.charges {
		ch := &st.charges[k]
		early, late, ok := ch.inDwell()
		switch {
		case ch.start == nil || !ok:
		case ch.amps == 0:
			f(ch.start)
		default:
			if ch.early == nil {
				ch.early = v.during(st, k, early)
			}
			if ch.late == nil && ch.hold >= lasts {
				ch.late = ch.end
			} else if ch.late == nil {
				ch.late = v.during(st, k, late)
			}
			if ch.early != nil && ch.late != nil {
				f(ch.early)
				f(ch.late)
			}
		}
	}
}

// commands reports whether the controller gives the command of a channel.
func (v *Vehicle) commands(st *state, k int) bool {
	c := v.dev.control
	return c != nil && st.setup.has(c.part) && st.on.active[c.part] && !c.silent(v.l.channels[k].source)
}

// switches reports whether a channel's output goes on and off.
func (v *Vehicle) switches(st *state, k int) bool {
	m, ch := v.driver(k), v.l.channels[k]
	return st.setup.has(m.part) && st.setup.has(ch.coil) && st.on.part[m.part] && st.on.active[m.part] &&
		st.on.channel[k] &&
		!m.isDead(ch.output) && !m.isStuck(ch.output)
}

// average puts together all phases with their shares of time. While a coil rests it delivers its energy; its mean
// voltage then follows from volt-second balance: the mean over a whole cycle is 0, so the share of rest carries L I /
// time of rest.
func (v *Vehicle) average(st *state) {
	if st.rpm == 0 {
		return
	}
	st.mean = st.mean[:0]
	restShare := 1.0
	st.emf = append(st.emf[:0], make([]float64, len(st.charges))...)
	for k := range st.charges {
		ch := &st.charges[k]
		if ch.start == nil {
			continue
		}
		restShare -= ch.time * st.firing
		v.averageCharge(st, k)
	}
	for k := range st.charges {
		if ch := &st.charges[k]; ch.start != nil {
			st.emf[k] = v.dev.coils[k].side.Henries * ch.amps * st.firing / restShare
		}
	}
	lowShare := math.Min(1-v.highShare(), restShare) // a long dwell leaves nothing else
	for _, high := range []bool{false, true} {
		share := lowShare
		if high {
			share = restShare - lowShare
		}
		if sol := v.try(st, phase{high: high, channel: -1, emf: st.emf}); sol != nil {
			st.mean = append(st.mean, weighted{sol, share})
		}
	}
}

// averageCharge adds the phases of one channel's dwell.
func (v *Vehicle) averageCharge(st *state, k int) {
	ch := &st.charges[k]
	if ch.amps == 0 {
		st.mean = append(st.mean, weighted{ch.start, ch.time * st.firing})
		return
	}
	if sol := v.during(st, k, ch.ramp.Mean()); sol != nil {
		st.mean = append(st.mean, weighted{sol, (ch.time - ch.hold) * st.firing})
	}
	if ch.hold > 0 {
		st.mean = append(st.mean, weighted{ch.end, ch.hold * st.firing})
	}
}

// newState is a state of a setup in which every part works, before it is settled.
func (v *Vehicle) newState(s setup) *state {
	st := v.pool.takeState()
	on := func(flags []bool, n int) []bool {
		flags = flags[:0]
		for range n {
			flags = append(flags, true)
		}
		return flags
	}
	charges := st.charges[:0]
	for range v.l.channels {
		charges = append(charges, charge{})
	}
	clear(st.beside)
	*st = state{setup: s, margin: math.Inf(1), charges: charges, mean: st.mean[:0], own: st.own[:0], emf: st.emf[:0],
		beside: st.beside, plugs: st.plugs[:0], on: awake{on(st.on.part, len(v.values)), on(st.on.active, len(v.values)),
			on(st.on.channel, len(v.l.channels))}}
	return st
}
