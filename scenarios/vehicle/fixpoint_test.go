package vehicle

import (
	"math"
	"strings"
	"testing"

	"nospark/scenarios/pack"
)

// tiny makes a vehicle of a few lines of a pack: points b and g are the battery's, the rest is given. A complaint, a
// fault and a repair are added, since no pack goes without.
func tiny(t *testing.T, body string) *benchOf {
	t.Helper()
	const head = `name = "tiny"
title = "tiny"
version = 1
reference = "g"
point = [{ id = "b" }, { id = "g" }, { id = "m" }, { id = "n" }]
repair = [{ id = "r", label = "r", minutes = 1 }]
complaint = [{ id = "c", label = "c", when = { any_abnormal = true } }]
`
	p, err := pack.Parse("tiny.toml", []byte(head+body))
	if err != nil {
		t.Fatal(err)
	}
	return &benchOf{t: t, p: p, v: Healthy(p)}
}

// volts is a voltmeter's test with bands that do not matter here.
const volts = `instrument = "voltmeter", minutes = 1, bands = [{ name = "low", below = 6 }, { name = "high" }], normal = ["high"]`

// A module with a bad ground has its supply at rest, loses it in every dwell and is back as soon as it gives up: it
// must stay off, not blink, and with it off nothing flows that could be seen at its ground.
func TestStarvedPartStaysOff(t *testing.T) {
	b := loaded(t, "single-coil").with("switch-burnt", 0.5)
	crank, err := b.p.Condition("crank")
	if err != nil {
		t.Fatal(err)
	}
	b.v.blowFuses()
	st := b.v.plain(crank)
	m := b.v.dev.control
	if st.on.part[m.part] {
		t.Fatal("the controller works")
	}
	if has := st.high.Between(m.feed, m.ground); has < m.minimum {
		t.Fatalf("the controller has %g V at rest, less than its minimum; the test wants a case in which it would "+
			"come back",
			has)
	}
	if st.charges[0].amps != 0 {
		t.Errorf("coil current %g A without a command", st.charges[0].amps)
	}
	// Rounds end: settled once more from the same vehicle, everything is the same.
	again := b.v.settle(setup{condition: crank})
	if again.on.part[m.part] || again.high.Volts(m.ground) != st.high.Volts(m.ground) {
		t.Error("settled again, the state differs")
	}
}

// Parts are only switched off, so a vehicle settles in at most as many rounds as there are parts, every fault of every
// built-in pack.
func TestSettlesInFewRounds(t *testing.T) {
	for _, name := range pack.Builtin() {
		b := loaded(t, name)
		for _, f := range b.p.Faults {
			v := b.with(f.ID, 0.5).v
			v.blowFuses()
			for c := range b.p.Conditions {
				st := v.plain(c)
				if most := (len(b.p.Parts) + 1) * (4 + 3*len(v.l.channels)); len(st.own) > most {
					t.Errorf("%s %s: %d phases solved, want at most %d", name, f.ID, len(st.own), most)
				}
			}
		}
	}
}

// Two fuses in series and a short behind both: the one further above its rating blows, spares the other and stays blown
// when the key is off again and the short is out of the circuit.
func TestFuseBlowsAndStaysBlown(t *testing.T) {
	b := tiny(t, `
condition = [{ id = "off", key = "off" }, { id = "on", key = "run" }]
part = [
  { id = "battery", kind = "battery", pins = ["b", "g"], emf_volts = 12.6, resistance_ohms = 0.02 },
  { id = "main", kind = "fuse", pins = ["b", "m"], rating_amps = 50 },
  { id = "small", kind = "fuse", pins = ["m", "n"], rating_amps = 10 },
  { id = "switch", kind = "switch", pins = ["n", "s"] },
  { id = "load", kind = "resistor", pins = ["s", "g"], resistance_ohms = 3 },
  { id = "drain", kind = "resistor", pins = ["n", "g"], resistance_ohms = 10000 },
  { id = "chafe", kind = "leak", pins = ["s", "g"] }]
node = [{ id = "s" }]
test = [
  { id = "m-off", label = "m", red = "m", black = "g", condition = "off", `+volts+` },
  { id = "n-off", label = "n", red = "n", black = "g", condition = "off", `+volts+` },
  { id = "m-on", label = "m", red = "m", black = "g", condition = "on", `+volts+` },
  { id = "n-on", label = "n", red = "n", black = "g", condition = "on", `+volts+` },
  { id = "main-ohms", label = "main", instrument = "ohmmeter", isolate = "main", condition = "off", minutes = 1, bands = [{ name = "good", below = 1 }, { name = "open" }], normal = ["good"] },
  { id = "small-ohms", label = "small", instrument = "ohmmeter", isolate = "small", condition = "off", minutes = 1, bands = [{ name = "good", below = 1 }, { name = "open" }], normal = ["good"] }]
fault = [
  { id = "shorted", label = "shorted", set = [{ part = "chafe", resistance_ohms = 0.05 }], weight = 1, repair = "r" },
  { id = "leaking", label = "leaking", set = [{ part = "chafe", resistance_ohms = 10 }], weight = 1, repair = "r" }]
`)
	b.look("m-off=high", "n-off=high", "m-on=high", "n-on=high", "main-ohms=good", "small-ohms=good")
	// About 100 A: twice the rating of one fuse, ten times that of the other.
	b.with("shorted", 0.5).look("m-off=high", "n-off=low", "m-on=high", "n-on=low", "main-ohms=good", "small-ohms=open")
	// 12.6 V over 3 and 10 ohm: about 5 A, which the small fuse bears.
	b.with("leaking", 0.5).look("n-off=high", "n-on=high", "small-ohms=good")
}

