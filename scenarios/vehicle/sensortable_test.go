package vehicle

import (
	"slices"
	"testing"

	"nospark/scenarios/pack"
)

// What the booklet's table of sensors says is what the service tables say, and what the bench's meters read on the day.
// Table A gives the resistances. Table B is of another sensor, behind 1.000 kohm at 5 V; the two differ by 0.04 V.
func TestSensorTables(t *testing.T) {
	tableB := map[float64]float64{-20: 4.696, 0: 4.275, 20: 3.571, 40: 2.701, 60: 1.867, 80: 1.221, 100: 0.788}
	packs := 0
	for _, name := range pack.Builtin() {
		b := loaded(t, name)
		tables := SensorTables(b.p)
		if b.v.l.control < 0 {
			if len(tables) > 0 {
				t.Errorf("%s: %d tables of sensors without a controller", name, len(tables))
			}
			continue
		}
		packs++
		if len(tables) != 1 || len(tables[0].Sensors) != 2 {
			t.Fatalf("%s: %+v, want one table for the sensors of coolant and air, which are alike", name, tables)
		}
		seen := 0
		for _, row := range tables[0].Rows {
			for _, a := range tableA {
				if a.celsius == row.Celsius {
					near(t, name+": ohm by table A", row.Ohms, a.ohms, 2e-3*a.ohms)
					seen++
				}
			}
			if volts, is := tableB[row.Celsius]; is {
				near(t, name+": volts by table B", row.Volts, volts, 0.045)
				seen++
			}
		}
		if want := 16; seen != want {
			t.Errorf("%s: %d values of the service tables, want %d", name, seen, want)
		}
		for i, test := range []string{"volts.pcm_ect.on", "volts.pcm_iat.on"} {
			sensor := tables[0].Sensors[i]
			at := slices.IndexFunc(tables[0].Rows, func(r SensorRow) bool { return r.Celsius == sensor.Celsius })
			if at < 0 {
				t.Fatalf("%s: no row for the %g °C of the %s", name, sensor.Celsius, sensor.Measures)
			}
			near(t, name+": "+test, b.read(test).Number, tables[0].Rows[at].Volts, 0.005)
		}
	}
	if packs != 4 {
		t.Errorf("%d packs with sensors, want 4", packs)
	}
}
