package debriefs

import (
	"fmt"

	"nospark/printouts/debrief"
	"nospark/printouts/page"
	"nospark/printouts/wording"
)

// route prints the chart of the suspects beside the arithmetic of the mark. The parts of the mark decide the
// height: the rubric may have four or six, and the chart can have any.
func (d *onePage) route() {
	const gap = 7.0
	parts := d.Parts()
	row := d.spacing.part
	lost := d.Clip((d.Width-gap)*0.52, d.Lost(), page.Style{Size: 8, Condensed: true}, 3)
	how := make([]page.Paragraph, len(parts))
	high := 6.0
	for i, p := range parts {
		how[i] = d.arithmetic(p, (d.Width-gap)*0.52)
		high += row + how[i].H - how[i].Pitch
	}
	high += lost.H
	d.Y += d.spacing.between
	left := (d.Width - gap) * 0.48
	d.Put(high, func(c page.Canvas) {
		chart := c.Part(0, 0, left, c.H)
		head := page.Style{Size: 11, Bold: true, Condensed: true}
		chart.Text(0, 4, debrief.RouteName, head)
		chart.Part(0, 6.5, chart.W, chart.H-6.5).Chart(page.ChartOf(d.Chart()))
		side := c.Part(left+gap, 0, c.W-left-gap, c.H)
		side.Text(0, 4, debrief.MarkName, head)
		y := 6.0
		for i, p := range parts {
			high := row + how[i].H - how[i].Pitch
			printPart(side.Part(0, y, side.W, high), p, how[i])
			y += high
		}
		side.Paragraph(0, y, lost)
	})
}

// arithmetic sets the formula of a part, what explains it on a line of its own. It is never cut off: half a formula
// is worth nothing.
func (d *onePage) arithmetic(p debrief.Part, wide float64) page.Paragraph {
	text := p.How
	if p.Why != "" {
		text += "\n" + p.Why
	}
	return d.Flow.Set(wide, text, page.Style{Size: 8.5, Condensed: true})
}

// printPart prints the name, a bar and the points on one line and the arithmetic below.
func printPart(c page.Canvas, p debrief.Part, how page.Paragraph) {
	const number, bar = 22.0, 26.0
	c.Text(0, 3.4, p.Name, page.Style{Size: 9, Bold: true, Condensed: true})
	c.Text(c.W, 3.4, wording.Points(p.Points)+" of "+fmt.Sprint(p.Of),
		page.Style{Size: 9, Condensed: true, Align: page.Right})
	if p.Of > 0 {
		x, wide := c.W-number-bar, bar*min(1, max(0, p.Points/float64(p.Of)))
		c.Rect(x, 1.1, wide, 2.5, page.Fill(page.Blue))
		c.Rect(x, 1.1, bar, 2.5, page.Pen{Line: page.Black, Width: 0.2})
	}
	c.Paragraph(0, 4.3, how)
}
