package printouts

import (
	"encoding/json"
	"fmt"
	"math/rand"
	"os"
	"testing"

	"nospark/scenarios/handout"
	"nospark/scenarios/lab"
)

// sample is an invented lab of the largest size that must fit two pages a worksheet and one page a readings sheet:
// 28 points, 14 columns, 40 tests beside the grid, a record of 14 lines. Lines and letters follow from the sheet
// alone; only the texts of the readings depend on the fault.
func sample(t testing.TB, students int, fault int64) handout.Handout {
	t.Helper()
	h := handout.Handout{
		Program: "Example Technical Program", Lab: "week05", Title: "Cranks, but does not start",
		Date: "2026-10-05", Paper: "letter", Rows: 14,
		Reference: sampleReference(t),
	}
	for i := range students {
		w, r := sampleSheet(h.Reference, int64(i), fault)
		w.Student, w.Name, w.Section = fmt.Sprintf("s%03d", i+1), sampleName(i), "A"
		h.Worksheets, h.Readings = append(h.Worksheets, w), append(h.Readings, r)
	}
	for i := range h.Worksheets { // readings are passed round
		if students > 1 {
			h.Worksheets[i].Holder = h.Worksheets[(i+1)%students].Code
		}
	}
	return h
}

// sampleName gives invented names; the first ones are in scripts that a class may bring.
func sampleName(i int) string {
	names := []string{"Testina Example", "Δοκιμή Παράδειγμα", "Пример Тестов", "Nguyễn Thử Nghiệm", "例 試",
		"Ó Sample-Müller, Ærø"}
	if i < len(names) {
		return names[i]
	}
	return fmt.Sprintf("Student Number %d", i+1)
}

func sampleReference(t testing.TB) handout.Reference {
	t.Helper()
	b, err := os.ReadFile("testdata/circuit.json")
	if err != nil {
		t.Fatal(err)
	}
	ref := handout.Reference{
		PackTitle: "Distributor ignition with control module, Hall sensor and engine controller",
		Vehicle: []handout.VehicleFact{{Name: "vehicle", Value: "invented sedan, 2.2 l, four cylinders"},
			{Name: "odometer", Value: "148,200 km"}, {Name: "last service", Value: "plugs at 120,000 km"}},
		Meters: []handout.MeterNote{
			{Meter: "voltmeter", Note: "dc volts, 10 Mohm, shows the average of what changes quickly"},
			{Meter: "meter on Hz", Note: "counts pulses that swing by 1 V or more"},
			{Meter: "small lamp", Note: "3 W at 12 V; loads the circuit with about 0.25 A"},
			{Meter: "ohmmeter", Note: "needs a dead circuit; shows OL above its range and \"live circuit\" where " +
				"there is voltage"},
			{Meter: "spark tester", Note: "gap in open air between the lead's end and ground: needs 25 kV for a " +
				"strong spark, 8 kV for a weak one"},
		},
	}
	if err := json.Unmarshal(b, &ref.Diagram); err != nil {
		t.Fatal(err)
	}
	for _, n := range ref.Diagram.Nodes {
		if n.Number > 0 {
			ref.Points = append(ref.Points,
				lab.Point{Number: n.Number, ID: n.ID, Label: n.Label, Role: "signal",
					Access: int64(n.Number%4) * 5})
		}
	}
	for _, s := range []struct {
		id, label, instrument string
		conditions            []string
		tenths                int64
	}{
		{"volts", "volts to battery -", "voltmeter", []string{"key off", "key on, engine off", "cranking", "idle",
			"loaded"}, 10},
		{"drop", "volts from battery +", "voltmeter", []string{"key on, engine off", "cranking"}, 10},
		{"peak", "max hold to battery -", "max-hold", []string{"cranking", "idle"}, 15},
		{"hertz", "hertz to battery -", "frequency", []string{"cranking", "idle"}, 15},
		{"lamp", "small lamp to battery +", "test-lamp", []string{"key on, engine off", "cranking"}, 20},
		{"load", "21 W lamp to battery +", "load-lamp", []string{"key on, engine off"}, 20},
	} {
		for _, c := range s.conditions {
			ref.Columns = append(ref.Columns,
				lab.Column{Sweep: s.id, Label: s.label, Instrument: s.instrument, Condition: c,
					Minutes: s.tenths})
		}
	}
	ref.Specs = []lab.SpecRow{
		{Where: "battery", Meter: "voltmeter", When: "key off", Good: "12.4 V to 12.7 V"},
		{Where: "feed", Meter: "volts to battery -", When: "key on, engine off; cranking; idle; loaded",
			Good: "at most 0.50 V below the battery reading printed beside it"},
		{Where: "ground", Meter: "voltmeter", When: "all", Good: "at most 0.20 V"},
		{Where: "reference", Meter: "voltmeter", When: "key on, engine off", Good: "4.8 V to 5.2 V"},
		{Where: "signal", Meter: "meter on Hz", When: "cranking", Good: "5 Hz to 15 Hz"},
		{Where: "Coil primary, both connectors off", Meter: "ohmmeter", When: "key off", Good: "0.4 ohm to 1.2 ohm"},
		{Where: "Spark at the coil tower", Meter: "spark tester", When: "cranking", Good: "strong spark"},
	}
	rarities := []string{"common", "occasional", "rare"}
	for i := range 22 {
		ref.Repairs = append(ref.Repairs, lab.Repair{
			Label: []string{"Replace the ignition module", "Clean and tighten the module ground",
				"Repair the wire from switch to coil", "Replace the plug leads as a set"}[i%4],
			Code:    fmt.Sprintf("%02d", (i*37+11)%100),
			Letters: string([]byte{"ACDEFHJKMN"[i%10], "PRTUVWXY"[i%8]}), Minutes: int64(50 + 35*i),
			Rarity: rarities[i%3],
		})
	}
	return ref
}

