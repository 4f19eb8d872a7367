package vehicle

import (
	"math"
	"slices"

	"nospark/scenarios/circuit"
	"nospark/scenarios/pack"
	"nospark/scenarios/pack/cards"
)

// Vehicle is one vehicle of a pack with its own part values. It remembers what it has computed, so it must not be used by two
// goroutines at once; clones may.
type Vehicle struct {
	l      *layout
	values [][]float64 // by part, aligned with its card
	net    circuit.Netlist
	pool   *pool
	dev    *devices // decoded from values when first needed
	blown  []bool   // by part: fuses that have blown
	states map[stateKey]*state
	engine *engine
	err    error   // the first circuit that could not be solved
	shown  []Shown // memory of Bands

	swapped map[[2]int]*Vehicle // with two parts exchanged
}

// Healthy is the vehicle with nominal values and no fault.
func Healthy(p *pack.Pack) *Vehicle {
	v := &Vehicle{l: newLayout(p), values: make([][]float64, len(p.Parts)), pool: &pool{}}
	for i := range p.Parts {
		v.values[i] = slices.Clone(p.Parts[i].Values)
	}
	return v
}

// Clone is an independent copy.
func (v *Vehicle) Clone() *Vehicle {
	c := &Vehicle{l: v.l, values: make([][]float64, len(v.values)), pool: &pool{}}
	for i := range v.values {
		c.values[i] = slices.Clone(v.values[i])
	}
	return c
}

// Spread moves the main value of every part by its tolerance times f(part), which lies in -1..1. Values a fault has opened or shorted
// stay as they are, so the order of Spread and Apply matters: spread first.
func (v *Vehicle) Spread(f func(part int) float64) {
	for i := range v.l.p.Parts {
		part := &v.l.p.Parts[i]
		if part.Tolerance == 0 || part.Kind.Main < 0 {
			continue
		}
		v.values[i][part.Kind.Main] *= 1 + part.Tolerance*f(i)
	}
	v.forget()
}

// Apply hides a fault of the given severity, 0 to 1.
func (v *Vehicle) Apply(f pack.Fault, severity float64) {
	for _, s := range f.Set {
		v.values[s.Part][s.Param] = s.At(severity)
	}
	v.forget()
}

// become turns the vehicle into a copy of another of the same pack with a fault. What has been settled stays as long as only values of the
// high-tension side change, which no phase depends on.
func (v *Vehicle) become(other *Vehicle, f pack.Fault, severity float64) {
	same := true
	for i := range v.values {
		for k, want := range other.values[i] {
			for _, s := range f.Set {
				if s.Part == i && s.Param == k {
					want = s.At(severity)
				}
			}
			if math.Float64bits(want) != math.Float64bits(v.values[i][k]) { // by bits: a value left out is NaN
				v.values[i][k] = want
				same = same && v.l.lofty[i][k]
			}
		}
	}
	if !same {
		v.forget()
		return
	}
	v.forgetBehaviour()
	v.decode()
}

func (v *Vehicle) forget() {
	v.forgetStates()
	v.forgetBehaviour()
	v.blown, v.err = nil, nil
}

// forgetBehaviour forgets what follows from the settled states.
func (v *Vehicle) forgetBehaviour() {
	for _, other := range v.swapped {
		other.forgetStates()
	}
	v.dev, v.engine, v.swapped = nil, nil, nil
}

func (v *Vehicle) forgetStates() {
	for _, st := range v.states {
		v.release(st)
	}
	clear(v.states)
}

// value reads a parameter by its card's name.
func (v *Vehicle) value(part int, name string) float64 {
	return v.values[part][v.l.p.Parts[part].Kind.Param(name)]
}

// is reads a boolean parameter.
func (v *Vehicle) is(part int, name string) bool { return v.value(part, name) != 0 }

// charged is the battery's emf: given, or from its state of charge.
func (v *Vehicle) charged(part int) float64 {
	if emf := v.value(part, "emf_volts"); !math.IsNaN(emf) {
		return emf
	}
	return cards.BatteryEMF(v.value(part, "charge_percent"))
}

// SteinhartOhms is the resistance of a thermistor: 1/T = A + B ln R + C (ln R)^3 solved for R by Cardano's formula.
// celsius in °C, coefficients in 1/K, result in ohms. Source of the form: Steinhart & Hart; of Cardano's formula: any algebra text.
func SteinhartOhms(celsius, a, b, c float64) float64 {
	y := a - 1/(celsius+273.15)
	if c == 0 {
		return math.Exp(-y / b)
	}
	half := y / (2 * c)
	root := math.Sqrt(math.Pow(b/(3*c), 3) + half*half)
	return math.Exp(math.Cbrt(root-half) - math.Cbrt(root+half))
}

// SteinhartCelsius is the temperature of a thermistor of the given resistance, the inverse of SteinhartOhms.
func SteinhartCelsius(ohms, a, b, c float64) float64 {
	x := math.Log(ohms)
	return 1/(a+b*x+c*x*x*x) - 273.15
}
