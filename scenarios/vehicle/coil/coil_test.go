package coil

import (
	"math"
	"testing"
)

// Energy ratings of ignition transistors by inductance and current (data sheets): what is stored is L i^2 / 2.
func TestStoredEnergy(t *testing.T) {
	for _, c := range []struct{ millihenries, amps, millijoules float64 }{
		{3.0, 14.2, 300}, {3.0, 10.6, 170}, {3.0, 11.5, 200}, {3.0, 8.9, 120}, {0.670, 38.5, 500}, {0.670, 30, 300},
	} {
		side := Secondary{Henries: 1e-3 * c.millihenries, Transfer: 1}
		near(t, "stored, mJ", 1e3*side.Energy(c.amps), c.millijoules, 0.015*c.millijoules)
	}
	// The transfer is a share of it.
	near(t, "two thirds", Secondary{Henries: 3e-3, Transfer: 2.0 / 3}.Energy(2), 4e-3, 1e-12)
}

// Charging coil of 4 ohm and 6 mH at 12 V: 3 A, 27 mJ, 18 kV when cut in 1 us. Source: Alexander & Sadiku, Fundamentals
// of Electric Circuits, automobile ignition example.
func TestChargingCoil(t *testing.T) {
	r := Ramp{Volts: 12, Ohms: 4, Henries: 6e-3, Limit: math.Inf(1), Dwell: 1}
	near(t, "final current, A", r.End(), 3, 1e-9)
	near(t, "energy, J", Secondary{Henries: r.Henries, Transfer: 1}.Energy(r.End()), 27e-3, 1e-9)
	near(t, "cut in 1 us, V", r.Henries*r.End()/1e-6, 18e3, 1e-3)
}

// RL circuits: current of 2.0 V, 4.0 ohm, 4.0 H after two time constants (OpenStax University Physics 2); 15 V, 1 ohm,
// 1 H after 1 s and 2 s (Kuphaldt, Lessons in Electric Circuits I).
func TestRamp(t *testing.T) {
	near(t, "after 2 tau, A", Ramp{Volts: 2, Ohms: 4, Henries: 4}.At(2), 0.43, 0.005)
	kuphaldt := Ramp{Volts: 15, Ohms: 1, Henries: 1}
	near(t, "after 1 s, A", kuphaldt.At(1), 9.482, 0.0005)
	near(t, "after 2 s, A", kuphaldt.At(2), 12.97, 0.005)
}

// The mean of a ramp and the time to its limit, against sums of the current itself.
func TestRampMean(t *testing.T) {
	for _, r := range []Ramp{
		{Volts: 9, Ohms: 0.7, Henries: 4.2e-3, Limit: 7.5, Dwell: 5.5e-3}, // limited
		{Volts: 9, Ohms: 1.7, Henries: 4.2e-3, Limit: 7.5, Dwell: 5.5e-3}, // not limited
		{Volts: 12, Ohms: 0.5, Henries: 3e-3, Limit: 1, Dwell: 8e-3},      // limited early
	} {
		const n = 200_000
		sum, toLimit := 0.0, r.ToLimit()
		for i := range n {
			sum += r.At((float64(i) + 0.5) / n * toLimit)
		}
		near(t, "mean, A", r.Mean(), sum/n, 1e-8)
		if toLimit < r.Dwell {
			near(t, "current at the limit, A", r.At(toLimit), r.Limit, 1e-9)
		}
		near(t, "current at the end, A", r.End(), math.Min(r.At(r.Dwell), r.Limit), 0)
	}
	for _, r := range []Ramp{{Volts: 0, Ohms: 1, Henries: 1, Limit: 5, Dwell: 1},
		{Volts: 9, Ohms: math.Inf(1), Henries: 1, Limit: 5, Dwell: 1}} {
		if r.End() != 0 || r.Mean() != 0 {
			t.Errorf("%+v charges to %g A, mean %g", r, r.End(), r.Mean())
		}
	}
}

// The parallel RLC response against small steps of its differential equation: light damping, near critical, a fouled
// plug.
func TestAvailableAgainstSteps(t *testing.T) {
	side := Secondary{Henries: 4.2e-3, Ratio: 95, Farads: 70e-12, Transfer: 0.65, Clamp: 1e6}
	critical := side.Ratio * math.Sqrt(side.Henries/side.Farads) / 2
	for _, ohms := range []float64{math.Inf(1), 5e6, 1.001 * critical, critical, 0.999 * critical, 0.3e6, 0.04e6} {
		const amps = 6
		l, dt := side.Henries*side.Ratio*side.Ratio, 2e-9
		v, i, peak := 0.0, math.Sqrt(side.Transfer)*amps/side.Ratio, 0.0
		for range 80_000 { // 160 us
			v += dt / side.Farads * (i - v/ohms) // semi-implicit Euler keeps the energy
			i -= dt / l * v
			peak = math.Max(peak, v)
		}
		near(t, "peak, V", side.Available(amps, ohms), peak, 2e-3*peak)
	}
	side.Clamp = 380
	if got := side.Available(7.5, math.Inf(1)); got != 380*95 {
		t.Errorf("limited by the clamp: %g V, want clamp times turns", got)
	}
	if got := side.Available(0, math.Inf(1)); got != 0 {
		t.Errorf("without current: %g V", got)
	}
}

func near(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if !(math.Abs(got-want) <= within) {
		t.Errorf("%s: %g, want %g within %g", what, got, want, within)
	}
}
