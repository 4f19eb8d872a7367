package lab

// SensorTable says what good temperature sensors of the vehicle give, temperature by temperature: one table for all
// that give the same.
type SensorTable struct {
	Sensors []Sensor    `json:"sensors"`
	Rows    []SensorRow `json:"rows"`
}

// Sensor is a temperature sensor at an input of the controller.
type Sensor struct {
	Label    string  `json:"label"`    // of the part: "ECT"
	Measures string  `json:"measures"` // "coolant"
	Celsius  float64 `json:"celsius"`  // today
}

// SensorRow is a temperature, the sensor's resistance at it, and the volts at its input with the key on.
type SensorRow struct {
	Celsius float64 `json:"celsius"`
	Ohms    float64 `json:"ohms"`
	Volts   float64 `json:"volts"`
}
