package vehicle

import (
	"strings"
	"testing"

	"nospark/scenarios/pack"
	"nospark/scenarios/vehicle/meter"
)

// What a sensor's input may read follows from the temperature on the repair order. 5 V through 1 kohm, a coolant
// sensor's service table: 20 °C 3.571 V, 40 °C 2.701 V, 80 °C 1.221 V, 100 °C 0.788 V. So 0.97 V is no cool air and
// 3.19 V no warm coolant, and a crank signal that reaches 2.18 V of 5.3 is a bad one (a Hall signal goes from 0 to 5 V,
// service information; the limit: common practice, no source).
func TestSensorReadingsThatATechnicianRefuses(t *testing.T) {
	for _, name := range []string{"single-coil", "double-ended", "reluctor", "coil-per-plug"} {
		p, err := pack.Load(name)
		if err != nil {
			t.Fatal(err)
		}
		seen := map[string]int{}
		check := func(test *pack.Test, what string, volts float64, want bool) {
			t.Helper()
			seen[what]++
			if b := test.Bands[meter.BandOf(test, meter.Shown{Number: volts}, meter.Shown{})]; b.Normal != want {
				t.Errorf("%s, %s: %g V for %s is %q, normal %v; want %v", name, test.ID, volts, what, b.Name, b.Normal,
					want)
			}
		}
		for i := range p.Tests {
			test := &p.Tests[i]
			at := ""
			if test.Red >= 0 {
				at = p.Nodes[test.Red].ID
			}
			switch {
			case test.Instrument.ID == "voltmeter" && at == "pcm_iat":
				check(test, "air at 20 °C", 3.571, true)
				check(test, "air at 40 °C", 2.701, true)
				check(test, "air on a cool day", 0.97, false)
			case test.Instrument.ID == "voltmeter" && at == "pcm_ect":
				check(test, "coolant at 80 °C", 1.221, true)
				check(test, "coolant at 100 °C", 0.788, true)
				check(test, "warm coolant", 3.19, false)
			case test.Instrument.ID == "max-hold" && (at == "ckp_sig" || at == "pcm_sync") &&
				!strings.HasSuffix(test.ID, "wiggle"):
				check(test, "crank signal", 5.3, true)
				check(test, "weak crank signal", 2.18, false)
			}
		}
		if seen["air at 20 °C"] == 0 || seen["warm coolant"] == 0 ||
			name != "reluctor" && seen["weak crank signal"] == 0 { // an inductive sensor has no level
			t.Errorf("%s: looked at %v", name, seen)
		}
	}
}
