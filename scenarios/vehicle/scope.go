package vehicle

import (
	"math"
	"slices"

	"nospark/scenarios/circuit"
	"nospark/scenarios/pack"
	"nospark/scenarios/pack/cards"
	"nospark/scenarios/vehicle/coil"
)

// An oscilloscope shows a curve. What a technician reads from it are a few features, and he compares them with a
// picture of the same system known to be good. The features follow from the settled state by the closed forms, because
// a matrix asks for them by the thousand; the picture (Picture) follows the coil in time, and a test measures in every
// picture of every row that it shows what is said of it.

// features are what a picture shows. Each instrument has its own; all others are 0.
type features struct {
	peak  float64 // amperes of a coil's current when its switch opens; volts of the secondary
	slope float64 // of the current at its beginning, amperes per second
	dwell float64 // seconds of current
	level float64 // amperes that flow without being switched
	calm  float64 // volts at a coil's negative terminal while the switch is open and nothing rings
	burn  float64 // seconds of the spark line; 0: there is none
	swing float64 // volts between the levels of a signal
	low   float64 // volts of the lower one; of a primary's those two milliseconds after the switch has closed
	// the longest time on one level of a switched signal, beside the longest on the other; of a wave the longest time from
	// one to the next, beside that of one wave
	stays float64
}

// From where on a picture differs from a good one. A fifth above the other cylinders is suspect: trade literature; a
// low level above 0.6 V hints at a Hall sensor's ground, and more than 1 V lost in a circuit is a fault: service
// information; the others: common practice, no source.
const (
	steepSlope  = 1.5
	lowPeak     = 0.85
	shortDwell  = 0.8
	leastAmps   = 0.5
	highLine    = 1.2
	highPeak    = 1.5
	lowLine     = 0.75
	shortLine   = 0.75
	leastVolts  = 1000
	weakSwing   = 0.6
	leastSwing  = 0.05
	highestSunk = 0.6
	longStay    = 1.5
	higherFloor = 1.0
	limitFloor  = 4.0 // more than a ground can be raised before the command is lost
	downShare   = 0.3
	noDwell     = 0.3 // less shows no floor
	leastCalm   = 0.5
	leastLine   = 0.15e-3
)

// floorTime is when the level of a closed switch is read, seconds after it has closed.
const floorTime = 2e-3

// leastBurn is how long a spark line is at least where the gap has broken down, seconds.
const leastBurn = 1e-6

// judged names what a picture shows beside the good one.
func judged(instrument string, f, good features) string {
	switch instrument {
	case cards.ScopeCurrent:
		return judgedRamp(f, good)
	case cards.ScopePrimary:
		return judgedPrimary(f, good)
	case cards.ScopeSecondary:
		return judgedLine(f, good)
	}
	switch {
	case f.swing < leastSwing*good.swing || good.swing == 0:
		return cards.Nothing
	case instrument == cards.ScopeSignal && f.low > highestSunk:
		return cards.RaisedLow
	case f.swing < weakSwing*good.swing:
		return cards.WeakSwing
	case f.stays > longStay*good.stays:
		return cards.MissingPulses
	}
	return cards.EvenSwing
}

func judgedRamp(f, good features) string {
	switch low := f.peak < lowPeak*good.peak; {
	case f.peak < leastAmps && f.level >= leastAmps:
		return cards.NeverOff
	case f.peak < leastAmps:
		return cards.NoCurrent
	case f.slope > steepSlope*good.slope:
		return cards.SteepStart
	case low && f.dwell < shortDwell*good.dwell:
		return cards.CutShort
	case low:
		return cards.LowPeak
	}
	return cards.CleanRamp
}

func judgedPrimary(f, good features) string {
	switch {
	case f.dwell == 0 && f.calm < leastCalm:
		return cards.Nothing
	case f.dwell == 0 && f.calm < downShare*good.calm:
		return cards.StaysDown
	case f.dwell == 0:
		return cards.StaysUp
	case f.dwell < noDwell*good.dwell:
		return cards.CutShort
	case f.low > good.low+limitFloor:
		return cards.LimitsEarly
	case f.low > good.low+higherFloor:
		return cards.RaisedFloor
	case f.dwell < shortDwell*good.dwell:
		return cards.CutShort
	case f.burn < leastLine:
		return cards.NoSparkLine
	case f.burn < shortLine*good.burn:
		return cards.ShortLine
	}
	return cards.NormalTrace
}

func judgedLine(f, good features) string {
	switch {
	case f.peak < leastVolts:
		return cards.Nothing
	case f.burn == 0 && f.peak > highPeak*good.peak:
		return cards.HighNoLine
	case f.burn == 0:
		return cards.LowNoLine
	case f.peak > highLine*good.peak:
		return cards.HighAndShort
	case f.peak < lowLine*good.peak && f.burn > good.burn:
		return cards.LowAndLong
	case f.burn < shortLine*good.burn:
		return cards.ShortLine
	}
	return cards.NormalLine
}