// A test that unplugs something or puts a lamp in settles a network of its own and leaves no trace in the others.
func TestLampAndUnpluggedSettleTheirOwn(t *testing.T) {
	b := tiny(t, `
condition = [{ id = "run", key = "run", speed_rpm = 200 }]
part = [
  { id = "battery", kind = "battery", pins = ["b", "g"], emf_volts = 12.6, resistance_ohms = 0.02 },
  { id = "feed", kind = "resistor", pins = ["b", "m"], resistance_ohms = 20 },
  { id = "ckp", kind = "hall", pins = ["m", "g", "n"], pulses_per_revolution = 24 },
  { id = "pullup", kind = "resistor", pins = ["m", "n"], resistance_ohms = 1000 },
  { id = "load", kind = "resistor", pins = ["m", "g"], resistance_ohms = 40 }]
test = [
  { id = "hertz", label = "hertz", instrument = "frequency", red = "n", black = "g", condition = "run", minutes = 1, bands = [{ name = "none", below = 1 }, { name = "some" }], normal = ["some"] },
  { id = "volts", label = "volts", red = "m", black = "g", condition = "run", `+volts+` },
  { id = "lamp", label = "lamp", instrument = "load-lamp", red = "m", black = "g", condition = "run", minutes = 1, normal = ["bright"] },
  { id = "unloaded", label = "unloaded", red = "m", black = "g", condition = "run", unplug = ["load"], `+volts+` },
  { id = "unplugged", label = "unplugged", instrument = "frequency", red = "n", black = "g", condition = "run", unplug = ["ckp"], minutes = 1, bands = [{ name = "none", below = 1 }, { name = "some" }], normal = ["some"] }]
fault = [{ id = "f", label = "f", set = [{ part = "feed", resistance_ohms = "open" }], weight = 1, repair = "r" }]
`)
	lamp, err := b.p.Test("lamp")
	if err != nil {
		t.Fatal(err)
	}
	before := b.read("hertz").Number
	near(t, "frequency, 200/60 x 24 Hz", before, 80, 1e-9)
	// The 21 W lamp beside 40 ohm behind 20 ohm leaves the sensor about 1.4 V, less than it needs: it is off with the
	// lamp.
	st := b.v.state(&b.p.Tests[lamp])
	if ckp := b.v.dev.halls[0].part; st.on.part[ckp] || !b.v.plain(0).on.part[ckp] {
		t.Errorf("sensor on with the lamp: %v, without: %v; want false and true", st.on.part[ckp],
			b.v.plain(0).on.part[ckp])
	}
	x := lit(st) // Kirchhoff's law at the lamp, its current after the law of filaments
	near(t, "amperes at the lamp", (12.6-x)/20.02, x/40+x/1500+26.5/13.5*math.Pow(x/13.5, 0.55), 1e-3)
	b.v.done(st)
	if got := b.read("lamp"); got.Phrase != "dark" {
		t.Errorf("the lamp is %q", got.Phrase)
	}
	near(t, "frequency after the lamp", b.read("hertz").Number, before, 0)
	if plain, unloaded := b.read("volts").Number, b.read("unloaded").Number; unloaded < plain+2 {
		t.Errorf("%g V with the load unplugged, %g V with it", unloaded, plain)
	}
	near(t, "frequency without the sensor", b.read("unplugged").Number, 0, 0)
	near(t, "frequency in the end", b.read("hertz").Number, before, 0)
}

func near(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if !(got >= want-within && got <= want+within) {
		t.Errorf("%s: got %.6g, want %.6g within %.2g", what, got, want, within)
	}
}

// A pack in which ideal sources contradict each other cannot be solved. The error names the fault and the part.
func TestContradictionNamesThePart(t *testing.T) {
	b := tiny(t, `
condition = [{ id = "on", key = "run" }]
part = [
  { id = "battery", kind = "battery", pins = ["b", "g"], emf_volts = 12.6, resistance_ohms = 0 },
  { id = "cable", kind = "wire", pins = ["b", "m"], resistance_ohms = 0.01 },
  { id = "helper", kind = "battery", pins = ["m", "g"], emf_volts = 12.0, resistance_ohms = 0 },
  { id = "one", kind = "resistor", pins = ["m", "n"], resistance_ohms = 5 },
  { id = "two", kind = "resistor", pins = ["n", "g"], resistance_ohms = 5 }]
test = [{ id = "volts", label = "volts", red = "m", black = "g", condition = "on", `+volts+` }]
fault = [{ id = "no-cable", label = "no cable", set = [{ part = "cable", resistance_ohms = "short" }], weight = 1, repair = "r" }]
`)
	_, err := NewMatrix(b.p)
	if err == nil || !strings.Contains(err.Error(), `fault "no-cable"`) || !strings.Contains(err.Error(), `"helper"`) &&
		!strings.Contains(err.Error(), `"battery"`) {
		t.Errorf("got %v, want an error that names the fault and a battery", err)
	}
	if _, err := b.with("no-cable", 0.5).v.Circuits(0, -1); err == nil {
		t.Error("a contradiction was exported")
	}
	b.look("volts=high") // with the cable there is nothing to say against it
}
