package vehicle

import (
	"math"

	"nospark/scenarios/pack"
)

// What the eye makes of a lamp's mean voltage. Common practice, no source.
const (
	BrightVolts = 8.5
	DarkVolts   = 2.5
)

func brightness(volts float64) string {
	switch {
	case volts >= BrightVolts:
		return "bright"
	case volts < DarkVolts:
		return "dark"
	}
	return "dim"
}

// lit is the mean voltage of the lamp in a state.
func lit(st *state) float64 {
	volts := 0.0
	for _, ph := range st.mean {
		volts += ph.share * math.Abs(ph.Between(st.setup.lamp.red, st.setup.lamp.black))
	}
	return volts
}

// glance tells how bright a lamp is without settling the vehicle anew, where that is certain.
//
// A load between two points moves no voltage of a circuit of resistances and given sources by more than the voltage
// between these points itself, since what its current adds is highest at one of them and lowest at the other. So as
// long as that is little against the margin of every decision that the vehicle without the lamp has taken, the vehicle
// with the lamp takes the same ones. Speeds, dwells and coil currents follow the voltages and move them in turn, by
// less than three times as much; five times allows for that.
func (v *Vehicle) glance(t *pack.Test) (phrase string, sure bool) {
	l := v.lamp(t)
	if l.ohms == 0 || v.l.p.Conditions[t.Condition].Running() {
		return "", false
	}
	st := v.cached(v.arranged(t))
	moved := 0.0
	for _, sol := range st.own {
		volts, ohms := sol.Thevenin(l.red, l.black)
		if math.IsInf(ohms, 1) { // the lamp would join islands
			return "", false
		}
		moved = math.Max(moved, math.Abs(volts)*ohms/(ohms+l.ohms))
	}
	mean := 0.0
	for _, ph := range st.mean {
		volts, ohms := ph.Thevenin(l.red, l.black)
		mean += ph.share * math.Abs(volts) * l.ohms / (ohms + l.ohms)
	}
	doubt := 5*moved + 1e-6
	sure = doubt < st.margin && math.Abs(mean-BrightVolts) > doubt && math.Abs(mean-DarkVolts) > doubt
	return brightness(mean), sure
}
