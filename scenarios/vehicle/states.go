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

// withLamp settles a vehicle with a lamp in place, whose resistance depends on its own voltage. It begins with what the
// lamp would do to the vehicle without it, which is the answer unless the lamp changes what works.
func (v *Vehicle) withLamp(key stateKey, s setup) *state {
	var few fewFeeds
	bare := s
	bare.lamp = lamp{}
	if list, ok := v.cached(key, bare).supplies(&few, s.lamp.red, s.lamp.black); ok {
		s.lamp.ohms, _ = s.lamp.bulb.settle(list)
	}
	for range 20 {
		st := v.settle(s)
		ohms := s.lamp.bulb.ohms(lit(st))
		if math.Abs(ohms/s.lamp.ohms-1) < 1e-6 {
			return st
		}
		v.release(st)
		s.lamp.ohms = ohms
	}
	return v.settle(s)
}

// blowFuses opens every fuse whose mean current in some condition is above its rating. One fuse at a time and from the
// first condition on, because a blown one may spare the next.
func (v *Vehicle) blowFuses() {
	if v.blown != nil {
		return
	}
	v.decode()
	v.blown = make([]bool, len(v.values))
	for again := true; again; {
		again = false
		for i, c := range v.l.p.Conditions {
			if c.Provoke != "" || c.Running() { // no more than with the starter: the same loads at a similar voltage
				continue
			}
			if part := v.overloaded(v.plain(i)); part >= 0 {
				v.blown[part], v.pool.begun.of = true, nil
				v.forgetStates()
				again = true
				break
			}
		}
	}
}

// overloaded finds the fuse that is furthest above its rating, for it is the quickest to blow; -1 for none.
func (v *Vehicle) overloaded(st *state) int {
	worst, most := -1, 1.0
	for i := range v.dev.pairs {
		p := &v.dev.pairs[i]
		if p.rating == 0 || v.blown[p.part] {
			continue
		}
		mean := 0.0
		for _, ph := range st.mean {
			mean += ph.share * ph.through(p.part)
		}
		if load := math.Abs(mean) / p.rating; load > most {
			worst, most = p.part, load
		}
	}
	return worst
}
