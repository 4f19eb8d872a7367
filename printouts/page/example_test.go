package page_test

import (
	"fmt"
	"time"

	"nospark/printouts/content"
	"nospark/printouts/page"
)

// A document with one sheet: running text, a table, a drawing and a chart.
func Example() {
	d := page.New(page.Options{Paper: "a4", Title: "Bench check",
		Date: time.Date(2026, time.March, 2, 0, 0, 0, 0, time.UTC)})

	f := d.Section(page.Frame{Left: "Bench check", Right: "Sheet A", Size: 12})
	f.Title("Bench check", "One lamp, one switch, one battery")
	f.Cautions(content.Cautions{})
	f.Fields("Name", "Date")

	f.Heading("Readings")
	readings := page.Table{Columns: []page.Column{
		{Head: "Line", Width: page.Natural, Align: page.Right, Bold: true},
		{Head: "Where"},
		{Head: "Reading", Width: 40},
	}, Zebra: true}
	readings.Row("1", "battery", "12.56 V")
	readings.Row("2", "lamp, feed side, **lamp on**", "12.39 V")
	f.Table(readings)

	f.Together(func() {
		f.Heading("The circuit")
		f.Draw(30, func(c page.Canvas) {
			wire := page.Stroke(0.4)
			c.Polyline(wire, page.Point{X: 20, Y: 5}, page.Point{X: 60, Y: 5}, page.Point{X: 60, Y: 10})
			c.Circle(60, 15, 5, wire)
			c.Text(60, 15, "lamp", page.Style{Size: 8, Align: page.Center, Level: page.Middle})
		})
	})

	f.Chart(page.Chart{XLabel: "minutes", YLabel: "suspects left", Step: true, Series: []page.Series{
		{Name: "your route", X: []float64{0, 2, 5}, Y: []float64{6, 3, 1}},
	}})

	pdf, err := d.Bytes()
	fmt.Printf("%s %v\n", pdf[:8], err)
	// Output: %PDF-1.3 <nil>
}

// A name is looked at before the sheets are printed, so that the instructor can be warned.
func ExampleFonts_Legible() {
	fonts, err := page.LoadFonts()
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, name := range []string{"Zoë Müller", "王芳"} {
		l := fonts.Legible(name)
		fmt.Println(l.Text, l.Replaced, l.Unshaped)
	}
	// Output:
	// Zoë Müller 0 false
	// □□ 2 false
}
