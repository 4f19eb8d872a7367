package vehicle

import (
	"math"
	"slices"
	"strconv"

	"nospark/scenarios/circuit"
	"nospark/scenarios/pack"
	"nospark/scenarios/pack/cards"
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

// WithFuses gives a vehicle the fuses of another one of its parts: what has blown stays so, whatever was different when
// it did.
func (v *Vehicle) WithFuses(blown []bool) {
	v.blown = make([]bool, len(v.values))
	copy(v.blown, blown)
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

// Bands gives the band of every test of the pack, read without meter error, and the complaint. The error is a circuit
// that cannot be solved.
func (v *Vehicle) Bands() ([]uint8, int, error) {
	if v.shown == nil {
		v.shown = make([]meter.Shown, len(v.l.p.Tests))
	}
	shown := v.shown
	for t := range shown {
		shown[t], _ = meter.Display(v.l.p.Tests[t].Instrument, v.Read(t), meter.Error{})
	}
	bands := make([]uint8, len(shown))
	for t := range shown {
		bands[t] = v.l.band(t, shown)
	}
	complaint := v.complaint(func() bool { return v.l.abnormal(bands) })
	return bands, complaint, v.err
}

// Shown gives what the instruments show in every test of the pack; errs gives each test's error, nil for meters
// without error.
func (v *Vehicle) Shown(errs func(test int) meter.Error) []meter.Shown {
	shown := make([]meter.Shown, len(v.l.p.Tests))
	for t := range shown {
		var e meter.Error
		if errs != nil {
			e = errs(t)
		}
		shown[t] = meter.Show(v.l.p.Tests[t].Instrument, v.Read(t), e)
	}
	return shown
}

func (l *layout) band(t int, shown []meter.Shown) uint8 {
	test := &l.p.Tests[t]
	var beside meter.Shown
	if test.Compare >= 0 {
		beside = shown[test.Compare]
	}
	return meter.BandOf(test, shown[t], beside)
}

// abnormal reports whether some test reads outside its normal bands.
func (l *layout) abnormal(bands []uint8) bool {
	for t, b := range bands {
		if band := l.p.Tests[t].Bands[b]; !band.Normal && !band.Silent {
			return true
		}
	}
	return false
}

// complaint applies the rules; abnormal is asked only when a rule needs it, since it takes all readings.
func (v *Vehicle) complaint(abnormal func() bool) int {
	o := v.Observe()
	for i, c := range v.l.p.Complaints {
		fits := true
		for _, w := range c.When {
			said := ""
			switch part := v.l.partNamed(w.Name); {
			case part >= 0:
				said = v.works(part)
			case w.Name == "comes_when":
				said = v.comesWhen()
			default:
				said = o.value(w.Name, abnormal)
			}
			fits = fits && slices.Contains(w.Values, said)
		}
		if fits {
			return i
		}
	}
	return -1
}

// value is an observable in the words of the rules.
func (o Observables) value(name string, abnormal func() bool) string {
	switch name {
	case "cranks":
		return o.Cranks
	case "spark_cranking":
		return o.SparkCranking
	case "starts":
		return strconv.FormatBool(o.Starts)
	case "misfires":
		return o.Misfires
	case "timing":
		return o.Timing
	case "scan":
		return o.Scan
	case "any_abnormal":
		return strconv.FormatBool(abnormal())
	}
	panic("vehicle: no observable " + name)
}

// comesWhen is the first provocation under which a customer notices something else than without one.
func (v *Vehicle) comesWhen() string {
	for _, when := range pack.Provocations {
		if w := v.under(when); w != v && (w.Observe() != v.Observe() || w.worksOtherwise(v)) {
			return when
		}
	}
	return "always"
}

// scanned tells how the scan tool's temperatures look with the key on.
func (v *Vehicle) scanned() string {
	const noticed = 15 // kelvin; common practice, no source
	c := v.dev.control
	for i, cond := range v.l.p.Conditions {
		if c == nil || cond.Provoke != "" || cond.Key != cards.KeyRun || cond.Running() {
			continue
		}
		st := v.plain(i)
		if !st.on.part[c.part] {
			return "no link"
		}
		for _, sensor := range []struct {
			pin    circuit.Node
			pullup float64
			name   string
		}{{c.ect, c.ectPullup, "ect"}, {c.iat, c.iatPullup, "iat"}} {
			if sensor.pin >= 0 &&
				math.Abs(v.celsius(st, sensor.pin, sensor.pullup)-v.nominalCelsius(sensor.name)) > noticed {
				return "abnormal"
			}
		}
		return "normal"
	}
	return "normal"
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
