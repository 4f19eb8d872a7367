package page

import (
	"fmt"
	"math"
	"testing"
	"time"

	"nospark/printouts/content"
	"nospark/printouts/vector"
)

// sampleDate is the date of all documents in these tests.
var sampleDate = time.Date(2026, time.March, 2, 8, 0, 0, 0, time.UTC)

// sample builds a document that uses every block once: a reference section, a sheet to write on, a readings sheet in
// columns, and a debrief. All names and figures in it are invented.
func sample(t testing.TB, o Options) []byte {
	t.Helper()
	o.Title, o.Date = "Sample sheets", sampleDate
	d := New(o)
	sampleReference(d)
	sampleSheet(d)
	sampleReadings(d)
	sampleDebrief(d)
	out, err := d.Bytes()
	if err != nil {
		t.Fatal(err)
	}
	return out
}

func sampleReference(d *Document) {
	f := d.Section(Frame{Name: "Class reference", Left: "Ignition lab 5", Right: "Class reference",
		Foot: "The same for everyone"})
	f.Title("No spark while cranking", "Class reference for lab 5: diagram, specifications, repairs")
	f.Para("The vehicle has a **distributorless** ignition with one coil for two cylinders. All voltages are " +
		"measured against the negative post of the battery unless the sheet says otherwise, and a reading such as " +
		"12.39 V comes with the battery’s own.")
	f.Cautions(content.Cautions{All: true})
	f.Heading("Specifications")
	t := Table{Columns: []Column{
		{Head: "Where", Width: 42, Bold: true}, {Head: "Instrument", Width: Natural}, {Head: "When", Width: Natural},
		{Head: "A good reading"},
	}, Zebra: true}
	t.Row("Switched feed", "voltmeter", "key on, engine off",
		"within 0.5 V of the battery voltage printed beside the reading")
	t.Row("Ground", "voltmeter", "cranking", "at most 0.2 V")
	t.Row("Sensor signal", "frequency counter", "cranking", "30 to 60 Hz; an unsteady figure counts as missing")
	t.Row("Coil primary", "ohmmeter, part unplugged", "key off", "0.4 to 0.8 Ω at 20 °C")
	f.Table(t)
	f.Heading("How to read the meter")
	f.Bullets("The voltmeter loads a circuit with 10 MΩ: a corroded ground looks fine to it.",
		"The test lamp draws a third of an ampere, and the same ground **fails** under it.",
		"“OL” means over range.")
	f.Heading("Symbols")
	f.Draw(34, sampleDrawing)
	f.Heading("How the lab works")
	f.Numbered("Write down the test and what a good reading would be.",
		"Ask your partner for that one line, and copy the letters and the reading.",
		"Judge it: + for good, − for bad.")
	f.Note("Remember", "A repair is right when every reading you took agrees with it **and** the others are ruled out.")
}

func sampleDrawing(c Canvas) {
	pen := Stroke(0.35)
	c.Rect(4, 6, 16, 9, Pen{Line: Black, Width: 0.35, Fill: Tint})
	c.Text(12, 10.5, "module", Style{Size: 8, Align: Center, Level: Middle})
	c.Arrow(20, 10.5, 32, 10.5, pen)
	c.Circle(38, 10.5, 4, Pen{Line: Blue, Width: 0.4, Fill: White})
	c.Text(38, 10.5, "7", Style{Size: 9, Bold: true, Color: Blue, Align: Center, Level: Middle})
	c.Polyline(Pen{Line: Black, Width: 0.35, Dash: Dashed}, vector.At(12, 15), vector.At(12, 24), vector.At(38, 24),
		vector.At(38, 14.5))
	var coil Path
	for i := range 4 {
		coil.Arc(24+3*float64(i), 30, 1.5, 180, 0)
	}
	c.Path(coil, pen)
	c.ArrowAlong(Pen{Line: Black, Width: 0.5}, vector.At(4, 31), vector.At(4, 22), vector.At(9, 22))
	c.Text(52, 30, "upwards", Style{Size: 8, Angle: 90, Color: Gray})
	var arc Path
	c.Path(*arc.Arc(8, 30, 3, 0, 180), Pen{Line: vector.Vermillion, Width: 0.5})
}

