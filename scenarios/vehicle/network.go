package vehicle

import (
	"math"

	"nospark/scenarios/circuit"
)

// closedOhms is the resistance of a module's closed output in series with its saturation voltage. Common practice, no
// source.
const closedOhms = 0.02

// shortedOhms is what is left of an output that never opens: a burnt junction has no saturation voltage. Common
// practice, no source.
const shortedOhms = 0.1

// build writes the netlist of one phase.
func (v *Vehicle) build(s *setup, on *awake, ph phase, w *wiring) {
	d, n := v.decode(), &v.pool.net
	if !v.resume(s, w) {
		v.declare(n)
		w.reset(len(v.values), len(d.coils))
		v.buildPassive(s, w)
		v.pool.begun = begun{v, *s, n.Elements(), append(v.pool.begun.parts[:0], w.parts...)}
	}
	for i := range d.lamps {
		v.buildFilament(s, w, i, ph)
	}
	for i := range d.diodes {
		v.buildDiode(s, w, &d.diodes[i], ph)
	}
	for i := range d.relays {
		v.buildRelay(s, w, &d.relays[i], on)
	}
	for k := range d.coils {
		v.buildCoil(s, w, &d.coils[k], k, ph)
	}
	for i := range d.spare {
		v.buildCoil(s, w, &d.spare[i], -1, ph)
	}
	for i := range d.halls {
		v.buildHall(s, w, &d.halls[i], on, ph)
	}
	for i := range d.pickups {
		v.buildPickup(s, w, &d.pickups[i], ph)
	}
	if d.control != nil {
		v.buildControl(s, w, d.control, on, ph)
	}
	for i := range d.modules {
		v.buildModule(s, w, &d.modules[i], ph)
	}
	if s.lamp.ohms > 0 {
		n.Resistor("lamp", s.lamp.red, s.lamp.black, s.lamp.ohms)
	}
}

// resume takes up the last netlist behind what it has in common with the next one; false if that is nothing.
func (v *Vehicle) resume(s *setup, w *wiring) bool {
	b, n := &v.pool.begun, &v.pool.net
	if b.of != v || b.setup.condition != s.condition || !sameFlags(b.setup.gone, s.gone) || n.Elements() < b.elements {
		return false
	}
	n.Rewind(v.l.nodes, b.elements)
	w.reset(len(v.values), len(v.dev.coils))
	copy(w.parts, b.parts)
	return true
}

// sameFlags reports whether two lists are one in memory.
func sameFlags(x, y []bool) bool { return len(x) == len(y) && (len(x) == 0 || &x[0] == &y[0]) }

// declare gives a netlist the nodes that every circuit of the pack has, unless it has them from the last one.
func (v *Vehicle) declare(n *circuit.Netlist) {
	if n.Nodes() >= v.l.nodes {
		n.Rewind(v.l.nodes, 0)
		return
	}
	n.Reset()
	for i := range v.l.node {
		if v.l.node[i] != circuit.Reference {
			n.Node(v.l.p.Nodes[i].ID)
		}
	}
	for i, at := range v.l.inner {
		if at >= 0 {
			n.Node(v.l.names[i][output])
		}
	}
}

func (v *Vehicle) id(part int) string { return v.l.names[part][whole] }

func (v *Vehicle) buildPassive(s *setup, w *wiring) {
	d, n, c := v.decode(), &v.pool.net, v.l.p.Conditions[s.condition]
	for i := range d.sources {
		b := &d.sources[i]
		if !s.has(b.part) {
			continue
		}
		volts := b.volts
		if c.Running() && c.ChargingVolts > 0 {
			volts = c.ChargingVolts
		}
		w.parts[b.part] = n.Source(v.id(b.part), b.plus, b.minus, volts, b.ohms)
	}
	if st := d.starter; st != nil && c.Cranking() && s.has(st.part) {
		w.parts[st.part] = n.Resistor(v.id(st.part), st.plus, st.minus, st.ohms)
	}
	for i := range d.pairs {
		p := &d.pairs[i]
		if !s.has(p.part) || v.blown != nil && v.blown[p.part] {
			continue
		}
		if p.closed&c.Key != 0 {
			ohms := p.ohms
			if !s.table {
				ohms += p.holder
			}
			w.parts[p.part] = n.Resistor(v.id(p.part), p.a, p.b, ohms)
		}
	}
	for i := range d.pots {
		p := &d.pots[i]
		if s.has(p.part) {
			w.parts[p.part] = n.Resistor(v.id(p.part), p.top, p.wiper, p.upperOhms)
			n.Resistor(v.l.names[p.part][lower], p.wiper, p.bottom, p.lowerOhms)
		}
	}
}

