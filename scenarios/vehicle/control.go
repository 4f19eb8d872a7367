package vehicle

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"nospark/scenarios/circuit"
	"nospark/scenarios/pack"
	"nospark/scenarios/pack/cards"
	"nospark/scenarios/vehicle/meter"
)

// advance is the commanded spark advance in degrees before top dead center, from engine speed and the temperatures as
// the controller sees them. 0 without a controller.
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
	return v.value(part, "advance_idle_degrees") + (cond.SpeedRPM-800)/1000*v.value(part,
		"advance_per_1000rpm_degrees") +
		cold - hot
}

// nominalAdvance is the advance with both sensors telling the truth about the pack's nominal temperatures.
func (v *Vehicle) nominalAdvance(condition int) float64 {
	if v.l.control < 0 {
		return 0
	}
	return v.advanceAt(condition, v.nominalCelsius("ect"), v.nominalCelsius("iat"))
}

// celsius is a temperature as the controller sees it, within its scale of -40 to 150 °C: it takes its reference as
// nominal and the sensor for a good one.
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
	return math.Max(-40, math.Min(150, circuit.SteinhartCelsius(ohms, a, b, k)))
}

// scan is what the scan tool shows.
func (v *Vehicle) scan(st *state, item string) meter.Value {
	c := v.dev.control
	if c == nil || !st.on.part[c.part] {
		return meter.Value{Phrase: pack.NoLink}
	}
	switch item {
	case "scan-codes":
		return meter.Value{Phrase: v.remembered()}
	case "scan-speed":
		if st.rpm == 0 || !st.sees(c) {
			return meter.Value{Number: 0}
		}
		return meter.Value{Number: st.rpm * v.given()} // it counts pulses
	case "scan-ect":
		return meter.Value{Number: v.celsius(st, c.ect, c.ectPullup)}
	case "scan-misfire":
		return meter.Value{Phrase: v.misfires(st)}
	}
	return meter.Value{Number: v.celsius(st, c.iat, c.iatPullup)}
}

// misfires names the cylinders that do not fire, in the words of the instrument. Where ignitions are left out at random
// all cylinders have their share of them.
func (v *Vehicle) misfires(st *state) string {
	if v.loses() {
		return cards.AllMisfire
	}
	return v.unbalanced(st)
}

// unbalanced names the cylinders that give the engine nothing, in the words of the instrument.
func (v *Vehicle) unbalanced(st *state) string {
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

// steinhart gives the coefficients that the controller has stored: those of the pack's first thermistor, or the card's.
func (v *Vehicle) steinhart() (a, b, c float64) {
	for i, kind := range v.l.kinds {
		if kind == "ntc" {
			values, card := v.l.p.Parts[i].Values, v.l.p.Parts[i].Kind
			return values[card.Param("steinhart_a")], values[card.Param("steinhart_b")],
				values[card.Param("steinhart_c")]
		}
	}
	return 1.3359491e-3, 2.5598084e-4, 1.5084482e-7
}

// nominalCelsius is the temperature that the sensor on a pin of the controller should report: its nominal one.
func (v *Vehicle) nominalCelsius(pin string) float64 {
	i := v.sensorAt(pin)
	if i < 0 {
		return 20
	}
	return v.l.p.Parts[i].Values[v.l.p.Parts[i].Kind.Param("temperature_celsius")]
}

// sensorAt is the thermistor on a pin of the controller, found by the wires from the pin; -1 for none.
func (v *Vehicle) sensorAt(pin string) int {
	from := v.l.pin(v.l.control, pin)
	if from < 0 {
		return -1
	}
	for _, node := range v.l.wired(from) {
		for i, kind := range v.l.kinds {
			if kind == "ntc" && v.l.p.Parts[i].Pins[0] == node {
				return i
			}
		}
	}
	return -1
}

// Shares of the reference below and above which a controller takes a sensor's input for shorted or open. From memory;
// thresholds of 0.1 to 0.2 V and 4.8 to 4.9 V are usual.
const (
	inputLowShare  = 0.03
	inputHighShare = 0.97
)

// remembered is the first trouble code of the vehicle. What came and went has left its code too; the freeze frame then
// tells in which state of the engine that was.
func (v *Vehicle) remembered() string {
	code := v.trouble()
	for _, when := range pack.Provocations {
		w := v.under(when)
		if code != cards.NoCode || w == v {
			continue
		}
		switch code = w.trouble(); {
		case code == cards.CrankCranking && when == pack.Hot:
			code = cards.CrankHot
		case code == cards.CrankCranking:
			code = cards.CrankIdle
		}
	}
	return code
}

// trouble is the first code that a controller sets of what is always there: of its crank signal, when the starter turns
// the engine and it has supply and no signal, or one with pulses missing; of its temperature inputs with the key on.
// Misfires it counts apart.
func (v *Vehicle) trouble() string {
	v.blowFuses()
	c := v.dev.control
	for i, cond := range v.l.p.Conditions {
		st := v.plain(i)
		switch {
		case c == nil || !cond.Cranking() || cond.Provoke != "" || st.rpm == 0 || !st.on.part[c.part]:
		case !st.sees(c):
			return cards.CrankCranking
		case v.loses():
			return cards.CrankUneven
		}
	}
	for i, cond := range v.l.p.Conditions {
		if c == nil || cond.Key != cards.KeyRun || cond.Provoke != "" || cond.Running() || !v.plain(i).on.part[c.part] {
			continue
		}
		st := v.plain(i)
		if code := st.beyond(c, c.ect, cards.CoolantLow, cards.CoolantHigh); code != "" {
			return code
		}
		if code := st.beyond(c, c.iat, cards.AirLow, cards.AirHigh); code != "" {
			return code
		}
	}
	return cards.NoCode
}

// beyond is the code of an input whose share of the reference lies outside what its sensor can give; "" for none, and
// where the controller has no such input.
func (st *state) beyond(c *controlDevice, input circuit.Node, low, high string) string {
	if input < 0 {
		return ""
	}
	switch share := st.volts(input, c.ground) / c.refVolts; {
	case share < inputLowShare:
		return low
	case share > inputHighShare:
		return high
	}
	return ""
}
