package vehicle

import (
	"fmt"
	"math"
	"testing"

	"nospark/scenarios/circuit"
	"nospark/scenarios/pack"
	"nospark/scenarios/pack/cards"
)

// tableA is a coolant sensor's service table: °C and ohm.
var tableA = []struct{ celsius, ohms float64 }{
	{-40, 48805}, {-20, 15971}, {0, 5975}, {20, 2502}, {25, 2044}, {40, 1152}, {60, 575.8}, {80, 308.6}, {100, 175.7},
	{120, 105.4}, {140, 66.2},
}

// Service table A: Steinhart-Hart through -20, 25 and 100 °C, the coefficients of the thermistor's card, repeats all
// rows within 0.02 °C.
func TestThermistorTableA(t *testing.T) {
	card := cards.KindByName("ntc")
	value := func(name string) float64 { return card.Params[card.Param(name)].Default }
	a, b, c := value("steinhart_a"), value("steinhart_b"), value("steinhart_c")
	for _, row := range tableA {
		near(t, "°C", circuit.SteinhartCelsius(row.ohms, a, b, c), row.celsius, 0.02)
		near(t, "back again, ohm", circuit.SteinhartOhms(circuit.SteinhartCelsius(row.ohms, a, b, c), a, b, c),
			row.ohms,
			1e-6*row.ohms)
	}
}

// A general thermistor of 10 kohm at 25 °C: coefficients and table of two unrelated sources.
func TestThermistorGeneral(t *testing.T) {
	const a, b, c = 1.129148e-3, 2.34125e-4, 8.76741e-8
	for _, row := range []struct{ celsius, ohms float64 }{{0, 32650}, {20, 12490}, {25, 10000}, {40, 5327}, {60, 2488},
		{80, 1258}, {100, 680}} {
		near(t, "°C", circuit.SteinhartCelsius(row.ohms, a, b, c), row.celsius, 0.08)
	}
	// Without the cubic term the form is the beta equation, B = 1/b.
	near(t, "beta equation, ohm", circuit.SteinhartOhms(50, 1e-3, 2.5e-4, 0), math.Exp((1/323.15-1e-3)/2.5e-4), 1e-6)
}

// Service table B: a coolant sensor behind 1.000 kohm at 5 V; °C, ohm, volts at the controller's pin. The voltmeter on
// the bench reads them.
func TestThermistorTableB(t *testing.T) {
	card := cards.KindByName("ntc")
	value := func(name string) float64 { return card.Params[card.Param(name)].Default }
	for _, row := range []struct{ celsius, ohms, volts float64 }{
		{-20, 15462, 4.696}, {0, 5896, 4.275}, {20, 2500, 3.571}, {40, 1175, 2.701}, {60, 596, 1.867}, {80, 323, 1.221},
		{100, 187, 0.788},
	} {
		scale := row.ohms / circuit.SteinhartOhms(row.celsius, value("steinhart_a"), value("steinhart_b"),
			value("steinhart_c"))
		b := tiny(t, fmt.Sprintf(`
condition = [{ id = "on", key = "run" }]
node = [{ id = "sync" }, { id = "cmd" }, { id = "iat" }, { id = "r2" }]
part = [
  { id = "battery", kind = "battery", pins = ["b", "g"], emf_volts = 12.6, resistance_ohms = 0.01 },
  { id = "feed", kind = "wire", pins = ["b", "m"], resistance_ohms = 0.01 },
  { id = "pcm", kind = "controller", pins = ["m", "g", "sync", "cmd", "n", "iat"], reference_ohms = 0.1 },
  { id = "air", kind = "ntc", pins = ["iat", "g"] },
  { id = "ends", kind = "resistor", pins = ["sync", "cmd"], resistance_ohms = 10000 },
  { id = "and", kind = "resistor", pins = ["r2", "g"], resistance_ohms = 10000 },
  { id = "more", kind = "resistor", pins = ["r2", "g"], resistance_ohms = 10000 },
  { id = "ect", kind = "ntc", pins = ["n", "g"], temperature_celsius = %g, scale = %.12g }]
test = [{ id = "volts", label = "volts", red = "n", black = "g", condition = "on", %s }]
fault = [{ id = "f", label = "f", set = [{ part = "ect", scale = "open" }], weight = 1, repair = "r" }]
`, row.celsius, scale, volts))
		// 0.5 mV of the table, 0.5 mV of 0.1 ohm, meter
		near(t, fmt.Sprintf("%g °C, volts", row.celsius), b.read("volts").Number, row.volts, 1.5e-3)
		near(t, "open, volts", b.with("f", 0.5).read("volts").Number, 5, 1e-3)
	}
}

// Hall switches (data sheets): supply 4.3 or 4.5 V to 24 V, 4-11 mA, output low at 0.13-0.4 V.
func TestHallSupply(t *testing.T) {
	found := 0
	for _, name := range pack.Builtin() {
		b := loaded(t, name)
		for c, cond := range b.p.Conditions {
			if !cond.Running() && !cond.Cranking() {
				continue
			}
			st := b.v.plain(c)
			for i := range b.v.dev.halls {
				h := &b.v.dev.halls[i]
				found++
				what := name + " " + cond.ID
				near(t, what+": supply, V", st.low.Between(h.feed, h.ground), (4.5+24)/2, (24-4.5)/2)
				near(t, what+": supply, mA", 1e3*st.low.through(h.part), 7.5, 3.5)
				near(t, what+": low, V", st.low.Between(h.signal, h.ground), (0.13+0.4)/2, (0.4-0.13)/2)
			}
		}
	}
	if found == 0 {
		t.Error("no built-in pack has a Hall sensor")
	}
	card := cards.KindByName("hall")
	near(t, "minimum on the card, V", card.Params[card.Param("minimum_volts")].Default, 4.4, 0.1)
}

// Frequency is rpm/60 times pulses per revolution: 200 x 24 gives 80 Hz, 250 x 8 gives 33.3 Hz (by hand). Below its
// minimum supply the sensor gives none.
func TestHallFrequency(t *testing.T) {
	check := func(rpm, pulses, supply, hertz float64) {
		t.Helper()
		b := tiny(t, fmt.Sprintf(`
condition = [{ id = "run", key = "run", speed_rpm = %g }]
part = [
  { id = "battery", kind = "battery", pins = ["b", "g"], emf_volts = %g, resistance_ohms = 0 },
  { id = "ckp", kind = "hall", pins = ["b", "g", "n"], pulses_per_revolution = %g },
  { id = "pullup", kind = "resistor", pins = ["b", "m"], resistance_ohms = 500 },
  { id = "rest", kind = "resistor", pins = ["m", "n"], resistance_ohms = 500 }]
test = [{ id = "hertz", label = "hertz", instrument = "frequency", red = "n", black = "g", condition = "run", minutes = 1, bands = [{ name = "none", below = 1 }, { name = "some" }], normal = ["some"] }]
fault = [{ id = "f", label = "f", set = [{ part = "ckp", dead = true }], weight = 1, repair = "r" }]
`, rpm, supply, pulses))
		near(t, fmt.Sprintf("%g 1/min, %g pulses, %g V", rpm, pulses, supply), b.read("hertz").Number, hertz, 1e-9)
		near(t, "dead", b.with("f", 0.5).read("hertz").Number, 0, 0)
	}
	check(200, 24, 12, 80)
	check(250, 8, 12, 250*8/60.0)
	check(250, 8, 4.51, 250*8/60.0)
	check(250, 8, 4.49, 0)
}