func (v *Vehicle) buildFilament(s *setup, w *wiring, i int, ph phase) {
	f := &v.dev.lamps[i]
	if !s.has(f.part) || f.burnt {
		return
	}
	ohms := f.bulb.volts / f.bulb.amps
	if ph.hot != nil {
		ohms = ph.hot[i]
	}
	w.parts[f.part] = v.pool.net.Resistor(v.id(f.part), f.a, f.b, ohms)
}

func (v *Vehicle) buildDiode(s *setup, w *wiring, d *diodeDevice, ph phase) {
	switch {
	case !s.has(d.part):
	case d.shorted:
		w.parts[d.part] = v.pool.net.Resistor(v.id(d.part), d.anode, d.cathode, d.ohms)
	default:
		w.parts[d.part] = v.sink(w, ph, v.id(d.part), d.anode, d.cathode, d.volts, d.ohms)
	}
}

// heated gives the filaments of a solution the resistance that goes with their voltage there; false when they have it.
// Resistance follows voltage with a power below 1/2, so every round brings both nearer by more than half.
func (v *Vehicle) heated(sol *solved, ph *phase) bool {
	const near = 1e-9
	if len(v.dev.lamps) == 0 {
		return false
	}
	changed, hot := false, make([]float64, len(v.dev.lamps))
	for i := range v.dev.lamps {
		f := &v.dev.lamps[i]
		hot[i] = f.bulb.ohms(math.Abs(sol.Between(f.a, f.b)))
		changed = changed || ph.hot == nil || math.Abs(hot[i]/ph.hot[i]-1) > near
	}
	if changed {
		ph.hot = hot
	}
	return changed
}

// buildRelay adds a relay's winding, and its contact while it is pulled in.
func (v *Vehicle) buildRelay(s *setup, w *wiring, r *relayDevice, on *awake) {
	if !s.has(r.part) {
		return
	}
	v.pool.net.Resistor(v.l.names[r.part][winding], r.coilA, r.coilB, r.coilOhms)
	if r.stuck || on.part[r.part] {
		w.parts[r.part] = v.pool.net.Resistor(v.id(r.part), r.common, r.contact, r.ohms)
	}
}

// buildCoil adds a coil; k is its channel, -1 for one that nothing drives.
func (v *Vehicle) buildCoil(s *setup, w *wiring, c *coilDevice, k int, ph phase) {
	if !s.has(c.part) {
		return
	}
	n, name := &v.pool.net, &v.l.names[c.part]
	m := n.Node(name[winding])
	w.parts[c.part] = n.Resistor(name[primary], c.plus, m, c.ohms)
	if c.tower >= 0 {
		n.Resistor(name[secondaryTag], c.tower, c.foot, c.secondOhms)
	}
	if k >= 0 {
		w.middle[k] = m
	}
	switch {
	case k < 0 || k != ph.channel || ph.drive == limiting || ph.drive == pulled || ph.drive == commanded:
		emf := 0.0
		if k >= 0 && ph.emf != nil {
			emf = ph.emf[k]
		}
		n.Source(name[inductance], c.minus, m, emf, 0)
	case ph.drive == charging || ph.drive == closed:
		w.drive = n.Current(name[inductance], m, c.minus, ph.amps)
	case ph.drive == rest:
		n.Source(name[inductance], c.minus, m, 0, 0)
	}
}

func (v *Vehicle) buildHall(s *setup, w *wiring, h *hallDevice, on *awake, ph phase) {
	if !s.has(h.part) {
		return
	}
	n, name := &v.pool.net, &v.l.names[h.part]
	w.parts[h.part] = n.Resistor(name[supply], h.feed, h.ground, h.supply)
	if !ph.high && h.senses && on.part[h.part] {
		v.sink(w, ph, name[output], h.signal, h.ground, h.lowVolts, h.lowOhms)
	}
}

// buildPickup takes the two halves of a pickup's wave for its two peaks.
func (v *Vehicle) buildPickup(s *setup, w *wiring, c *pickupDevice, ph phase) {
	if !s.has(c.part) {
		return
	}
	volts := c.perRPM * ph.rpm
	if ph.high == c.reversed {
		volts = -volts
	}
	w.parts[c.part] = v.pool.net.Source(v.l.names[c.part][whole], c.plus, c.minus, volts, c.ohms)
}

