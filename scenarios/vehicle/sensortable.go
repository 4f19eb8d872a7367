package vehicle

import (
	"math"
	"slices"

	"nospark/scenarios/circuit"
	"nospark/scenarios/pack"
	"nospark/scenarios/pack/cards"
)

// SensorTable says what good temperature sensors give at which temperature, each with its own pull-up: one table for
// all that give the same.
type SensorTable struct {
	Sensors []Sensor
	Rows    []SensorRow
}

// Sensor is a thermistor at an input of the controller.
type Sensor struct {
	Label    string  // of the part: "ECT"
	Measures string  // "coolant"
	Celsius  float64 // today
}

// SensorRow is a temperature, the sensor's resistance at it, and the volts at the controller's input with the key on.
type SensorRow struct{ Celsius, Ohms, Volts float64 }

// tabled are the temperatures of a sensor table, °C.
var tabled = []float64{-20, 0, 20, 25, 30, 40, 60, 80, 85, 90, 100, 120}

// inputs are the controller's pins that thermistors hang on, and what those measure.
var inputs = [...]struct{ pin, measures string }{{"ect", "coolant"}, {"iat", "intake air"}}

// SensorTables makes the tables of a pack's good vehicle: it gives the sensor one temperature after the other and reads
// its resistance and the input's voltage as a meter would. None without a controller or a condition with the key on.
func SensorTables(p *pack.Pack) []SensorTable {
	v := Healthy(p)
	on := v.keyOn()
	if v.l.control < 0 || on < 0 {
		return nil
	}
	var list []SensorTable
	for _, in := range inputs {
		part := v.sensorAt(in.pin)
		if part < 0 {
			continue
		}
		s := Sensor{p.Parts[part].Label, in.measures, v.value(part, "temperature_celsius")}
		rows := v.sensorRows(part, v.named(v.l.control, in.pin), on)
		same := slices.IndexFunc(list, func(t SensorTable) bool { return slices.EqualFunc(t.Rows, rows, alike) })
		if same < 0 {
			list, same = append(list, SensorTable{Rows: rows}), len(list)
		}
		list[same].Sensors = append(list[same].Sensors, s)
	}
	return list
}

// alike reports whether two sensors give the same as far as anybody is told: what the other one draws from the
// reference moves its volts by a few millivolts.
func alike(a, b SensorRow) bool {
	return a.Celsius == b.Celsius && a.Ohms == b.Ohms && math.Abs(a.Volts-b.Volts) < 0.01
}

// sensorRows reads a sensor and its input at every temperature.
func (v *Vehicle) sensorRows(part int, input circuit.Node, condition int) []SensorRow {
	w := v.Clone()
	var rows []SensorRow
	for _, celsius := range tabled {
		w.values[part][v.l.p.Parts[part].Kind.Param("temperature_celsius")] = celsius
		w.forget()
		w.blowFuses()
		row := SensorRow{Celsius: celsius, Ohms: w.decodePair(part, "ntc").ohms}
		row.Volts = w.plain(condition).volts(input, w.node(w.l.p.Reference))
		rows = append(rows, row)
	}
	return rows
}

// keyOn is the first condition with the key on and the engine at rest in which nothing is provoked; -1 for none.
func (v *Vehicle) keyOn() int {
	return slices.IndexFunc(v.l.p.Conditions, func(c pack.Condition) bool {
		return c.Key == cards.KeyRun && !c.Running() && c.Provoke == ""
	})
}
