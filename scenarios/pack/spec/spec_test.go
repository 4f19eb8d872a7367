package spec_test

import (
	"math"
	"testing"

	"nospark/scenarios/pack"
	"nospark/scenarios/pack/cards"
	"nospark/scenarios/pack/spec"
)

// bands builds bands from names and limits; a name that ends with "*" is normal. The last has no limit.
func bands(names []string, limits ...float64) []pack.Band {
	list := make([]pack.Band, len(names))
	for i, name := range names {
		list[i] = pack.Band{Name: name, Below: math.Inf(1), Normal: name[len(name)-1] == '*'}
		if i < len(limits) {
			list[i].Below = limits[i]
		}
	}
	return list
}

func TestSpecText(t *testing.T) {
	p := &pack.Pack{}
	check := func(instrument, want string, names []string, limits ...float64) {
		t.Helper()
		v := pack.Test{Instrument: cards.InstrumentByID(instrument), Compare: -1, Bands: bands(names, limits...)}
		if got := spec.Text(v, p); got != want {
			t.Errorf("%s %v %v: %q, want %q", instrument, names, limits, got, want)
		}
	}
	check("voltmeter", "below 0.5 V", []string{"ok*", "high"}, 0.5)
	check("voltmeter", "at least 12 V", []string{"low", "ok*"}, 12)
	check("voltmeter", "at least 4.75 and below 5.25 V", []string{"low", "ok*", "high"}, 4.75, 5.25)
	check("voltmeter", "at least -0.1 and below 0.1 V", []string{"low", "ok*", "high"}, -0.1, 0.1)
	check("voltmeter", "below 15 V", []string{"low*", "ok*", "high"}, 12, 15)
	check("voltmeter", "below 1 V or at least 9 V", []string{"low*", "between", "high*"}, 1, 9)
	check("voltmeter", "at least 1 and below 3 V or at least 5 and below 7 V", []string{"a", "b*", "c", "d*", "e"}, 1,
		3,
		5, 7)
	check("voltmeter", "below 0.3 V", []string{"ok*", "high"}, 0.1+0.2) // as a person writes it
	check("ohmmeter", "below 20 Ω", []string{"ok*", "open"}, 20)
	check("ohmmeter", "below 999 Ω", []string{"ok*", "open"}, 999)
	check("ohmmeter", "below 1 kΩ", []string{"ok*", "open"}, 1000)
	check("ohmmeter", "at least 4 and below 12 kΩ", []string{"low", "ok*", "open"}, 4e3, 12e3)
	check("ohmmeter", "at least 0.45 and below 1.15 kΩ", []string{"low", "ok*", "open"}, 450, 1150)
	check("ohmmeter", "at least 10 MΩ, or OL", []string{"leaks", "ok*"}, 10e6)
	check("duty", "at least 30 and below 50 %", []string{"low", "ok*", "high"}, 30, 50)
	check("timing-light", "at least 10 and below 14° before TDC", []string{"late", "ok*", "early"}, 10, 14)
	check("scan-ect", "at least 80 and below 100 °C", []string{"cold", "ok*", "hot"}, 80, 100)
	check("scan-speed", "at least 50 rpm", []string{"none", "ok*"}, 50)
	check("gap-gauge", "at least 0.9 and below 1.2 mm", []string{"narrow", "ok*", "wide"}, 0.9, 1.2)
	check("kv-available", "at least 30 kV", []string{"low", "ok*"}, 30)
	check("test-lamp", "bright*", []string{"bright*", "dim", "dark"})
	check("spark-tester", "strong*", []string{"strong*", "weak", "no"})
	check("test-lamp", "bright* or dim*", []string{"bright*", "dim*", "dark"})
	check("test-lamp", "bright* or dark*", []string{"bright*", "dim", "dark*"})
}

// A test that compares: low <= beside - reading < high.
func TestSpecTextComparing(t *testing.T) {
	p := &pack.Pack{
		Nodes:  []pack.Node{{ID: "bat", Role: pack.RoleBattery}, {ID: "feed"}, {ID: "gnd"}},
		Points: 3, Reference: 2,
		Sweeps: []pack.Sweep{{}},
		Tests: []pack.Test{
			{ID: "s.bat.on", Sweep: 0, Red: 0, Black: 2},
			{ID: "s.feed.on", Sweep: 0, Red: 1, Black: 2},
			{ID: "battery", Sweep: -1, Red: 0, Black: 2},
			{ID: "switch-drop.on", Sweep: -1, Red: 0, Black: 1},
		},
	}
	check := func(with int, want string, names []string, limits ...float64) {
		t.Helper()
		v := pack.Test{Instrument: cards.InstrumentByID("voltmeter"), Compare: with, Bands: bands(names, limits...)}
		if got := spec.Text(v, p); got != want {
			t.Errorf("%v %v: %q, want %q", names, limits, got, want)
		}
	}
	check(0, "less than 0.5 V below the battery reading", []string{"ok*", "low"}, 0.5)
	check(1, "less than 0.5 V below the reading at point 2", []string{"ok*", "low"}, 0.5)
	check(2, "less than 0.5 V below the battery reading", []string{"ok*", "low"}, 0.5)
	check(3, "less than 0.5 V below the switch drop reading", []string{"ok*", "low"}, 0.5)
	check(0, "at least 2 V below the battery reading", []string{"high", "ok*"}, 2)
	check(0, "at least 2 V and less than 3 V below the battery reading", []string{"high", "ok*", "low"}, 2, 3)
	check(0, "at most 0.2 V above and less than 0.5 V below the battery reading", []string{"high", "ok*", "low"}, -0.2,
		0.5)
	check(0, "not above and less than 0.5 V below the battery reading", []string{"high", "ok*", "low"}, 0, 0.5)
	check(0, "not above the battery reading", []string{"high", "ok*"}, 0)
	check(0, "above the battery reading", []string{"ok*", "low"}, 0)
	check(0, "more than 1 V above the battery reading", []string{"ok*", "low"}, -1)
	check(0, "more than 1 V and at most 3 V above the battery reading", []string{"a", "ok*", "low"}, -3, -1)
	check(0, "at most 3 V above the battery reading", []string{"a", "ok*"}, -3)
}

// What the words say and what the bands do agree for readings one step of the display around every limit.
func TestSpecTextBoundary(t *testing.T) {
	b := bands([]string{"low", "ok*", "high"}, 4.75, 5.25)
	band := func(x float64) string {
		for _, v := range b {
			if x < v.Below {
				return v.Name
			}
		}
		return ""
	}
	// "at least 4.75 and below 5.25 V"
	for x, want := range map[float64]string{4.749: "low", 4.75: "ok*", math.Nextafter(5.25, 0): "ok*", 5.25: "high"} {
		if got := band(x); got != want {
			t.Errorf("%v V is %q, want %q", x, got, want)
		}
	}
}
