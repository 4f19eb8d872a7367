package vehicle

import (
	"math"
	"slices"

	"nospark/scenarios/pack"
)

// plain is the state of a condition with everything connected.
func (v *Vehicle) plain(condition int) *state {
	condition = v.l.same[condition]
	return v.cached(stateKey{condition: condition}, setup{condition: condition})
}

// arranged is what the mechanic arranges for a test, but for a lamp.
func (v *Vehicle) arranged(t *pack.Test) (stateKey, setup) {
	condition := v.l.same[t.Condition]
	key, s := stateKey{condition: condition}, setup{condition: condition}
	if len(t.Unplug) > 0 {
		s.gone = make([]bool, len(v.values))
		name := make([]byte, 0, 2*len(t.Unplug))
		for _, part := range t.Unplug {
			s.gone[part] = true
			name = append(name, byte(part>>8), byte(part))
		}
		key.unplug = string(name)
	}
	return key, s
}

// state is the state a test is made in.
func (v *Vehicle) state(t *pack.Test) *state {
	key, s := v.arranged(t)
	s.lamp = v.lamp(t)
	return v.cached(key, s)
}

// lamp is the lamp that a test puts across its leads.
func (v *Vehicle) lamp(t *pack.Test) lamp {
	with := func(b bulb) lamp { return lamp{v.node(t.Red), v.node(t.Black), b, b.volts / b.amps} }
	switch t.Instrument.ID {
	case "test-lamp":
		return with(smallBulb)
	case "load-lamp":
		return with(loadBulb)
	case "loaded-drop":
		return v.loading(t)
	}
	return lamp{}
}

// done says that a state is not needed any more. Only those with a lamp are given up: no other test puts a lamp in the
// same place.
func (v *Vehicle) done(st *state) {
	if st.setup.lamp.ohms > 0 {
		v.release(st)
	}
}

func (v *Vehicle) cached(key stateKey, s setup) *state {
	v.decode()
	if s.lamp.ohms > 0 {
		return v.withLamp(key, s)
	}
	if key.unplug == "" {
		if v.plains == nil {
			v.plains = make([]*state, len(v.l.p.Conditions))
		}
		if v.plains[key.condition] == nil {
			v.plains[key.condition] = v.settle(s)
		}
		return v.plains[key.condition]
	}
	if st, ok := v.states[key]; ok {
		return st
	}
	st := v.settle(s)
	if v.states == nil {
		v.states = make(map[stateKey]*state)
	}
	v.states[key] = st
	return st
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

// stalls reports whether what the mechanic does stops the engine.
func (v *Vehicle) stalls(t *pack.Test, st *state) bool {
	return (len(t.Unplug) > 0 || st.setup.lamp.ohms > 0) && !v.enough(v.firing(st))
}

// onTheTable is the state of a part taken off and measured alone.
func (v *Vehicle) onTheTable(t *pack.Test) *state {
	v.decode()
	st := v.newState(setup{condition: t.Condition, gone: make([]bool, len(v.values)), table: true})
	for _, all := range [][]bool{st.on.part, st.on.active, st.on.channel} {
		clear(all)
	}
	for i := range st.setup.gone {
		st.setup.gone[i] = i != t.Part
	}
	st.high = v.try(st, phase{high: true, channel: -1})
	st.mean = append(st.mean, weighted{st.high, 1})
	return st
}

// exchanged is the vehicle in which two parts of one kind have changed places.
func (v *Vehicle) exchanged(a, b int) *Vehicle {
	moves := slices.ContainsFunc(v.passing, func(s passing) bool { return s.part == a || s.part == b })
	same := func(x, y float64) bool { return math.Float64bits(x) == math.Float64bits(y) }
	if !moves && slices.EqualFunc(v.values[a], v.values[b], same) {
		return v
	}
	place := func(part int) int {
		switch part {
		case a:
			return b
		case b:
			return a
		}
		return part
	}
	if v.swapped == nil {
		v.swapped = map[[2]int]*variant{}
	}
	key := [2]int{a, b}
	other := v.swapped[key]
	if other == nil {
		other = &variant{Vehicle: v.Clone(), after: -1}
		other.pool = v.pool
		v.swapped[key] = other
	}
	if other.after != v.changes {
		other.after = v.changes
		other.passing = slices.Clone(v.passing)
		for i := range other.passing {
			other.passing[i].part = place(other.passing[i].part)
		}
		other.take(func(part int) []float64 { return v.values[place(part)] })
	}
	return other.Vehicle
}
