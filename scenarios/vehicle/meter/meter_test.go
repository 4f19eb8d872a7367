package meter

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

// Decimals as the standard library writes them, ties to even of the exact binary value.
func TestRoundedIsWhatTheDecimalsShow(t *testing.T) {
	for _, c := range []struct {
		x      float64
		digits int
		want   float64
	}{
		{12.345, 2, 12.35}, // the double lies above the tie: 12.3450000000000006
		{2.675, 2, 2.67},   // and below: 2.67499999999999982
		{0.125, 2, 0.12},   // a tie
		{-0.0004, 3, 0}, {1e15 + 0.3, 1, 1e15 + 0.3}, {599.95, 1, 600}, {-3.14159, 3, -3.142},
	} {
		if got := rounded(c.x, c.digits); got != c.want {
			t.Errorf("%v with %d decimals is %v, want %v", c.x, c.digits, got, c.want)
		}
	}
}
