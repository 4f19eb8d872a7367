package vehicle

import (
	"math"
	"slices"

	"nospark/scenarios/circuit"
	"nospark/scenarios/pack"
	"nospark/scenarios/pack/cards"
	"nospark/scenarios/vehicle/meter"
)

// What counts as a pulse, a live circuit, an open one and a wave. Common practice, no source.
const (
	CounterSwing  = 1.0
	LiveVolts     = 0.05
	OhmmeterLimit = 40e6
	leastWave     = 0.01 // volts of a pickup's wave; below, what an ac meter sees is ripple
)

// steady reads a test on the vehicle with what is always there.
func (v *Vehicle) steady(test int) meter.Value {
	v.blowFuses()
	t := &v.l.p.Tests[test]
	if !v.reaches(t.Condition) {
		return meter.Value{Phrase: pack.NotRunning}
	}
	if !v.l.lowTension[test] {
		return v.fresh(t)
	}
	if v.kept == nil {
		v.kept = make([]keptValue, len(v.l.p.Tests))
	}
	if k := &v.kept[test]; !k.is {
		k.is, k.x = true, v.fresh(t)
	}
	return v.kept[test].x
}

// fresh reads a test in a condition that the vehicle reaches.
func (v *Vehicle) fresh(t *pack.Test) meter.Value {
	if t.Isolate {
		return v.alone(t)
	}
	if t.Instrument.ID == "loaded-drop" {
		if volts, sure := v.dropped(t); sure {
			return meter.Value{Number: volts}
		}
	} else if phrase, sure := v.glance(t); sure {
		return meter.Value{Phrase: phrase}
	}
	st := v.state(t)
	defer v.done(st)
	if v.l.p.Conditions[t.Condition].Running() && v.stalls(t, st) {
		return meter.Value{Phrase: pack.NotRunning}
	}
	switch t.Instrument.ID {
	case "voltmeter", "loaded-drop":
		return meter.Value{Number: st.volts(v.node(t.Red), v.node(t.Black))}
	case "ac-voltmeter":
		return meter.Value{Number: v.effective(st, v.node(t.Red), v.node(t.Black))}
	case "max-hold", "min-hold":
		return meter.Value{Number: v.held(st, v.node(t.Red), v.node(t.Black), t.Instrument.ID == "max-hold")}
	case "frequency":
		return meter.Value{Number: st.frequency(v.node(t.Red), v.node(t.Black))}
	case "duty":
		return meter.Value{Number: v.duty(st, v.node(t.Red), v.node(t.Black))}
	case "ohmmeter":
		return st.resistance(v.node(t.Red), v.node(t.Black))
	case "test-lamp", "load-lamp":
		return meter.Value{Phrase: brightness(lit(st), v.besideBattery(t))}
	case "ammeter":
		return meter.Value{Number: st.peakAmps(t.Part)}
	case "spark-tester":
		return meter.Value{Phrase: sparkPhrase(v.lifted(st, t.Red))}
	case "kv-available":
		return meter.Value{Number: v.lifted(st, t.Red)}
	case "kv-required":
		return meter.Value{Number: v.peakAt(st, t.Red)}
	case "gap-gauge":
		return meter.Value{Number: 1e-3 * v.value(t.Part, "gap_mm")}
	case "inspection":
		return meter.Value{Phrase: v.inspected(t)}
	case "cylinder-balance":
		return meter.Value{Phrase: v.unbalanced(st)}
	case "timing-light":
		return meter.Value{Number: v.advance(st)}
	case "scan-speed", "scan-ect", "scan-iat", "scan-misfire", "scan-codes":
		return v.scan(st, t.Instrument.ID)
	}
	if t.Instrument.Scope() {
		return meter.Value{Phrase: judged(t.Instrument.ID, v.features(st, t), v.l.goodFeatures(t))}
	}
	panic("vehicle: no behavior for instrument " + t.Instrument.ID)
}

// effective is what an ac voltmeter shows, the root of the mean square about the mean. A pickup's wave is taken for a
// sine, whose effective value is its peak over the square root of 2.
func (v *Vehicle) effective(st *state, red, black circuit.Node) float64 {
	if st.low != nil && len(v.dev.pickups) > 0 {
		if peak := math.Abs(st.high.metered(red, black)-st.low.metered(red, black)) / 2; peak > leastWave {
			return peak * math.Sqrt(v.given()/2) // missing pulses are still times
		}
	}
	mean, sum := st.volts(red, black), 0.0
	for _, ph := range st.mean {
		d := ph.metered(red, black) - mean
		sum += ph.share * d * d
	}
	return math.Sqrt(sum)
}

// instants calls f for every instantaneous situation of a cycle but the flyback, which is too short for a hold
// function.
func (st *state) instants(f func(*solved)) {
	f(st.high)
	if st.low != nil {
		f(st.low)
	}
	for k := range st.charges {
		if ch := &st.charges[k]; ch.start != nil {
			f(ch.start)
			f(ch.end)
		}
	}
}

// held is what max or min hold keeps.
func (v *Vehicle) held(st *state, red, black circuit.Node, highest bool) float64 {
	out := math.NaN()
	v.lasting(st, func(s *solved) {
		// A meter's own resistance brings a voltage nearer to 0, so most situations need no look behind the leads.
		if open := s.Between(red, black); highest && max(open, 0) <= out || !highest && min(open, 0) >= out {
			return
		}
		x := s.metered(red, black)
		if math.IsNaN(out) || highest == (x > out) {
			out = x
		}
	})
	return out
}

