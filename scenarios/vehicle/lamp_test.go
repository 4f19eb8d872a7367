package vehicle

import (
	"math"
	"testing"

	"nospark/scenarios/pack"
)

// The 21 W lamp behind a resistance at 12.6 V: volts lost and light in percent. Source: derived by hand from the laws
// of a filament, current ~ V^0.55 and light ~ V^3.4, 1.96 A at 13.5 V. Words: common practice, no source.
func TestLampBehindResistance(t *testing.T) {
	check := func(ohms, drop, percent float64, says string) {
		t.Helper()
		_, alone := loadBulb.settle([]lampFeed{{12.6, 0, 1}})
		_, volts := loadBulb.settle([]lampFeed{{12.6, ohms, 1}})
		near(t, "drop, V", 12.6-volts, drop, 0.05)
		near(t, "light, %", 100*math.Pow(volts/alone, lightPower), percent, 1)
		if got := brightness(volts, alone); got != says {
			t.Errorf("behind %g ohm: %s, want %s", ohms, got, says)
		}
	}
	check(0.1, 0.19, 95, "bright")
	check(0.25, 0.46, 88, "bright")
	check(0.5, 0.91, 78, "bright")
	check(1, 1.74, 60, "dim")
	check(2, 3.2, 37, "dim")
	check(3, 4.5, 23, "very dim")
	check(5, 6.4, 9, "very dim")
	check(10, 9.2, 1, "dark")
	check(10e6, 12.6, 0, "dark")
}

// A lamp is judged against the same lamp across the battery: while the starter pulls the battery down, good feeds read
// bright.
func TestLampsOfTheHealthyVehicle(t *testing.T) {
	count := 0
	for _, name := range pack.Builtin() {
		b := loaded(t, name)
		for i := range b.p.Tests {
			if test := &b.p.Tests[i]; test.Instrument.Phrases != nil && b.v.lamp(test).ohms > 0 {
				count++
				if got := b.v.Read(i).Phrase; got != "bright" {
					t.Errorf("%s %s: %s, want bright", name, test.ID, got)
				}
			}
		}
	}
	if count < 100 {
		t.Errorf("only %d lamps", count)
	}
}

// A filament that alternates between two voltages glows by the power it takes: half the time at 12 V is the effective
// 8.49 V.
func TestLampOnPulses(t *testing.T) {
	_, volts := loadBulb.settle([]lampFeed{{12, 0, 0.5}, {0, 0, 0.5}})
	near(t, "effective, V", volts, 12/math.Sqrt2, 1e-9)
	near(t, "cold, ohm", loadBulb.ohms(0), 0.1*13.5*13.5/26.5, 1e-9) // 0.5-0.7 ohm cold, derived
}

// What a glance is sure of is what the vehicle settled anew with the lamp shows: every lamp test of every built-in pack
// with every fault.
func TestGlanceAgreesWithSettling(t *testing.T) {
	glances, lamps := 0, 0
	for _, name := range pack.Builtin() {
		b := loaded(t, name)
		for _, f := range b.p.Faults {
			for _, severity := range severities(f) {
				v := Healthy(b.p)
				v.Apply(f, severity)
				for i := range b.p.Tests {
					test := &b.p.Tests[i]
					if v.lamp(test).ohms == 0 || test.Instrument.Phrases == nil || !v.reaches(test.Condition) {
						continue
					}
					lamps++
					phrase, sure := v.glance(test)
					if !sure {
						continue
					}
					glances++
					st := v.state(test)
					if want := brightness(lit(st), v.besideBattery(test)); phrase != want {
						t.Errorf("%s %s at %g, %s: a glance says %q, settled anew it is %q (%g V)", name, f.ID,
							severity, test.ID, phrase,
							want, lit(st))
					}
					v.done(st)
				}
			}
		}
	}
	t.Logf("%d of %d lamps judged at a glance", glances, lamps)
	if glances < lamps/2 {
		t.Errorf("only %d of %d lamps judged at a glance", glances, lamps)
	}
}

// What superposition says of a loaded drop is what the vehicle settled anew with the lamp shows.
func TestLoadedDropsAgreeWithSettling(t *testing.T) {
	short, drops := 0, 0
	for _, name := range pack.Builtin() {
		b := loaded(t, name)
		for k, f := range b.p.Faults {
			v := Healthy(b.p)
			v.Apply(f, 0.5)
			for i := range b.p.Tests {
				test := &b.p.Tests[i]
				if test.Instrument.ID != "loaded-drop" || i%4 != k%4 {
					continue
				}
				v.blowFuses()
				drops++
				got, sure := v.dropped(test)
				if !sure {
					continue
				}
				short++
				st := v.state(test)
				if want := st.volts(v.node(test.Red), v.node(test.Black)); math.Abs(got-want) > 2e-3 {
					t.Errorf("%s %s %s: %g V, settled anew %g V", name, f.ID, test.ID, got, want)
				}
				v.done(st)
			}
		}
	}
	t.Logf("%d of %d loaded drops without settling", short, drops)
	if short < drops/2 || drops < 50 {
		t.Errorf("only %d of %d loaded drops without settling", short, drops)
	}
}