func (v *Vehicle) buildControl(s *setup, w *wiring, c *controlDevice, on *awake, ph phase) {
	if !s.has(c.part) {
		return
	}
	n, name := &v.pool.net, &v.l.names[c.part]
	w.parts[c.part] = n.Resistor(name[supply], c.feed, c.ground, c.supply)
	w.ref = c.ref
	if c.ref < 0 {
		w.ref = n.Node(name[refTag])
	}
	if on.part[c.part] {
		n.Source(name[refTag], w.ref, c.ground, c.refVolts, c.refOhms)
	}
	v.pullUp(c.part, w.ref, c.sync, c.syncPullup, c.refVolts)
	n.Resistor(name[input], c.sync, c.ground, c.syncOhms)
	if c.syncMinus >= 0 {
		n.Resistor(name[input], c.syncMinus, c.ground, c.syncOhms)
	}
	if c.ect >= 0 {
		v.pullUp(c.part, w.ref, c.ect, c.ectPullup, c.refVolts)
	}
	if c.iat >= 0 {
		v.pullUp(c.part, w.ref, c.iat, c.iatPullup, c.refVolts)
	}
	for k, pin := range c.commands {
		volts := 0.0
		if ph.channel >= 0 && ph.drive != rest && on.active[c.part] && k == v.l.channels[ph.channel].source &&
			!c.silent(k) {
			volts = c.refVolts
		}
		n.Source(name[command], pin, c.ground, volts, c.commandOhms)
	}
}

// nominalVolts stand in for a vehicle's own where a pull-up is set apart.
const nominalVolts = 12.6

// pullUp holds a pin up to a supply within the part.
func (v *Vehicle) pullUp(part int, supply, pin circuit.Node, ohms, volts float64) {
	if v.apart != nil && v.apart[part] {
		v.pool.net.Source(v.l.names[part][pullTag], pin, circuit.Reference, volts, ohms)
		return
	}
	v.pool.net.Resistor(v.l.names[part][pullTag], supply, pin, ohms)
}

func (v *Vehicle) buildModule(s *setup, w *wiring, m *moduleDevice, ph phase) {
	if !s.has(m.part) {
		return
	}
	n, name := &v.pool.net, &v.l.names[m.part]
	w.parts[m.part] = n.Resistor(name[supply], m.feed, m.ground, m.quiescent)
	if m.trigger >= 0 {
		v.pullUp(m.part, m.feed, m.trigger, m.pullup, nominalVolts)
		n.Resistor(name[input], m.trigger, m.ground, m.input)
	}
	for _, c := range m.commands {
		n.Resistor(name[command], c, m.ground, m.input)
	}
	for k, ch := range v.l.channels {
		if ch.driver != m.part {
			continue
		}
		out := ch.out
		switch {
		case m.isStuck(ch.output):
			n.Resistor(name[output], out, m.ground, shortedOhms)
		case k != ph.channel || ph.drive == rest || ph.drive == commanded: // open
		case ph.drive == limiting:
			n.Current(name[output], out, m.ground, ph.amps)
		case ph.drive == pulled:
			n.Resistor(name[output], out, m.ground, closedOhms)
		default:
			n.Source(name[output], out, m.ground, m.saturation, closedOhms)
		}
	}
}

// sink adds the closed output of a sensor, or a diode: what is left across it, behind a resistance. (A module's closed
// output always has the coil's current to take in.)
func (v *Vehicle) sink(w *wiring, ph phase, name string, out, ground circuit.Node, volts,
	ohms float64) circuit.Element {
	e := none
	if ph.blocked&(1<<len(w.sinks)) == 0 {
		e = v.pool.net.Source(name, out, ground, volts, ohms)
	}
	w.sinks = append(w.sinks, e)
	return e
}

// pushing finds the closed outputs that give current out, which none of them can; alone asks for the worst of them
// only.
func (s *solved) pushing(alone bool) (blocked uint64) {
	const rounding = 1e-9 // amperes
	worst := -rounding
	for i, e := range s.sinks {
		if e == none || !(s.Amps(e) < worst) {
			continue
		}
		if alone {
			worst, blocked = s.Amps(e), 0
		}
		blocked |= 1 << i
	}
	return blocked
}

// solve builds and solves one phase. An output that would have to push current out is blocked, which lowers the voltage
// there and so frees no other; diodes are blocked one by one, since of two that oppose each other one conducts.
// The errors of the circuit package are mistakes of the pack: an ideal source across
// a short.
func (v *Vehicle) solve(s *setup, on *awake, ph phase) (*solved, error) {
	sol := v.pool.take()
	for {
		v.build(s, on, ph, &sol.wiring)
		if err := v.pool.net.SolveInto(&sol.Solution); err != nil {
			v.pool.give(sol)
			return nil, err
		}
		sol.phase = ph
		if blocked := sol.pushing(len(v.dev.diodes) > 0); blocked != 0 {
			ph.blocked |= blocked
		} else if !v.heated(sol, &ph) {
			return sol, nil
		}
	}
}
