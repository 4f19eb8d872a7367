package vehicle

import (
	"math"

	"nospark/scenarios/circuit"
)

// Observables are what a customer could notice about a vehicle, the words that a pack's complaint rules use.
type Observables struct {
	Cranks        string // normal, slow, no
	SparkCranking string // yes, weak, no
	Starts        bool
	Misfires      string // no, loaded, always
	Timing        string // normal, advanced, retarded
	Scan          string // normal, abnormal, no link
}

// engine is what the vehicle can do.
type engine struct {
	cranks string
	spark  string
	starts bool
	misses []bool // by condition: at least one cylinder does not fire (of conditions that can be reached)
}

// enough reports whether an engine starts and keeps running on the cylinders that fire: badly, but it does, as long as half of them do.
// Common practice, no source. A pack without plugs has nothing to say about it.
func (v *Vehicle) enough(firing int) bool {
	return v.l.cylinders == 0 || firing >= 1 && 2*firing >= v.l.cylinders
}

// look finds what the engine does; the result is kept.
func (v *Vehicle) look() *engine {
	if v.engine != nil {
		return v.engine
	}
	v.blowFuses()
	e := &engine{cranks: "normal", spark: "yes", starts: true, misses: make([]bool, len(v.l.p.Conditions))}
	for i, c := range v.l.p.Conditions {
		if c.Cranking() && !v.crank(e, v.plain(i)) {
			e.starts = false
		}
	}
	v.engine = e
	for i, c := range v.l.p.Conditions {
		if c.Running() && e.starts {
			firing := v.firing(v.plain(i))
			e.misses[i] = firing < v.l.cylinders
			if v.idle() == i && !v.enough(firing) {
				e.starts = false
			}
		}
	}
	return e
}

// idle is the running condition of lowest speed, -1 for none: the one the engine must reach first.
func (v *Vehicle) idle() int {
	best := -1
	for i, c := range v.l.p.Conditions {
		if c.Running() && (best < 0 || c.SpeedRPM < v.l.p.Conditions[best].SpeedRPM) {
			best = i
		}
	}
	return best
}

// crank notes how the vehicle cranks and whether it catches.
func (v *Vehicle) crank(e *engine, st *state) bool {
	if d := v.dev.starter; d != nil {
		switch {
		case st.rpm == 0:
			e.cranks = "no"
		case st.rpm < d.slowRPM:
			e.cranks = "slow"
		}
	}
	weakest := math.Inf(1)
	firing := 0
	for i := range v.l.plugs {
		cyl := v.cylinder(st, i)
		if cyl.fires {
			firing++
			weakest = math.Min(weakest, cyl.available)
		}
	}
	switch {
	case v.l.cylinders == 0:
		return true
	case firing == 0:
		e.spark = "no"
	case weakest < sparkDraw:
		e.spark = "weak"
	}
	c := v.dev.control
	injects := c == nil || st.on.part[c.part] && st.sees(c)
	return st.rpm > 0 && injects && v.enough(firing)
}

// firing counts the cylinders that fire.
func (v *Vehicle) firing(st *state) int {
	n := 0
	for i := range v.l.plugs {
		if v.cylinder(st, i).fires {
			n++
		}
	}
	return n
}

// reaches reports whether the vehicle can be brought into a condition.
func (v *Vehicle) reaches(condition int) bool {
	return !v.l.p.Conditions[condition].Running() || v.look().starts
}

// blowFuses opens every fuse whose mean current in some condition is above its rating. One fuse at a time and from the first condition
// on, because a blown one may spare the next.
func (v *Vehicle) blowFuses() {
	if v.blown != nil {
		return
	}
	v.decode()
	v.blown = make([]bool, len(v.values))
	for again := true; again; {
		again = false
		for i, c := range v.l.p.Conditions {
			if c.Running() { // no more than with the starter: the same loads at a similar voltage
				continue
			}
			if part := v.overloaded(v.plain(i)); part >= 0 {
				v.blown[part] = true
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

// through is the current in a part, amperes; 0 when it is not in the circuit.
func (s *solved) through(part int) float64 {
	if s.parts[part] == none {
		return 0
	}
	return s.Amps(s.parts[part])
}

// Observe tells what a customer could notice.
func (v *Vehicle) Observe() Observables {
	e := v.look()
	o := Observables{Cranks: e.cranks, SparkCranking: e.spark, Starts: e.starts, Misfires: "no", Timing: "normal", Scan: "normal"}
	idle := v.idle()
	for i, misses := range e.misses {
		switch {
		case !misses || !e.starts:
		case i == idle:
			o.Misfires = "always"
		case o.Misfires == "no":
			o.Misfires = "loaded"
		}
	}
	if e.starts && idle >= 0 {
		o.Timing = v.timing(idle)
	}
	o.Scan = v.scanned()
	return o
}

// timing compares the spark advance with that of the healthy vehicle in the same condition.
func (v *Vehicle) timing(condition int) string {
	const noticed = 3 // degrees; common practice, no source
	diff := v.advance(v.plain(condition)) - v.nominalAdvance(condition)
	switch {
	case diff >= noticed:
		return "advanced"
	case diff <= -noticed:
		return "retarded"
	}
	return "normal"
}

// advance is the commanded spark advance in degrees before top dead centre, from engine speed and the temperatures as the controller
// sees them. 0 without a controller.
func (v *Vehicle) advance(st *state) float64 {
	c := v.dev.control
	if c == nil {
		return 0
	}
	out := v.advanceAt(st.setup.condition, v.celsius(st, c.ect, c.ectPullup), v.celsius(st, c.iat, c.iatPullup))
	for i := range v.dev.pickups {
		if v.dev.pickups[i].reversed {
			out += v.dev.pickups[i].shift
		}
	}
	return out
}

func (v *Vehicle) advanceAt(condition int, ect, iat float64) float64 {
	cond, part := v.l.p.Conditions[condition], v.l.control
	if cond.Cranking() {
		return v.value(part, "advance_cranking_degrees")
	}
	cold := math.Min(10, math.Max(0, 70-ect)*v.value(part, "cold_degrees_per_kelvin"))
	hot := math.Min(8, math.Max(0, iat-50)*v.value(part, "hot_degrees_per_kelvin"))
	return v.value(part, "advance_idle_degrees") + (cond.SpeedRPM-800)/1000*v.value(part, "advance_per_1000rpm_degrees") + cold - hot
}

// nominalAdvance is the advance with both sensors telling the truth about the pack's nominal temperatures.
func (v *Vehicle) nominalAdvance(condition int) float64 {
	if v.l.control < 0 {
		return 0
	}
	return v.advanceAt(condition, v.nominalCelsius("ect"), v.nominalCelsius("iat"))
}

// celsius is a temperature as the controller sees it, within its scale of -40 to 150 °C: it takes its reference as nominal and the
// sensor for a good one.
func (v *Vehicle) celsius(st *state, pin circuit.Node, pullup float64) float64 {
	c := v.dev.control
	if pin < 0 {
		return 20
	}
	volts := math.Max(0, st.volts(pin, c.ground))
	if volts >= 0.999*c.refVolts {
		return -40
	}
	ohms := pullup * volts / (c.refVolts - volts)
	if ohms < 1 {
		return 150
	}
	a, b, k := v.steinhart()
	return math.Max(-40, math.Min(150, SteinhartCelsius(ohms, a, b, k)))
}