// features are those that the picture of a test shows in its state.
func (v *Vehicle) features(st *state, t *pack.Test) features {
	switch t.Instrument.ID {
	case cards.ScopeCurrent:
		return v.rampSeen(st, v.l.channelOf(t.Part))
	case cards.ScopePrimary:
		return v.primarySeen(st, v.l.channelOf(t.Part), t.Part)
	case cards.ScopeSecondary:
		return v.lineSeen(st, v.l.cylinderAt(t.Red))
	}
	if st.low == nil {
		return features{}
	}
	high, low := st.high.metered(v.node(t.Red), v.node(t.Black)), st.low.metered(v.node(t.Red), v.node(t.Black))
	f := features{swing: math.Abs(high - low), low: math.Min(high, low)}
	if t.Instrument.ID == cards.ScopeWave {
		if f.stays = 1; v.given() < 1 {
			f.stays = 2
		}
		return f
	}
	if v.l.sensor >= 0 {
		open, closed := v.openPart(), 1-v.openPart()
		if v.given() < 1 { // a pulse that does not come leaves the output open from the one before it to the one after
			open++
		}
		f.stays = open / closed
	}
	return f
}

func (v *Vehicle) rampSeen(st *state, k int) features {
	if k < 0 || st.high == nil {
		return features{}
	}
	ch := &st.charges[k]
	if ch.amps == 0 {
		return features{level: v.standing(st, k)}
	}
	return features{peak: ch.amps, slope: ch.ramp.Volts / ch.ramp.Henries, dwell: ch.time}
}

// primarySeen is what the coil's negative terminal shows: of its spark the line of the first cylinder that it fires.
func (v *Vehicle) primarySeen(st *state, k, part int) features {
	if st.high == nil {
		return features{}
	}
	f := features{calm: st.high.metered(v.named(part, "-"), circuit.Reference)}
	if k < 0 || st.rpm == 0 || st.charges[k].amps == 0 {
		return f
	}
	ch := &st.charges[k]
	if ch.floor == nil {
		if amps := ch.ramp.At(math.Min(floorTime, ch.time/2)); amps < ch.ramp.Limit {
			ch.floor = v.during(st, k, amps)
		} else { // held at its limit
			ch.floor = ch.end
		}
	}
	f.dwell, f.burn = ch.time, v.lineSeen(st, v.l.firstOf(k)).burn
	if ch.floor != nil {
		f.low = ch.floor.Between(v.dev.coils[k].minus, circuit.Reference)
	}
	return f
}

// firstOf is the first cylinder that a channel fires, by its index in plugs; -1 for none.
func (l *layout) firstOf(k int) int {
	return slices.IndexFunc(l.plugs, func(plug int) bool {
		return k >= 0 && l.towers[l.p.Parts[plug].Pins[0]].channel == k
	})
}

// standing is the current of a coil that is not switched, amperes.
func (v *Vehicle) standing(st *state, k int) float64 {
	c := &v.dev.coils[k]
	if !st.setup.has(c.part) {
		return 0
	}
	return st.high.Between(c.plus, st.high.middle[k]) / c.ohms
}

func (v *Vehicle) lineSeen(st *state, i int) features {
	if i < 0 || st.rpm == 0 {
		return features{}
	}
	k := v.l.towers[v.l.p.Parts[v.l.plugs[i]].Pins[0]].channel
	if st.charges[k].amps == 0 {
		return features{}
	}
	cyl := v.cylinder(st, i)
	shunt, needs := v.burden(st, i, cyl)
	volts := v.offered(st, k, shunt)
	if volts < needs {
		return features{peak: volts}
	}
	part := v.l.plugs[i]
	burn := coil.BurnVolts(v.value(part, "gap_mm"), v.l.p.Conditions[st.setup.condition].PressureBar)
	fading := v.dev.coils[k].side.Fading(burn, v.sparkOhms(k, part))
	return features{peak: needs, burn: math.Max(leastBurn, cyl.seconds-fading)}
}

// channelOf is the channel of a coil, -1 for none.
func (l *layout) channelOf(part int) int {
	return slices.IndexFunc(l.channels, func(c channel) bool { return c.coil == part })
}

// cylinderAt is the first cylinder that a high-tension node leads to, by its index in plugs; -1 for none.
func (l *layout) cylinderAt(node int) int {
	w := l.towers[node]
	return slices.IndexFunc(l.plugs, func(part int) bool {
		beyond := l.towers[l.p.Parts[part].Pins[0]]
		return w.channel >= 0 && beyond.channel == w.channel && beyond.tower == w.tower && begins(beyond.parts, w.parts)
	})
}

// goodFeatures are those that a test's picture shows on the healthy vehicle.
func (l *layout) goodFeatures(t *pack.Test) features {
	l.known.Lock()
	defer l.known.Unlock()
	if l.known.vehicle == nil {
		l.known.vehicle, l.known.seen = Healthy(l.p), map[*pack.Test]features{}
	}
	f, known := l.known.seen[t]
	if !known {
		h := l.known.vehicle
		h.blowFuses()
		f = h.features(h.state(t), t)
		l.known.seen[t] = f
	}
	return f
}
