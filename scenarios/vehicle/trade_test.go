package vehicle

import (
	"fmt"
	"os"
	"strings"
	"testing"
)

// Rules of thumb of the trade on the healthy single-coil pack and its worn plugs: common practice, no source, except
// where one is named.
func TestTradeRules(t *testing.T) {
	b := loaded(t, "single-coil")
	condition := func(id string) int {
		t.Helper()
		c, err := b.p.Condition(id)
		if err != nil {
			t.Fatal(err)
		}
		return c
	}
	crank, idle, load := condition("crank"), condition("idle"), condition("load")
	needed := func(v *Vehicle, c int) float64 {
		cyl := v.cylinder(v.plain(c), 0)
		return (cyl.required + cyl.rotor) / 1e3
	}
	// A fresh plug asks for 8-15 kV between idle and cranking, and the system offers 35-45 kV.
	near(t, "fresh plug at idle, kV", needed(b.v, idle), 11.5, 3.5)
	near(t, "fresh plug cranking, kV", needed(b.v, crank), 11.5, 3.5)
	for _, c := range []int{crank, idle, load} {
		near(t, "offered, kV", b.v.cylinder(b.v.plain(c), 0).available/1e3, 40, 5)
	}
	// Twice the gap asks for 25 kV and more under load; a plug worn further asks for more than there is.
	worn := func(factor float64) *Vehicle {
		v := b.v.Clone()
		plug := v.l.plugs[0]
		v.values[plug][v.l.p.Parts[plug].Kind.Param("gap_mm")] *= factor
		return v
	}
	if got := needed(worn(2), load); got < 25 {
		t.Errorf("twice the gap under load asks for %g kV, want 25 and more", got)
	}
	if v := worn(3); needed(v, load) < v.cylinder(v.plain(load), 0).available/1e3 || v.Observe().Misfires != "loaded" {
		t.Errorf("three times the gap under load asks for %g kV, misfires %q; want more than there is", needed(v, load),
			v.Observe().Misfires)
	}
	// Cranking: 150-250 1/min with a warm engine, the battery above 9.6 V (the limit of the load test, service tables).
	st := b.v.plain(crank)
	near(t, "cranking speed, 1/min", st.rpm, 200, 50)
	if got := b.read("volts.bat_pos.crank").Number; got < 9.6 {
		t.Errorf("battery while cranking: %g V, want above 9.6", got)
	}
	// Connections drop less than 0.1 V, cables less than 0.2 V, switches less than 0.3 V, grounds less than 0.2 V while
	// cranking (service sources), in every phase.
	for _, c := range []int{condition("on"), crank, idle, load} {
		b.v.plain(c).instants(func(s *solved) {
			for i := range b.v.dev.pairs {
				p := &b.v.dev.pairs[i]
				most := map[string]float64{"connector": 0.1, "fuse": 0.1, "wire": 0.2,
					"switch": 0.3}[b.v.l.kinds[p.part]]
				if drop := s.through(p.part) * p.ohms; most > 0 && (drop > most || drop < -most) {
					t.Errorf("%s, %s: drop of %g V, want less than %g", b.p.Conditions[c].ID, b.v.id(p.part), drop,
						most)
				}
			}
		})
	}
	for _, test := range []string{"volts.block.crank", "volts.icm_gnd.crank", "volts.pcm_gnd.crank",
		"volts.ckp_gnd.crank"} {
		near(t, test, b.read(test).Number, 0.1, 0.1)
	}
}

// Rest voltage by state of charge at the posts of a battery that a voltmeter alone loads: table credited to Battery
// Council International. With a load, terminal voltages of OpenStax University Physics 2, "Electromotive Force".
func TestBatteryTerminals(t *testing.T) {
	check := func(source string, load, want, within float64) {
		t.Helper()
		b := tiny(t, fmt.Sprintf(`
condition = [{ id = "on", key = "run" }]
part = [
  { id = "battery", kind = "battery", pins = ["b", "g"], %s },
  { id = "load", kind = "resistor", pins = ["b", "g"], resistance_ohms = %g },
  { id = "one", kind = "resistor", pins = ["b", "m"], resistance_ohms = 1e8 },
  { id = "two", kind = "resistor", pins = ["m", "n"], resistance_ohms = 1e8 },
  { id = "three", kind = "resistor", pins = ["n", "g"], resistance_ohms = 1e8 }]
test = [{ id = "volts", label = "volts", red = "b", black = "g", condition = "on", %s }]
fault = [{ id = "f", label = "f", set = [{ part = "load", resistance_ohms = "open" }], weight = 1, repair = "r" }]
`, source, load, volts))
		near(t, source, b.read("volts").Number, want, within)
	}
	for percent, volts := range map[string]float64{"100": 12.65, "75": 12.45, "50": 12.24, "25": 12.06, "0": 11.89} {
		check("charge_percent = "+percent+", resistance_ohms = 0.01", 1e8, volts, 1e-6)
	}
	check("emf_volts = 12, resistance_ohms = 0.1", 10, 11.88, 0.005) // printed as 11.90 V, exactly 11.88
	check("emf_volts = 12, resistance_ohms = 0.1", 0.5, 10, 1e-6)
	check("emf_volts = 12, resistance_ohms = 0.5", 0.5, 6, 1e-6)
}

// Forty readings and more of each ignition pack, whose bands were written down from the trade before they were read:
// common practice, no source. Mild and severe.
func TestTradeReadings(t *testing.T) {
	text, err := os.ReadFile("testdata/trade-readings.txt")
	if err != nil {
		t.Fatal(err)
	}
	var b *benchOf
	counts := map[string]int{}
	for line := range strings.Lines(string(text)) {
		line = strings.TrimSpace(line)
		if name, is := strings.CutPrefix(line, "pack "); is {
			b = loaded(t, name)
			continue
		}
		fault, readings, is := strings.Cut(line, " | ")
		if !is || strings.HasPrefix(line, "#") {
			continue
		}
		for _, severity := range []float64{0, 1} {
			v := b
			if fault != "healthy" {
				v = b.with(fault, severity)
			}
			for _, want := range strings.Split(readings, "; ") {
				v.look(strings.Replace(want, " = ", "=", 1))
				counts[b.p.Name]++
			}
		}
	}
	for _, name := range []string{"single-coil", "reluctor", "double-ended", "coil-per-plug"} {
		if counts[name] < 2*40 {
			t.Errorf("%s: %d readings, want 40 and more, each mild and severe", name, counts[name]/2)
		}
	}
}