func sampleSheet(ref handout.Reference, sheet, fault int64) (handout.Worksheet, handout.ReadingsSheet) {
	lines := rand.New(rand.NewSource(sheet))
	texts := rand.New(rand.NewSource(1000*fault + sheet))
	code := fmt.Sprintf("K%03dQ", sheet)
	w := handout.Worksheet{Code: code, Complaint: "The engine cranks at normal speed but does not start. The " +
		"owner says that it stopped without warning in traffic."}
	r := handout.ReadingsSheet{Code: code}
	numbers := lines.Perm(900)
	next := 0
	take := func() int {
		next++
		letters := string([]byte{"ACDEFHJKMNPQRTUVWXY"[lines.Intn(19)], "ACDEFHJKMNPQRTUVWXY"[lines.Intn(19)]})
		l := handout.ReadingLine{Number: 100 + numbers[next], Letters: letters, Reading: sampleReading(texts)}
		if next%4 == 0 {
			l.Beside = "battery 12.56 V"
		}
		r.Lines = append(r.Lines, l)
		return l.Number
	}
	for p := range ref.Points {
		row := make([]handout.Cell, len(ref.Columns))
		for c := range row {
			if (p*7+c*3)%5 < 3 {
				row[c].Line = take()
			}
		}
		w.Grid = append(w.Grid, row)
	}
	for _, g := range []struct {
		heading, label, meter, condition string
		n                                int
	}{
		{"Components, unplugged", "Resistance of part %d, both terminals unplugged", "ohmmeter", "key off", 16},
		{"Currents", "Current in the wire to part %d", "clamp ammeter, peak", "idle", 6},
		{"Spark", "Spark at plug lead %d", "spark tester", "cranking", 8},
		{"Scan tool", "Value %d as the engine controller sees it", "scan tool", "idle", 6},
		{"Timing", "Timing on cylinder %d", "timing light", "idle", 4},
	} {
		table := handout.SmallTable{Heading: g.heading}
		for i := range g.n {
			condition := g.condition
			if g.heading == "Spark" && i%2 == 1 {
				condition = "idle"
			}
			table.Rows = append(table.Rows, handout.SmallRow{Label: fmt.Sprintf(g.label, i+1), Meter: g.meter,
				Condition: condition, Minutes: 20 + 5*int64(i%3), Line: take()})
		}
		w.Tables = append(w.Tables, table)
	}
	sortLines(r.Lines)
	return w, r
}

func sampleReading(r *rand.Rand) string {
	phrases := []string{"bright", "dim", "dark", "no spark", "engine does not run", "live circuit", "OL",
		"no communication"}
	if n := r.Intn(30); n < len(phrases) {
		return phrases[n]
	}
	return fmt.Sprintf("%.2f V", r.Float64()*14)
}

func sortLines(lines []handout.ReadingLine) {
	for i := range lines {
		for j := i; j > 0 && lines[j].Number < lines[j-1].Number; j-- {
			lines[j], lines[j-1] = lines[j-1], lines[j]
		}
	}
}
