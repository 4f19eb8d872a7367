// Package coil is the physics of an ignition coil: how its current rises while it is charged, what its secondary offers
// when the switch opens, what a gap needs, and (Discharge) both followed in time. It knows no packs and no faults.
// Start at Ramp and Secondary.
package coil

import "math"

// Ramp is the charging of a coil: current from 0 through L towards volts/ohms, cut off at limit.
type Ramp struct {
	Volts, Ohms float64 // Thevenin equivalent that drives the inductance
	Henries     float64
	Limit       float64 // amperes
	Dwell       float64 // seconds
}

// tau is the time constant L/R in seconds.
func (r Ramp) tau() float64 { return r.Henries / r.Ohms }

// At is the current after t seconds of unlimited charging: V/R (1 - e^(-tR/L)). Source: OpenStax University Physics 2,
// "RL Circuits".
func (r Ramp) At(t float64) float64 {
	if !(r.Volts > 0) || math.IsInf(r.Ohms, 1) {
		return 0
	}
	return -r.Volts / r.Ohms * math.Expm1(-t/r.tau())
}

// Until is how long the unlimited ramp takes to a current of i amperes, the inverse of At; +Inf when it never does.
func (r Ramp) Until(i float64) float64 {
	if x := i * r.Ohms / r.Volts; r.Volts > 0 && x < 1 {
		return -r.tau() * math.Log1p(-x)
	}
	return math.Inf(1)
}

// ToLimit is how long the ramp lasts: the dwell, or the time at which the limit is reached.
func (r Ramp) ToLimit() float64 {
	if r.Volts/r.Ohms <= r.Limit {
		return r.Dwell
	}
	return math.Min(r.Dwell, -r.tau()*math.Log1p(-r.Limit*r.Ohms/r.Volts))
}

// End is the current when the coil is switched off, amperes.
func (r Ramp) End() float64 { return math.Min(r.At(r.Dwell), r.Limit) }

// Mean is the average current during the ramp (without the time at the limit): V/R (1 - tau/t (1 - e^(-t/tau))).
func (r Ramp) Mean() float64 {
	t := r.ToLimit()
	if !(r.Volts > 0) || math.IsInf(r.Ohms, 1) || t <= 0 {
		return 0
	}
	return r.Volts/r.Ohms - r.At(t)*r.tau()/t
}

// Secondary is the high-tension side of a coil at the moment of switching off.
type Secondary struct {
	Henries  float64 // primary inductance
	Ratio    float64 // Secondary to primary turns
	Farads   float64 // of the secondary
	Transfer float64 // share of the energy that arrives
	Clamp    float64 // Volts at the primary switch
}

// Available is the highest voltage that i amperes at switch-off raise with ohms across the secondary (+Inf for none).
//
//	parallel RLC: C v'' + v'/R + v/L = 0, v(0) = 0, v'(0) = i0/C, i0 = sqrt(transfer) i / N, L = N^2 Lp
//
// limited by clamp x N. Source: natural response of the parallel RLC circuit, Alexander & Sadiku, Fundamentals of
// Electric Circuits.
func (s Secondary) Available(i, ohms float64) float64 {
	if i <= 0 {
		return 0
	}
	l := s.Henries * s.Ratio * s.Ratio
	w0 := 1 / math.Sqrt(l*s.Farads)
	alpha := 1 / (2 * ohms * s.Farads) // 0 without a shunt
	slope := math.Sqrt(s.Transfer) * i / s.Ratio / s.Farads
	return math.Min(peak(slope, alpha, w0), s.Clamp*s.Ratio)
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

// Energy is what i amperes leave for the spark, joules: transfer x L i^2 / 2.
func (s Secondary) Energy(i float64) float64 { return s.Transfer * s.Henries * i * i / 2 }

// BurnVolts is what a burning spark keeps across its gap.
//
//	U = 500 V + 100 V p d, p in bar, d in mm
//
// 1 kV at idle with a plug of 1 mm, more in dense mixture and across a worn gap. Common practice, no source: spark
// lines at idle lie near 1 to 2 kV.
func BurnVolts(gapMM, bar float64) float64 { return 500 + 100*bar*gapMM }

// Duration is how long a spark burns that i amperes at switch-off have left after breakdown at needs volts, seconds:
// the rest of the energy falls along an RL circuit against the burn voltage.
//
//	i2 = sqrt(2 (transfer L i^2/2 - C needs^2/2) / L2), t = L2/R ln(1 + i2 R/U)
//
// ohms in series with the spark, winding included; burn in volts; 0 when nothing is left. Source: RL circuit with a
// constant counter-voltage, textbook.
func (s Secondary) Duration(i, needs, burn, ohms float64) float64 {
	left := s.Energy(i) - s.Farads*needs*needs/2
	if !(left > 0) || math.IsInf(ohms, 1) {
		return 0
	}
	l2 := s.Henries * s.Ratio * s.Ratio
	i2 := math.Sqrt(2 * left / l2)
	return l2 / ohms * math.Log1p(i2*ohms/burn)
}

// Fading is the part of Duration in which less than the current flows that keeps a spark alive: an oscilloscope shows a
// line that is shorter by it.
//
//	t = L2/R ln(1 + hold R/U)
func (s Secondary) Fading(burn, ohms float64) float64 {
	if math.IsInf(ohms, 1) {
		return 0
	}
	return s.Henries * s.Ratio * s.Ratio / ohms * math.Log1p(holdAmps*ohms/burn)
}

// Breakdown is the voltage at which a gap in air breaks down in a uniform field.
//
//	V = 24.22 kV X + 6.08 kV sqrt(X), X = 293 p d / (760 T), p in torr, d in cm, T in kelvin
//
// gap in mm, pressure in bar absolute, temperature in kelvin; result in volts. Real electrodes need less: multiply by a
// plug's electrode factor. Source: Naidu & Kamaraju, High Voltage Engineering (attribution and density form from
// memory).
func Breakdown(gapMM, bar, kelvin float64) float64 {
	const torrPerBar = 750.0616827
	x := 293 * bar * torrPerBar * (gapMM / 10) / (760 * kelvin)
	return 24.22e3*x + 6.08e3*math.Sqrt(x)
}

// Open air around a rotor or a spark tester.
const (
	AirBar    = 1.01325
	AirKelvin = 293
)
