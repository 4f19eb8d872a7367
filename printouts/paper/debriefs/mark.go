package debriefs

import (
	"fmt"

	"nospark/printouts/debrief"
	"nospark/printouts/page"
	"nospark/printouts/page/section"
	"nospark/printouts/wording"
)

// route prints the chart of the suspects, and beside it what was asked and what was concluded.
func (d *onePage) route() {
	const gap = 7.0
	left := (d.Width - gap) * 0.52
	style := page.Style{Size: 9.5, Condensed: true}
	facts := d.Facts()
	set := make([]page.Paragraph, len(facts))
	high := 6.5 // of the facts, the heading above included
	for i, f := range facts {
		set[i] = d.Clip(d.Width-gap-left, "**"+f.Label+":** "+f.Text, style, 1+d.spacing.lines)
		high += set[i].H + 1.2
	}
	d.Y += d.spacing.between
	d.Put(max(d.spacing.chart, high), func(c page.Canvas) {
		chart := c.Part(0, 0, left, c.H)
		chart.Text(0, 4, debrief.RouteName, page.Style{Size: 11, Bold: true, Condensed: true})
		chart.Part(0, 6.5, chart.W, chart.H-6.5).Chart(section.ChartOf(d.Chart()))
		y := 6.5
		for _, p := range set {
			c.Paragraph(left+gap, y, p)
			y += p.H + 1.2
		}
	})
}

// Measures of a row of the arithmetic, mm.
const (
	partName   = 22.0
	partBar    = 18.0
	partPoints = 21.0
)

// arithmetic prints how the mark comes about, small: a row for each part of it. It is never cut off: half a formula is
// worth nothing.
func (d *onePage) arithmetic() {
	d.Heading(d.spacing.between, debrief.MarkName, "")
	const text = 8.5
	wide := d.Width - partName - partBar - partPoints
	for _, p := range d.Parts() {
		how := d.Flow.Set(wide, wording.Join(". ", p.How, p.Why), page.Style{Size: text, Condensed: true})
		d.Put(how.H+0.3, func(c page.Canvas) { printPart(c, p, how) })
	}
	d.Para(0.3, d.Lost(), page.Style{Size: 8, Condensed: true}, 3)
}

// printPart prints the name of a part, a bar, the points and how they come about on one line.
func printPart(c page.Canvas, p debrief.Part, how page.Paragraph) {
	const base = 3.0
	c.Text(0, base, p.Name, page.Style{Size: 8.5, Bold: true, Condensed: true})
	if p.Of > 0 {
		c.Rect(partName, 0.8, partBar*min(1, max(0, p.Points/float64(p.Of))), 2.3, page.Fill(page.Blue))
		c.Rect(partName, 0.8, partBar, 2.3, page.Pen{Line: page.Black, Width: 0.2})
	}
	c.Text(partName+partBar+partPoints-3, base, wording.Points(p.Points)+" of "+fmt.Sprint(p.Of),
		page.Style{Size: 8.5, Condensed: true, Align: page.Right})
	c.Paragraph(partName+partBar+partPoints, 0, how)
}
