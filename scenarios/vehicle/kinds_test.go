package vehicle

import "testing"

// A lamp, a motor and a diode as parts, by hand.
func TestLampMotorDiode(t *testing.T) {
	const bands = `minutes = 1, bands = [{ name = "low", below = 6 }, { name = "high" }], normal = ["high"]`
	b := tiny(t, `
condition = [{ id = "off", key = "off" }, { id = "on", key = "run" }]
part = [
  { id = "battery", kind = "battery", pins = ["b", "g"], emf_volts = 12.6, resistance_ohms = 0 },
  { id = "wire", kind = "wire", pins = ["b", "n"], resistance_ohms = 0.0001 },
  { id = "lamp", kind = "filament", pins = ["n", "g"] },
  { id = "motor", kind = "motor", pins = ["b", "g"], resistance_ohms = 3, stalled_ohms = 0.5 },
  { id = "load", kind = "resistor", pins = ["b", "m"], resistance_ohms = 10 },
  { id = "diode", kind = "diode", pins = ["m", "g"] },
  { id = "back", kind = "diode", pins = ["g", "m"] }]
test = [
  { id = "lamp-volts", label = "x", instrument = "voltmeter", red = "n", black = "g", condition = "on", `+bands+` },
  { id = "lamp-ohms", label = "x", instrument = "ohmmeter", isolate = "lamp", condition = "off", `+bands+` },
  { id = "lamp-amps", label = "x", instrument = "ammeter", part = "lamp", condition = "on", `+bands+` },
  { id = "motor-amps", label = "x", instrument = "ammeter", part = "motor", condition = "on", `+bands+` },
  { id = "diode-volts", label = "x", instrument = "voltmeter", red = "m", black = "g", condition = "on", `+bands+` },
  { id = "diode-amps", label = "x", instrument = "ammeter", part = "diode", condition = "on", `+bands+` },
  { id = "back-amps", label = "x", instrument = "ammeter", part = "back", condition = "on", `+bands+` }]
fault = [
  { id = "quarter", label = "f", set = [{ part = "wire", resistance_ohms = 0.25 }], weight = 1, repair = "r" },
  { id = "one", label = "f", set = [{ part = "wire", resistance_ohms = 1 }], weight = 1, repair = "r" },
  { id = "three", label = "f", set = [{ part = "wire", resistance_ohms = 3 }], weight = 1, repair = "r" },
  { id = "ten", label = "f", set = [{ part = "wire", resistance_ohms = 10 }], weight = 1, repair = "r" },
  { id = "burnt", label = "f", set = [{ part = "lamp", burnt_out = true }], weight = 1, repair = "r" },
  { id = "jammed", label = "f", set = [{ part = "motor", jammed = true }], weight = 1, repair = "r" },
  { id = "broken", label = "f", set = [{ part = "diode", broken = true }], weight = 1, repair = "r" },
  { id = "through", label = "f", set = [{ part = "back", shorted = true }], weight = 1, repair = "r" }]
`)
	lamp, motor := b.v.l.partNamed("lamp"), b.v.l.partNamed("motor")
	// The lamp of 21 W behind a resistance at 12.6 V: drops and shares of light derived by hand from the filament's
	// laws.
	near(t, "cold lamp, ohm", b.read("lamp-ohms").Number, 13.5*13.5/26.5/10, 0.001)
	near(t, "lamp, A", b.read("lamp-amps").Number, 1.89, 0.01) // 1.963 A (12.6/13.5)^0.55
	for fault, want := range map[string]struct {
		drop  float64
		works string
	}{"quarter": {0.46, "normal"}, "one": {1.74, "weak"}, "three": {4.5, "weak"}, "ten": {9.2, "none"}} {
		near(t, fault+", drop, V", 12.6-b.with(fault, 0).read("lamp-volts").Number, want.drop, 0.05)
		if got := b.with(fault, 0).v.works(lamp); got != want.works {
			t.Errorf("%s: the lamp's light is %s, want %s", fault, got, want.works)
		}
	}
	if got := b.with("burnt", 0).v.works(lamp); got != "none" {
		t.Errorf("burnt out: the lamp's light is %s", got)
	}
	// A motor that is held draws more and does nothing.
	near(t, "motor, A", b.read("motor-amps").Number, 12.6/3, 0.01)
	near(t, "jammed, A", b.with("jammed", 0).read("motor-amps").Number, 12.6/0.5, 0.2)
	if got := b.with("jammed", 0).v.works(motor); got != "none" {
		t.Errorf("jammed: the motor works %s", got)
	}
	// (12.6 - 0.65) V over 10.05 ohm; the other way nothing; through the shorted one nearly everything.
	near(t, "diode, A", b.read("diode-amps").Number, 11.95/10.05, 0.002)
	near(t, "diode, V", b.read("diode-volts").Number, 0.65+0.05*11.95/10.05, 0.001)
	near(t, "the other way, A", b.read("back-amps").Number, 0, 1e-9)
	near(t, "broken, V", b.with("broken", 0).read("diode-volts").Number, 12.6, 0.02)
	near(t, "shorted, V", b.with("through", 0).read("diode-volts").Number, 12.6*0.05/10.05, 0.001)
}
