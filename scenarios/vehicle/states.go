package vehicle

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"nospark/scenarios/circuit"
	"nospark/scenarios/pack"
	"nospark/scenarios/pack/cards"
)

// stateKey names a setup without a lamp: tests that differ only in where the leads of a high-resistance meter go share a state.
type stateKey struct {
	condition int
	unplug    string // the parts taken off, as a string of bytes
}

// plain is the state of a condition with everything connected.
func (v *Vehicle) plain(condition int) *state {
	return v.cached(stateKey{condition: condition}, setup{condition: condition})
}

// arranged is what the mechanic arranges for a test, but for a lamp.
func (v *Vehicle) arranged(t *pack.Test) (stateKey, setup) {
	v.blowFuses()
	key, s := stateKey{condition: t.Condition}, setup{condition: t.Condition}
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
	switch t.Instrument.ID {
	case "test-lamp":
		return lamp{v.node(t.Red), v.node(t.Black), testLampOhms}
	case "load-lamp":
		return lamp{v.node(t.Red), v.node(t.Black), loadLampOhms}
	}
	return lamp{}
}

// done says that a state is not needed any more. Only those with a lamp are given up: no other test puts a lamp in the same place.
func (v *Vehicle) done(st *state) {
	if st.setup.lamp.ohms > 0 {
		v.release(st)
	}
}

func (v *Vehicle) cached(key stateKey, s setup) *state {
	v.decode()
	if s.lamp.ohms > 0 {
		return v.settle(s)
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
	st := &state{setup: setup{condition: t.Condition, gone: make([]bool, len(v.values))},
		on: awake{part: make([]bool, len(v.values)), active: make([]bool, len(v.values)), channel: make([]bool, len(v.l.channels))}}
	for i := range st.setup.gone {
		st.setup.gone[i] = i != t.Part
	}
	st.high = v.try(st, phase{high: true, channel: -1})
	st.mean = []weighted{{st.high, 1}}
	return st
}

// across gives the leads of an ohmmeter put on a part that is on the table: where the test says, else on the part's two pins.
func (v *Vehicle) across(t *pack.Test) (red, black circuit.Node) {
	if t.Red >= 0 && t.Black >= 0 {
		return v.node(t.Red), v.node(t.Black)
	}
	return v.at(t.Part, 0), v.at(t.Part, 1)
}

// alone is the resistance of a part taken off and measured between two of its own pins.
func (v *Vehicle) alone(t *pack.Test) Value {
	st := v.onTheTable(t)
	defer v.release(st)
	if st.high == nil {
		return Value{}
	}
	_, ohms := st.high.Thevenin(v.across(t))
	return overRange(ohms)
}

// scan is what the scan tool shows.
func (v *Vehicle) scan(st *state, item string) Value {
	c := v.dev.control
	if c == nil || !st.on.part[c.part] {
		return Value{Phrase: pack.NoLink}
	}
	switch item {
	case "scan-speed":
		if st.rpm == 0 || !st.sees(c) {
			return Value{Number: 0}
		}
		return Value{Number: st.rpm}
	case "scan-ect":
		return Value{Number: v.celsius(st, c.ect, c.ectPullup)}
	case "scan-misfire":
		return Value{Phrase: v.misfires(st)}
	}
	return Value{Number: v.celsius(st, c.iat, c.iatPullup)}
}

// misfires names the cylinders that do not fire, in the words of the instrument.
func (v *Vehicle) misfires(st *state) string {
	var list []string
	for i := range v.l.plugs {
		if !v.cylinder(st, i).fires {
			list = append(list, strconv.Itoa(i+1))
		}
	}
	text := "cylinders " + strings.Join(list, " and ")
	switch len(list) {
	case 0:
		text = cards.NoMisfire
	case 1:
		text = "cylinder " + list[0]
	case len(v.l.plugs):
		text = cards.AllMisfire
	}
	if !slices.Contains(cards.InstrumentByID("scan-misfire").Phrases, text) {
		return cards.OtherMisfire
	}
	return text
}

// exchanged is the vehicle in which two parts of one kind have changed places.
func (v *Vehicle) exchanged(a, b int) *Vehicle {
	key := [2]int{a, b}
	if other, ok := v.swapped[key]; ok {
		return other
	}
	if slices.EqualFunc(v.values[a], v.values[b], func(x, y float64) bool { return math.Float64bits(x) == math.Float64bits(y) }) {
		return v
	}
	other := v.Clone()
	other.pool = v.pool
	other.values[a], other.values[b] = other.values[b], other.values[a]
	if v.swapped == nil {
		v.swapped = map[[2]int]*Vehicle{}
	}
	v.swapped[key] = other
	return other
}

// steinhart gives the coefficients that the controller has stored: those of the pack's first thermistor, or the card's.
func (v *Vehicle) steinhart() (a, b, c float64) {
	for i, kind := range v.l.kinds {
		if kind == "ntc" {
			values, card := v.l.p.Parts[i].Values, v.l.p.Parts[i].Kind
			return values[card.Param("steinhart_a")], values[card.Param("steinhart_b")], values[card.Param("steinhart_c")]
		}
	}
	return 1.3359491e-3, 2.5598084e-4, 1.5084482e-7
}

// nominalCelsius is the temperature that the sensor on a pin of the controller should report: its nominal one. Sensors are found by the
// wires from the pin.
func (v *Vehicle) nominalCelsius(pin string) float64 {
	from := v.l.pin(v.l.control, pin)
	if from < 0 {
		return 20
	}
	for _, node := range v.l.wired(from) {
		for i, kind := range v.l.kinds {
			if kind == "ntc" && v.l.p.Parts[i].Pins[0] == node {
				return v.l.p.Parts[i].Values[v.l.p.Parts[i].Kind.Param("temperature_celsius")]
			}
		}
	}
	return 20
}

// scanned tells how the scan tool's temperatures look with the key on.
func (v *Vehicle) scanned() string {
	const noticed = 15 // kelvin; common practice, no source
	c := v.dev.control
	for i, cond := range v.l.p.Conditions {
		if c == nil || cond.Key != cards.KeyRun || cond.Running() {
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
			if sensor.pin >= 0 && math.Abs(v.celsius(st, sensor.pin, sensor.pullup)-v.nominalCelsius(sensor.name)) > noticed {
				return "abnormal"
			}
		}
		return "normal"
	}
	return "normal"
}
