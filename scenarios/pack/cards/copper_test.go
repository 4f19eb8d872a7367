package cards_test

import (
	"math"
	"testing"

	"nospark/scenarios/pack/cards"
)

// gauge is the gauge, fractions included, of a wire with the given section in mm2: the formula of ASTM B258-02 the
// other way round.
func gauge(section float64) float64 {
	d := math.Sqrt(section / (math.Pi / 4))
	return 36 - 39*math.Log(d/0.127)/math.Log(92)
}

// IEC 60228, maximum ohm/km at 20 °C of class 5 plain copper conductors by section in mm2. Annealed copper of the
// full section stays below, and above 85 % of it: the standard leaves room for stranding (the 85 % are our own
// reading of its table).
func TestIEC60228Maxima(t *testing.T) {
	for _, c := range []struct{ section, most float64 }{{0.5, 39.0}, {0.75, 26.0}, {1, 19.5}, {1.5, 13.3}, {2.5, 7.98},
		{4, 4.95}, {6, 3.30}} {
		if got := cards.WireOhms(gauge(c.section), 1000); got > c.most || got < 0.85*c.most {
			t.Errorf("%g mm2: %.4g ohm/km, want %.4g to %g", c.section, got, 0.85*c.most, c.most)
		}
	}
}

// Kuphaldt, Lessons in Electric Circuits I, "Conductors": 2,300 ft of 14 AWG are 5.651 ohm with 10.09 ohm cmil/ft
// of elemental copper. Annealed copper has 10.371 ohm cmil/ft, 1/58 ohm mm2/m in those units (derived).
func TestKuphaldtConductor(t *testing.T) {
	want := 5.651 * 10.371 / 10.09
	if got := cards.WireOhms(14, 2300*0.3048); math.Abs(got/want-1) > 1e-3 {
		t.Errorf("2,300 ft of 14 AWG: %.4g ohm, want %.4g", got, want)
	}
}
