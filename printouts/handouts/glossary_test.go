package handouts

import (
	"testing"

	"nospark/printouts/wording"
	"nospark/scenarios/handout"
	"nospark/scenarios/lab"
)

// TestExplained: short words are explained where a lab uses them, as whole words only. Terms: SAE J1930, from memory.
func TestExplained(t *testing.T) {
	check := func(want string, labels ...string) {
		t.Helper()
		var ref handout.Reference
		for _, l := range labels {
			ref.Points = append(ref.Points, lab.Point{Label: l})
		}
		if got := explained(ref); got != want {
			t.Errorf("%q: %q, want %q", labels, got, want)
		}
	}
	check("**Words:** PCM powertrain control module; ECT engine coolant temperature sensor.",
		"ECT signal at the PCM's input", "PCM feed")
	check("", "battery", "MAPPED")
}

// TestInstrumentNamedOnce: a test's name loses the instrument that a heading names, and gains none that it has
// itself.
func TestInstrumentNamedOnce(t *testing.T) {
	check := func(want, label, meter, condition, headMeter, headCondition string) {
		t.Helper()
		r := handout.SmallRow{Label: label, Meter: meter, Condition: condition}
		if got := TestText(r, headMeter, headCondition); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
	check("ICM unplugged: battery + to its ground pin", "ICM unplugged: volts, battery + to its ground pin",
		"voltmeter", "key on", "voltmeter", "key on")
	check("ICM unplugged: volts, battery + to its ground pin; voltmeter, key on",
		"ICM unplugged: volts, battery + to its ground pin", "voltmeter", "key on", "", "")
	check("Engine speed; scan tool, cranking", "Engine speed", "scan tool, engine speed", "cranking", "", "")
	check("Spark tester on plug lead 1; cranking", "Spark tester on plug lead 1", "spark tester", "cranking", "", "")
}

func TestSigned(t *testing.T) {
	for text, want := range map[string]string{"volts to battery -, max hold": "volts to battery\u00a0-, max hold",
		"+ to - wire": "+ to\u00a0- wire", "feed": "feed"} {
		if got := wording.KeepSigns(text); got != want {
			t.Errorf("%q: %q, want %q", text, got, want)
		}
	}
}

func TestVehicleText(t *testing.T) {
	got := Vehicle([]handout.VehicleFact{{Name: "Vehicle", Value: "training vehicle, 1.8 liters"},
		{Name: "engine", Value: "warm."}})
	if want := "Training vehicle, 1.8 liters. **Engine:** warm."; got != want {
		t.Errorf("%q, want %q", got, want)
	}
}
