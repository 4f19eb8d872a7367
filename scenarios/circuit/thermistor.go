package circuit

import "math"

// SteinhartOhms is the resistance of a thermistor: 1/T = A + B ln R + C (ln R)^3 solved for R by Cardano's formula.
// celsius in °C, coefficients in 1/K, result in ohms. Source of the form: Steinhart & Hart; of Cardano's formula: any
// algebra text.
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