func sampleSheet(d *Document) {
	f := d.Section(Frame{Name: "Worksheet K7Q", Left: "Ignition lab 5", Right: "Sheet K7Q",
		Foot: "Mind the cautions of the booklet", Size: 12})
	f.Title("Worksheet", "")
	f.Fields("Name", "Partner", "Date")
	f.Note("The customer says", "“It cranks as always but does not start. It began after the car wash.”")
	f.Cautions(content.Cautions{})
	f.Heading("Tests and their lines")
	grid := Table{Columns: []Column{{Head: "point", Width: 10, Align: Right}, {Head: "", Share: 2},
		{Head: "key on", Align: Center, Turn: true, Rule: true}, {Head: "cranking", Align: Center, Turn: true},
		{Head: "idle", Align: Center, Turn: true},
		{Head: "cranking", Align: Center, Turn: true, Rule: true},
		{Head: "key on", Align: Center, Turn: true, Rule: true}},
		Over: []Cell{{}, {}, {Text: "volts to battery −", Span: 3}, {Text: "hertz"}, {Text: "lamp"}}, Size: 10,
		Condensed: true, Zebra: true}
	names := []string{"battery + post", "switch, battery side", "switch, load side", "module feed", "module ground",
		"sensor signal", "coil −"}
	for i, name := range names {
		n := func(k int) string { return fmt.Sprintf("%03d", (i*271+k*97+417)%900) }
		grid.Row(fmt.Sprint(i+1), name, n(1), n(2), n(3), n(4), "–")
	}
	f.Table(grid)
	f.Heading("Your record")
	record := Table{Columns: []Column{{Head: "", Width: 8, Align: Right}, {Head: "Line", Width: 16},
		{Head: "I expect", Share: 2}, {Head: "Letters", Width: 18},
		{Head: "Reading", Share: 1.4}, {Head: "+/−", Width: 14}}, Grid: true, Tall: 9, Middle: true, Loose: true}
	for i := range 9 {
		record.Row(fmt.Sprint(i + 1))
	}
	f.Table(record)
	f.Together(func() {
		f.Heading("Conclusion")
		f.Para("The repair is number ____ with the letters ____, because")
		f.Blanks(2)
	})
}

func sampleReadings(d *Document) {
	f := d.Section(Frame{Name: "Readings K7Q", Left: "Ignition lab 5", Right: "Readings of sheet K7Q"})
	f.Title("Readings", "For the partner of sheet K7Q: answer one line at a time")
	f.Columns(3, 6, func() {
		t := Table{Columns: []Column{{Head: "Line", Width: Natural, Bold: true}, {Head: "", Width: Natural},
			{Head: "Reading"}}, Size: 9}
		for i := range 95 {
			t.Row(fmt.Sprintf("%03d", i+1), string([]rune{rune('A' + i%26), rune('A' + i*7%26)}),
				fmt.Sprintf("%.2f V, battery 12.56 V", math.Mod(float64(i)*1.37, 12.6)))
		}
		f.Table(t)
	})
}

func sampleDebrief(d *Document) {
	f := d.Section(Frame{Name: "Debrief K7Q", Left: "Ignition lab 5", Right: "Debrief K7Q"})
	f.Title("Debrief", "Nguyễn Thị Ánh, Zoë Müller and 山田")
	f.Bars(Bar{"Evidence", 12, 15, "12 of 15"}, Bar{"Diagnosis", 40, 40, "40 of 40"},
		Bar{"Efficiency", 17.5, 30, "17.5 of 30"}, Bar{"Interpretation", 15, 15, "15 of 15"})
	f.Heading("Suspects left")
	f.Chart(Chart{XLabel: "minutes", YLabel: "suspects left", Step: true, Series: []Series{
		{Name: "your route", X: []float64{0, 3, 5, 9, 14, 21}, Y: []float64{18, 18, 11, 11, 4, 1}},
		{Name: "best play", X: []float64{0, 3, 6, 10, 12}, Y: []float64{18, 9, 4, 2, 1}},
	}})
	f.Para("The second test told nothing new: all 18 suspects give the same reading there.")
}
