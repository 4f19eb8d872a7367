package pack

import (
	"nospark/scenarios/pack/cards"
	"nospark/scenarios/strict"
)

// Gas in the gap when a condition gives none: open air in the shop.
const (
	shopBar    = 1.013
	shopKelvin = 293
)

func (r *reader) readConditions(top *strict.Table) {
	for _, t := range r.list(top, "condition", 1, MaxConditions) {
		c := Condition{ID: r.conditions.id(t), Line: t.Line("")}
		c.Label = t.TextOr("label", c.ID)
		c.Key = cards.KeyByName(t.Choice("key", cards.KeyNames()))
		c.SpeedRPM = t.NumberOr("speed_rpm", "1/min", 0, 20000, 0)
		c.ChargingVolts = t.NumberOr("charging_volts", "V", 0, 100, 0)
		c.PressureBar = t.NumberOr("pressure_bar", "bar", 0.1, 200, shopBar)
		c.TemperatureKelvin = t.NumberOr("temperature_kelvin", "K", 200, 3000, shopKelvin)
		c.SparkMillijoules = t.NumberOr("spark_millijoules", "mJ", 0, 1000, 0)
		c.SparkMilliseconds = t.NumberOr("spark_milliseconds", "ms", 0, 10, 0)
		c.Provoke = t.ChoiceOr("provoke", Provocations, "")
		t.Finish()
		if c.Running() && c.Key != cards.KeyRun && c.Key != 0 {
			t.Fail("speed_rpm", `with key = "crank" the starter sets the speed`,
				"the engine runs by itself only with key = %q",
				"run")
		}
		if c.ChargingVolts > 0 && !c.Running() {
			t.Fail("charging_volts", "give speed_rpm", "nothing charges while the engine does not run")
		}
		r.pack.Conditions = append(r.pack.Conditions, c)
	}
}
