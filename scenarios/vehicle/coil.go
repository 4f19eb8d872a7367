package vehicle

import "math"

// ramp is the charging of a coil: current from 0 through L towards volts/ohms, cut off at limit.
type ramp struct {
	volts, ohms float64 // Thevenin equivalent that drives the inductance
	henries     float64
	limit       float64 // amperes
	dwell       float64 // seconds
}

// tau is the time constant L/R in seconds.
func (r ramp) tau() float64 { return r.henries / r.ohms }

// at is the current after t seconds of unlimited charging: V/R (1 - e^(-tR/L)). Source: OpenStax University Physics 2, "RL Circuits".
func (r ramp) at(t float64) float64 {
	if !(r.volts > 0) || math.IsInf(r.ohms, 1) {
		return 0
	}
	return -r.volts / r.ohms * math.Expm1(-t/r.tau())
}

// toLimit is how long the ramp lasts: the dwell, or the time at which the limit is reached.
func (r ramp) toLimit() float64 {
	if r.volts/r.ohms <= r.limit {
		return r.dwell
	}
	return math.Min(r.dwell, -r.tau()*math.Log1p(-r.limit*r.ohms/r.volts))
}

// end is the current when the coil is switched off, amperes.
func (r ramp) end() float64 { return math.Min(r.at(r.dwell), r.limit) }

// mean is the average current during the ramp (without the time at the limit): V/R (1 - tau/t (1 - e^(-t/tau))).
func (r ramp) mean() float64 {
	t := r.toLimit()
	if !(r.volts > 0) || math.IsInf(r.ohms, 1) || t <= 0 {
		return 0
	}
	return r.volts/r.ohms - r.at(t)*r.tau()/t
}

// secondary is the high-tension side of a coil at the moment of switching off.
type secondary struct {
	henries  float64 // primary inductance
	ratio    float64 // secondary to primary turns
	farads   float64 // of the secondary
	transfer float64 // share of the energy that arrives
	clamp    float64 // volts at the primary switch
}

// available is the highest voltage that i amperes at switch-off raise with ohms across the secondary (+Inf for none).
//
//	parallel RLC: C v'' + v'/R + v/L = 0, v(0) = 0, v'(0) = i0/C, i0 = sqrt(transfer) i / N, L = N^2 Lp
//
// limited by clamp x N. Source: natural response of the parallel RLC circuit, Alexander & Sadiku, Fundamentals of Electric Circuits.
func (s secondary) available(i, ohms float64) float64 {
	if i <= 0 {
		return 0
	}
	l := s.henries * s.ratio * s.ratio
	w0 := 1 / math.Sqrt(l*s.farads)
	alpha := 1 / (2 * ohms * s.farads) // 0 without a shunt
	slope := math.Sqrt(s.transfer) * i / s.ratio / s.farads
	return math.Min(peak(slope, alpha, w0), s.clamp*s.ratio)
}

// peak is the first maximum of the response that starts at 0 with the given slope.
func peak(slope, alpha, w0 float64) float64 {
	zeta := alpha / w0
	switch {
	case math.Abs(zeta-1) < 1e-9: // critical: v = slope t e^(-alpha t), largest at 1/alpha
		return slope / alpha / math.E
	case zeta < 1:
		wd := w0 * math.Sqrt(1-zeta*zeta)
		t := math.Atan2(wd, alpha) / wd
		return slope / wd * math.Exp(-alpha*t) * math.Sin(wd*t)
	default:
		r := alpha * math.Sqrt(1-1/(zeta*zeta))
		// roots -alpha-r and -alpha+r; written so that nothing cancels far from critical
		slow := w0 * w0 / (alpha + r)
		fast := alpha + r
		t := math.Log(fast/slow) / (2 * r)
		return slope / (2 * r) * (math.Exp(-slow*t) - math.Exp(-fast*t))
	}
}

// energy is what i amperes leave for the spark, joules: transfer x L i^2 / 2.
func (s secondary) energy(i float64) float64 { return s.transfer * s.henries * i * i / 2 }

// Breakdown is the voltage at which a gap in air breaks down in a uniform field.
//
//	V = 24.22 kV X + 6.08 kV sqrt(X), X = 293 p d / (760 T), p in torr, d in cm, T in kelvin
//
// gap in mm, pressure in bar absolute, temperature in kelvin; result in volts. Real electrodes need less: multiply by a plug's electrode
// factor. Source: Naidu & Kamaraju, High Voltage Engineering (attribution and density form from memory).
func Breakdown(gapMM, bar, kelvin float64) float64 {
	const torrPerBar = 750.0616827
	x := 293 * bar * torrPerBar * (gapMM / 10) / (760 * kelvin)
	return 24.22e3*x + 6.08e3*math.Sqrt(x)
}

// Open air around a rotor or a spark tester.
const (
	airBar    = 1.01325
	airKelvin = 293
)
