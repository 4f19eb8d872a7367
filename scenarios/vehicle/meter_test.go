package vehicle

import "testing"

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