// frequency counts pulses per second whose swing crosses the counter's trigger: the sensor's, else those of a channel.
func (st *state) frequency(red, black circuit.Node) float64 {
	if st.low == nil {
		return 0
	}
	base := st.high.metered(red, black)
	if math.Abs(base-st.low.metered(red, black)) >= CounterSwing {
		return st.pulses
	}
	channels := 0
	for k := range st.charges {
		if st.swings(k, red, black) {
			channels++
		}
	}
	return st.firing * float64(channels)
}

// swings reports whether a channel's switching moves the voltage between two leads.
func (st *state) swings(k int, red, black circuit.Node) bool {
	ch := &st.charges[k]
	if ch.start == nil {
		return false
	}
	base := st.high.metered(red, black)
	return math.Abs(ch.start.metered(red, black)-base) >= CounterSwing ||
		math.Abs(ch.end.metered(red, black)-base) >= CounterSwing
}

// duty is the share of the time above the middle of the swing, 0 without a swing.
func (v *Vehicle) duty(st *state, red, black circuit.Node) float64 {
	if st.low == nil {
		return 0
	}
	high, low := st.high.metered(red, black), st.low.metered(red, black)
	if math.Abs(high-low) >= CounterSwing {
		if high > low {
			return v.highShare()
		}
		return 1 - v.highShare()
	}
	share, up := 0.0, false
	for k := range st.charges {
		if st.swings(k, red, black) {
			share += st.charges[k].time * st.firing
			up = st.charges[k].start.metered(red, black) > high
		}
	}
	if share > 0 && !up {
		return 1 - share
	}
	return share
}

// resistance is the ohmmeter's: the Thevenin resistance between its leads, unless there is voltage.
func (st *state) resistance(red, black circuit.Node) meter.Value {
	live := false
	st.instants(func(s *solved) { live = live || math.Abs(s.metered(red, black)) > LiveVolts })
	if live {
		return meter.Value{Phrase: pack.Live}
	}
	_, ohms := st.high.Thevenin(red, black)
	return overRange(ohms)
}

func overRange(ohms float64) meter.Value {
	if ohms >= OhmmeterLimit {
		return meter.Value{Number: math.Inf(1)}
	}
	return meter.Value{Number: ohms}
}

func sparkPhrase(volts float64) string {
	switch {
	case volts >= strongSpark:
		return "strong spark"
	case volts >= weakSpark:
		return "weak spark"
	}
	return "no spark"
}

// peakAmps is the highest current in a part.
func (st *state) peakAmps(part int) float64 {
	peak := 0.0
	st.instants(func(s *solved) { peak = math.Max(peak, math.Abs(s.through(part))) })
	return peak
}

// alone is the resistance of a part taken off and measured between two of its own pins.
func (v *Vehicle) alone(t *pack.Test) meter.Value {
	key := tableKey{t.Part, t.Red, t.Black, t.Condition}
	values, blown := v.values[t.Part], v.blown != nil && v.blown[t.Part]
	same := func(x, y float64) bool { return math.Float64bits(x) == math.Float64bits(y) }
	if last, known := v.tabled[key]; known && last.blown == blown && slices.EqualFunc(last.values, values, same) {
		return last.x
	}
	st := v.onTheTable(t)
	defer v.release(st)
	if st.high == nil {
		return meter.Value{}
	}
	_, ohms := st.high.Thevenin(v.across(t))
	if v.tabled == nil {
		v.tabled = map[tableKey]tableReading{}
	}
	v.tabled[key] = tableReading{slices.Clone(values), blown, overRange(ohms)}
	return v.tabled[key].x
}

// across gives the leads of an ohmmeter put on a part that is on the table: where the test says, else on the part's two
// pins.
func (v *Vehicle) across(t *pack.Test) (red, black circuit.Node) {
	if t.Red >= 0 && t.Black >= 0 {
		return v.node(t.Red), v.node(t.Black)
	}
	return v.at(t.Part, 0), v.at(t.Part, 1)
}

// seenGap is how much wider than new a plug's gap must be for the eye to see it. Common practice, no source.
const seenGap = 1.25

// inspected tells what can be seen of a part. While the engine turns a distributor stays closed, so that only what leaves
// its cap shows; with the cap off one sees burnt terminals and rotors too.
func (v *Vehicle) inspected(t *pack.Test) string {
	part := t.Part
	finite := func(name string) bool { return !math.IsInf(v.value(part, name), 1) }
	damage := false
	switch p, c := &v.l.p.Parts[part], &v.l.p.Conditions[t.Condition]; v.l.kinds[part] {
	case "distributor":
		closed := c.Cranking() || c.Running()
		damage = finite("cap_leak_megohms") || !closed && (v.value(part, "open_terminal") != 0 ||
			finite("rotor_leak_megohms"))
	case "plug":
		damage = v.value(part, "gap_mm") > seenGap*p.Values[p.Kind.Param("gap_mm")] || finite("shunt_megohms")
	case "lead":
		damage = finite("leak_megohms")
	case "filament":
		damage = v.is(part, "burnt_out")
	case "fuse":
		damage = v.blown[part] || !finite("resistance_ohms") || v.value(part, "holder_ohms") > 0
	case "hall", "pickup":
		damage = v.value(part, "missed_share") > 0
	case "connector":
		damage = v.value(part, "resistance_ohms") > 10*p.Values[p.Kind.Param("resistance_ohms")]
	}
	if damage {
		return cards.DamageSeen
	}
	return cards.NothingSeen
}
