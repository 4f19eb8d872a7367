package vehicle

import (
	"math"
	"testing"

	"nospark/scenarios/pack/cards"
)

// "100.0 V +-(1 % + 2)" means 98.8 to 101.2 V (a 6,000-count meter's manual).
func TestAccuracy(t *testing.T) {
	in := &cards.Instrument{Unit: "V", Scale: 1, Percent: 1, Counts: 2, Ranges: []cards.Range{{Full: 600, Digits: 1}}}
	check := func(e Error, want string) {
		t.Helper()
		if got := Show(in, Value{Number: 100}, e); got.Text != want {
			t.Errorf("%+v: %s, want %s", e, got.Text, want)
		}
	}
	check(Error{}, "100.0 V")
	check(Error{Gain: 1, Offset: 1}, "101.2 V")
	check(Error{Gain: -1, Offset: -1}, "98.8 V")
	check(Error{Gain: 1, Offset: -1}, "100.8 V")
}

// Ranges, overflow and signs of the built-in meters.
func TestDisplay(t *testing.T) {
	check := func(instrument string, x float64, e Error, want string) {
		t.Helper()
		if got := Show(cards.InstrumentByID(instrument), Value{Number: x}, e); got.Text != want {
			t.Errorf("%s of %g with %+v: %s, want %s", instrument, x, e, got.Text, want)
		}
	}
	most := Error{Gain: 1, Offset: 1}
	least := Error{Gain: -1, Offset: -1}
	check("voltmeter", 5.9994, Error{}, "5.999 V")
	check("voltmeter", 5.9999, Error{}, "6.000 V")
	check("voltmeter", 6, Error{}, "6.00 V")
	check("voltmeter", -0.0004, Error{}, "0.000 V")
	check("voltmeter", -12.5, Error{}, "-12.50 V")
	check("voltmeter", 0.001, least, "0.000 V") // an error never turns the sign
	check("voltmeter", 599.9, most, cards.OverRange)
	check("voltmeter", 0, most, "0.000 V")
	check("ohmmeter", 0.7, Error{}, "0.7 Ω")
	check("ohmmeter", 8000, Error{}, "8.00 kΩ")
	check("ohmmeter", 39.9e6, Error{}, "39.900 MΩ")
	check("ohmmeter", 40e6, Error{}, cards.OverRange)
	check("ohmmeter", math.Inf(1), least, cards.OverRange)
	check("frequency", 6.6667, Error{}, "6.67 Hz")
	check("frequency", 99.99, Error{}, "100.0 Hz")
	check("kv-available", 36100, Error{}, "36.1 kV")
}

// Meter loading: 24 V over two 250 Mohm, a 10 Mohm meter on the lower one reads 0.8889 V. Source: Kuphaldt, Lessons in
// Electric Circuits I, "DC metering circuits".
func TestMeterLoading(t *testing.T) {
	b := tiny(t, `
condition = [{ id = "on", key = "run" }]
part = [
  { id = "battery", kind = "battery", pins = ["b", "g"], emf_volts = 24, resistance_ohms = 0 },
  { id = "upper", kind = "resistor", pins = ["b", "m"], resistance_ohms = 250e6 },
  { id = "lower", kind = "resistor", pins = ["m", "g"], resistance_ohms = 250e6 },
  { id = "one", kind = "resistor", pins = ["b", "n"], resistance_ohms = 5 },
  { id = "two", kind = "resistor", pins = ["n", "g"], resistance_ohms = 5 }]
test = [
  { id = "high-ohms", label = "high", red = "m", black = "g", condition = "on", `+volts+` },
  { id = "low-ohms", label = "low", red = "n", black = "g", condition = "on", `+volts+` }]
fault = [{ id = "f", label = "f", set = [{ part = "upper", resistance_ohms = "open" }], weight = 1, repair = "r" }]
`)
	near(t, "volts through 250 Mohm", b.read("high-ohms").Number, 0.8889, 5e-5)
	near(t, "volts through 5 ohm", b.read("low-ohms").Number, 12, 1e-5)
}

// A test lamp for electronics draws under 0.3 A at 12 V (read in a maker's text). 21 W: 1.96 A at 13.5 V.
func TestLamps(t *testing.T) {
	near(t, "small lamp, A", 12.0/smallBulb.ohms(12), 0.15, 0.15)
	near(t, "load lamp, A", 13.5/loadBulb.ohms(13.5), 1.96, 0.005)
}
