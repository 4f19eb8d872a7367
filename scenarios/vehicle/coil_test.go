package vehicle

import (
	"math"
	"testing"
)

// Energy ratings of ignition transistors by inductance and current (data sheets): what is stored is L i^2 / 2.
func TestStoredEnergy(t *testing.T) {
	for _, c := range []struct{ millihenries, amps, millijoules float64 }{
		{3.0, 14.2, 300}, {3.0, 10.6, 170}, {3.0, 11.5, 200}, {3.0, 8.9, 120}, {0.670, 38.5, 500}, {0.670, 30, 300},
	} {
		side := secondary{henries: 1e-3 * c.millihenries, transfer: 1}
		near(t, "stored, mJ", 1e3*side.energy(c.amps), c.millijoules, 0.015*c.millijoules)
	}
	// The transfer is a share of it.
	near(t, "two thirds", secondary{henries: 3e-3, transfer: 2.0 / 3}.energy(2), 4e-3, 1e-12)
}

// Charging coil of 4 ohm and 6 mH at 12 V: 3 A, 27 mJ, 18 kV when cut in 1 us. Source: Alexander & Sadiku, Fundamentals of Electric
// Circuits, automobile ignition example.
func TestChargingCoil(t *testing.T) {
	r := ramp{volts: 12, ohms: 4, henries: 6e-3, limit: math.Inf(1), dwell: 1}
	near(t, "final current, A", r.end(), 3, 1e-9)
	near(t, "energy, J", secondary{henries: r.henries, transfer: 1}.energy(r.end()), 27e-3, 1e-9)
	near(t, "cut in 1 us, V", r.henries*r.end()/1e-6, 18e3, 1e-3)
}

// RL circuits: current of 2.0 V, 4.0 ohm, 4.0 H after two time constants (OpenStax University Physics 2); 15 V, 1 ohm, 1 H after 1 s and
// 2 s (Kuphaldt, Lessons in Electric Circuits I).
func TestRamp(t *testing.T) {
	near(t, "after 2 tau, A", ramp{volts: 2, ohms: 4, henries: 4}.at(2), 0.43, 0.005)
	kuphaldt := ramp{volts: 15, ohms: 1, henries: 1}
	near(t, "after 1 s, A", kuphaldt.at(1), 9.482, 0.0005)
	near(t, "after 2 s, A", kuphaldt.at(2), 12.97, 0.005)
}

// The mean of a ramp and the time to its limit, against sums of the current itself.
func TestRampMean(t *testing.T) {
	for _, r := range []ramp{
		{volts: 9, ohms: 0.7, henries: 4.2e-3, limit: 7.5, dwell: 5.5e-3}, // limited
		{volts: 9, ohms: 1.7, henries: 4.2e-3, limit: 7.5, dwell: 5.5e-3}, // not limited
		{volts: 12, ohms: 0.5, henries: 3e-3, limit: 1, dwell: 8e-3},      // limited early
	} {
		const n = 200_000
		sum, toLimit := 0.0, r.toLimit()
		for i := range n {
			sum += r.at((float64(i) + 0.5) / n * toLimit)
		}
		near(t, "mean, A", r.mean(), sum/n, 1e-8)
		if toLimit < r.dwell {
			near(t, "current at the limit, A", r.at(toLimit), r.limit, 1e-9)
		}
		near(t, "current at the end, A", r.end(), math.Min(r.at(r.dwell), r.limit), 0)
	}
	for _, r := range []ramp{{volts: 0, ohms: 1, henries: 1, limit: 5, dwell: 1}, {volts: 9, ohms: math.Inf(1), henries: 1, limit: 5, dwell: 1}} {
		if r.end() != 0 || r.mean() != 0 {
			t.Errorf("%+v charges to %g A, mean %g", r, r.end(), r.mean())
		}
	}
}

// The parallel RLC response against small steps of its differential equation: light damping, near critical, a fouled plug.
func TestAvailableAgainstSteps(t *testing.T) {
	side := secondary{henries: 4.2e-3, ratio: 95, farads: 70e-12, transfer: 0.65, clamp: 1e6}
	critical := side.ratio * math.Sqrt(side.henries/side.farads) / 2
	for _, ohms := range []float64{math.Inf(1), 5e6, 1.001 * critical, critical, 0.999 * critical, 0.3e6, 0.04e6} {
		const amps = 6
		l, dt := side.henries*side.ratio*side.ratio, 2e-9
		v, i, peak := 0.0, math.Sqrt(side.transfer)*amps/side.ratio, 0.0
		for range 80_000 { // 160 us
			v += dt / side.farads * (i - v/ohms) // semi-implicit Euler keeps the energy
			i -= dt / l * v
			peak = math.Max(peak, v)
		}
		near(t, "peak, V", side.available(amps, ohms), peak, 2e-3*peak)
	}
	side.clamp = 380
	if got := side.available(7.5, math.Inf(1)); got != 380*95 {
		t.Errorf("limited by the clamp: %g V, want clamp times turns", got)
	}
	if got := side.available(0, math.Inf(1)); got != 0 {
		t.Errorf("without current: %g V", got)
	}
}
