package vehicle

import (
	"math"
	"testing"

	"nospark/scenarios/pack"
	"nospark/scenarios/vehicle/coil"
)

// torr760 is 760 torr in bar.
const torr760 = 1.01325

// The uniform-field form in air at 760 torr and 293 K.
func TestBreakdownUniformField(t *testing.T) {
	check := func(source string, mm, kilovolts, share float64) {
		t.Helper()
		near(t, source, coil.Breakdown(mm, torr760, 293)/1e3, kilovolts, share*kilovolts)
	}
	// A worked example with these constants, after Naidu & Kamaraju, High Voltage Engineering (attribution from
	// memory).
	check("43.45 kV/cm at 1 mm", 1, 4.345, 1e-3)
	check("25.58 kV/cm at 20 cm", 200, 20*25.58, 1e-3)
	// The same form by hand (derived).
	check("0.6 mm", 0.6, 2.94, 2e-3)
	check("2 mm", 2, 7.56, 2e-3)
	check("10 mm", 10, 30.30, 2e-3)
	// Independent: 1 cm of nitrogen at 101.3 kPa, about 30.4 kV (Raju).
	check("1 cm of nitrogen", 10, 30.4, 0.01)
	// Sphere gaps of 10 cm diameter, peak kV (AIEE table): the form lies within 6 % of it above 3 mm. (Near 1.5 mm it
	// is up to 20 % high; the table has no row there.)
	for _, c := range []struct{ kilovolts, cm float64 }{{10, 0.29}, {20, 0.60}, {25, 0.77}, {30, 0.94}} {
		check("AIEE sphere gap", 10*c.cm, c.kilovolts, 0.06)
	}
}

// Density is what counts: twice the pressure at twice the temperature changes nothing, and twice the pressure is twice
// the gap.
func TestBreakdownByDensity(t *testing.T) {
	near(t, "hot and dense", coil.Breakdown(1, 10, 600), coil.Breakdown(1, 5, 300), 1e-9)
	near(t, "dense for wide", coil.Breakdown(1, 10, 300), coil.Breakdown(2, 5, 300), 1e-9)
}

// Denton, Automobile Electrical and Electronic Systems (chapter abstract): a gap of 1 mm needs 3-4 kV at 1 bar, 8-10 kV
// in the cylinder at a compression of 8:1, up to 30 kV with high compression or a lean mixture, and systems offer up to
// 40 kV. In the cylinder the pressure at the spark is not said, so idle, cranking and load together must lie around
// 8-10 kV and below 30 kV.
func TestRequiredVoltageRanges(t *testing.T) {
	for _, name := range pack.Builtin() {
		b := loaded(t, name)
		for _, plug := range b.v.l.plugs {
			factor := b.v.value(plug, "electrode_factor")
			near(t, name+": 1 mm in open air, kV", factor*coil.Breakdown(1, torr760, 293)/1e3, 3.5, 0.5)
			least, most := math.Inf(1), 0.0
			for _, c := range b.p.Conditions {
				if c.Running() || c.Cranking() {
					kilovolts := factor * coil.Breakdown(1, c.PressureBar, c.TemperatureKelvin) / 1e3
					least, most = math.Min(least, kilovolts), math.Max(most, kilovolts)
				}
			}
			if least > 10 || most < 8 || most > 30 {
				t.Errorf("%s: 1 mm needs %.3g to %.3g kV in the cylinder, want around 8-10 and at most 30", name, least,
					most)
			}
		}
		for c, cond := range b.p.Conditions {
			for i := range b.v.l.plugs {
				if cond.Running() || cond.Cranking() {
					if offers := b.v.cylinder(b.v.plain(c), i).available; offers > 40e3 {
						t.Errorf("%s %s: %g V offered, more than 40 kV", name, cond.ID, offers)
					}
				}
			}
		}
	}
}

// A parameter set that behaves, derived for this project with the closed forms.
func TestParameterSet(t *testing.T) {
	side := coil.Secondary{Henries: 4.2e-3, Ratio: 95, Farads: 70e-12, Transfer: 0.65, Clamp: 380}
	offered := func(extraOhms, shunt float64) float64 {
		r := coil.Ramp{Volts: 10.2 - 1.2, Ohms: 0.7 + extraOhms, Henries: side.Henries, Limit: 7.5, Dwell: 5.5e-3}
		return side.Available(r.End(), shunt) / 1e3
	}
	none := math.Inf(1)
	near(t, "cranking, kV", offered(0, none), 36.1, 0.1)
	near(t, "1 ohm in the feed, kV", offered(1, none), 29.5, 0.1)
	near(t, "2 ohm in the feed, kV", offered(2, none), 20, 0.5)
	near(t, "0.3 Mohm shunt, kV", offered(0, 0.3e6), 15, 0.5)
	for _, c := range []struct{ bar, kelvin, fresh, worn float64 }{{9, 480, 13.7, 30}, {5, 520, 7.8, 16.5},
		{17, 680, 17.7, 39}} {
		near(t, "1.0 mm, kV", 0.78*coil.Breakdown(1, c.bar, c.kelvin)/1e3, c.fresh, 0.1)
		near(t, "2.4 mm, kV", 0.78*coil.Breakdown(2.4, c.bar, c.kelvin)/1e3, c.worn, 0.5)
	}
}
