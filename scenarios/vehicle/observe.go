package vehicle

import (
	"math"

	"nospark/scenarios/circuit"
	"nospark/scenarios/vehicle/meter"
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

// look finds what the engine does as long as nothing is provoked; the result is kept.
func (v *Vehicle) look() *engine {
	if v.engine != nil {
		return v.engine
	}
	v.blowFuses()
	e := &engine{cranks: "normal", spark: "yes", starts: true, misses: make([]bool, len(v.l.p.Conditions))}
	for i, c := range v.l.p.Conditions {
		if c.Provoke == "" && c.Cranking() && !v.crank(e, v.plain(i)) {
			e.starts = false
		}
	}
	v.engine = e
	for i, c := range v.l.p.Conditions {
		if c.Provoke == "" && c.Running() && e.starts {
			firing := v.firing(v.plain(i))
			e.misses[i] = firing < v.l.cylinders || v.loses()
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
		if c.Provoke == "" && c.Running() && (best < 0 || c.SpeedRPM < v.l.p.Conditions[best].SpeedRPM) {
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

// reaches reports whether the vehicle can be brought into a condition.
func (v *Vehicle) reaches(condition int) bool {
	return !v.l.p.Conditions[condition].Running() || v.look().starts
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

// Observe tells what a customer could notice.
func (v *Vehicle) Observe() Observables {
	e := v.look()
	o := Observables{Cranks: e.cranks, SparkCranking: e.spark, Starts: e.starts, Misfires: "no", Timing: "normal",
		Scan: "normal"}
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

// What a customer notices of a part: its current against the healthy vehicle's. Common practice, no source.
const (
	worksShare = 0.75
	goneShare  = 0.05
)

// works tells how a part does by its highest mean current over all conditions, in the words of a pack's complaint
// rules.
func (v *Vehicle) works(part int) string {
	v.blowFuses()
	v.l.sound.Do(func() {
		healthy := Healthy(v.l.p)
		healthy.blowFuses()
		for i := range v.l.p.Parts {
			v.l.soundAmps = append(v.l.soundAmps, healthy.mostAmps(i))
		}
	})
	share := v.mostAmps(part) / v.l.soundAmps[part]
	switch v.l.kinds[part] {
	case "motor": // held, it draws more and does nothing
		if v.is(part, "jammed") {
			return "none"
		}
	case "filament": // its light falls much faster than its current
		share = math.Pow(share, lightPower/currentPower)
	}
	switch {
	case share >= worksShare:
		return "normal"
	case share >= goneShare:
		return "weak"
	}
	return "none"
}

func (v *Vehicle) mostAmps(part int) float64 {
	most := 0.0
	for c := range v.l.p.Conditions {
		mean := 0.0
		for _, ph := range v.plain(c).mean {
			mean += ph.share * ph.through(part)
		}
		most = math.Max(most, math.Abs(mean))
	}
	return most
}

// Floating lists the nodes that no part joins with the reference in a condition in which every part has its supply, by
// their ids; of nodes within a part, the names of its elements.
func (v *Vehicle) Floating(condition int) []string {
	on := awake{part: make([]bool, len(v.values)), active: make([]bool, len(v.values)),
		channel: make([]bool, len(v.l.channels))}
	for k := range on.part {
		on.part[k] = true
	}
	var w wiring
	v.decode()
	v.build(&setup{condition: condition}, &on, phase{high: true, channel: -1}, &w)
	return v.pool.net.Floating(circuit.Reference)
}

// Currents gives the current in each part in a condition, coils at rest, amperes; nil when the circuit cannot be
// solved.
func (v *Vehicle) Currents(condition int) []float64 {
	st := v.plain(condition)
	if st.high == nil {
		return nil
	}
	amps := make([]float64, len(v.values))
	for i := range amps {
		amps[i] = st.high.through(i)
	}
	return amps
}

// Blown tells which parts are fuses that have blown.
func (v *Vehicle) Blown() []bool {
	v.blowFuses()
	return v.blown
}

// Err is the first circuit that could not be solved, nil when all could.
func (v *Vehicle) Err() error { return v.err }

// BandAmong is the band of a test among what all tests show.
func (v *Vehicle) BandAmong(test int, shown []meter.Shown) uint8 { return v.l.band(test, shown) }

// ComplaintOf is what the customer reports of a vehicle whose tests read these bands: the first rule of the pack that
// fits, -1 for none.
func (v *Vehicle) ComplaintOf(bands []uint8) int {
	return v.complaint(func() bool { return v.l.abnormal(bands) })
}
