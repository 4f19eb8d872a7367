package cards_test

import (
	"math"
	"testing"

	"nospark/scenarios/pack/cards"
)

func TestWireOhms(t *testing.T) {
	// Ohm per 1000 ft at 20 °C: HyperPhysics, wire gauge table, after Floyd, Electric Circuit Fundamentals. Four
	// digits.
	const thousandFeet = 304.8
	for awg, want := range map[float64]float64{8: 0.6282, 10: 0.9989, 12: 1.588, 14: 2.525, 16: 4.016, 18: 6.385,
		20: 10.15, 22: 16.14, 24: 25.67} {
		if got := cards.WireOhms(awg, thousandFeet); math.Abs(got/want-1) > 1e-3 {
			t.Errorf("AWG %g: %.5g ohm per 1000 ft, want %g", awg, got, want)
		}
	}
	// Diameters of ASTM B258-02: AWG 36 is 0.127 mm by definition, so 1 m of it is resistivity over area.
	if got, want := cards.WireOhms(36, 1), 0.017241/(math.Pi/4*0.127*0.127); math.Abs(got/want-1) > 1e-12 {
		t.Errorf("AWG 36: %v ohm/m, want %v", got, want)
	}
	// 39 steps of gauge are a factor of 92 in diameter.
	if got := cards.WireOhms(39, 1) / cards.WireOhms(0, 1); math.Abs(got/(92*92)-1) > 1e-12 {
		t.Errorf("39 gauges apart: %v, want 92 squared", got)
	}
	if got := cards.WireOhms(14, 3) / cards.WireOhms(14, 1); math.Abs(got-3) > 1e-12 {
		t.Errorf("three times the length: %v times the resistance", got)
	}
}

func TestBatteryEMF(t *testing.T) {
	check := func(percent, want float64) {
		t.Helper()
		if got := cards.BatteryEMF(percent); math.Abs(got-want) > 1e-9 {
			t.Errorf("%g %%: %v V, want %v", percent, got, want)
		}
	}
	// Rest voltage of flooded batteries at 26.7 °C: table credited to Battery Council International.
	check(100, 12.65)
	check(75, 12.45)
	check(50, 12.24)
	check(25, 12.06)
	check(0, 11.89)
	// Between the rows: linear, our own choice.
	check(87.5, 12.55)
	check(10, 11.89+0.4*(12.06-11.89))
	// Outside: held.
	check(-5, 11.89)
	check(105, 12.65)
}
