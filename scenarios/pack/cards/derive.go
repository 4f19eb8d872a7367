package cards

import "math"

// copper is the resistivity of annealed copper at 20 °C in ohm mm2/m, 1/58 (IEC 60028:1925).
const copper = 0.017241

// WireOhms gives the resistance of a copper wire.
//
//	R = 0.017241 length / (pi/4 d^2), d = 0.127 mm x 92^((36-awg)/39)
//
// awg is the American wire gauge, 0 to 40, thinner with a greater number; meters the length; the result is in ohm at
// 20 °C. Sources: ASTM B258-02 (diameters), IEC 60028 (resistivity).
func WireOhms(awg, meters float64) float64 {
	d := 0.127 * math.Pow(92, (36-awg)/39)
	return copper * meters / (math.Pi / 4 * d * d)
}

// charge is the rest voltage of a flooded lead-acid battery of six cells at 26.7 °C by state of charge (table
// credited to Battery Council International).
var charge = [...]struct{ percent, volts float64 }{{0, 11.89}, {25, 12.06}, {50, 12.24}, {75, 12.45}, {100, 12.65}}

// BatteryEMF gives the rest voltage in V of a battery at a state of charge in percent, linear between the rows of
// the table and held at its ends outside 0 to 100.
func BatteryEMF(percent float64) float64 {
	if percent <= charge[0].percent {
		return charge[0].volts
	}
	for i := 1; i < len(charge); i++ {
		a, b := charge[i-1], charge[i]
		if percent <= b.percent {
			return a.volts + (b.volts-a.volts)*(percent-a.percent)/(b.percent-a.percent)
		}
	}
	return charge[len(charge)-1].volts
}
