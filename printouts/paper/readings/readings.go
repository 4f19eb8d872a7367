// Package readings places the lines of a readings sheet on one page. What stands there is said by package handouts.
package readings

import (
	"math"

	"nospark/printouts/content"
	"nospark/printouts/handouts"
	"nospark/printouts/page"
	"nospark/printouts/page/section"
	"nospark/printouts/paper"
	"nospark/printouts/wording"
	"nospark/scenarios/handout"
)

// PDF prints the readings sheets, one page each, for the partners. Print them on one side only: the back would be
// another student's sheet.
func PDF(h handout.Handout) ([]byte, error) {
	doc, err := paper.New(content.Document{Title: h.Title + ", readings", Program: h.Program, Date: h.Date,
		Paper: h.Paper})
	if err != nil {
		return nil, err
	}
	for _, r := range h.Readings {
		whole := handouts.Readings(h, r)
		if r.Large {
			section.Print(doc, whole, paper.Draw)
			continue
		}
		whole.Foot = wording.Join(", ", whole.Foot, "print on one side only")
		whole.Size, whole.Side = 10, paper.Side
		p := paper.NewPages(section.Open(doc, whole), h.Paper)
		head(p, r, h)
		lines(p, handouts.ReadingList(r))
		plots(p, r.Plots)
		p.Print()
	}
	return doc.Bytes()
}

// head says whose readings these are by code, not by name, and how to answer.
func head(p *paper.Pages, r handout.ReadingsSheet, h handout.Handout) {
	p.Put(7.5, func(c page.Canvas) {
		code := page.Style{Size: 14, Bold: true, Align: page.Right}
		c.Text(c.W, 5.4, r.Code, code)
		c.Fit(0, 5.4, c.W-c.Width(r.Code, code)-4, handouts.ReadingsName(r.Code)+": for the partner only",
			page.Style{Size: 14, Bold: true, Condensed: true})
	})
	text := p.Flow.Set(p.Width, handouts.HowToAnswer(h.Lacks), page.Style{Size: 10, Condensed: true})
	p.Put(text.H+1.5, func(c page.Canvas) { c.Paragraph(0, 0, text) })
}

// lineGrid is the geometry of a readings sheet. It depends on the number of lines and on the paper, never on a
// reading.
type lineGrid struct {
	columns, rows int
	wide, high    float64 // mm, of a cell
	size          float64 // pt
}

// Measures of the lines, mm. Below 3.28 the lines of 8 pt would touch.
const (
	answerHigh  = 3.28 // mm, least height of a line
	answerMost  = 5.2
	answerGap   = 3.0 // mm between columns
	answerAbove = 1.0
)

// planLines chooses the fewest columns that hold all lines on one page, three at least, seven at most.
func planLines(n int, width, height float64) lineGrid {
	most := int(height / answerHigh)
	g := lineGrid{columns: min(max(3, (n+most-1)/most), 7)}
	g.rows = (n + g.columns - 1) / g.columns
	g.high = clamp(height/float64(max(g.rows, 1)), answerHigh, answerMost)
	g.wide = (width - answerGap*float64(g.columns-1)) / float64(g.columns)
	g.size = clamp(math.Floor(g.high*24.5)/10, 8, 10)
	if g.columns > 4 {
		g.size = 8
	}
	return g
}

// lines prints the lines in columns, read downwards. Every other five lines are tinted, which guides the eye.
func lines(p *paper.Pages, list []content.Reading) {
	p.Y += answerAbove
	g := planLines(len(list), p.Width, p.Room())
	for len(list) > 0 {
		rows := min(g.rows, int(p.Room()/g.high+1e-6)) // the height of a line may be that of the room, divided
		here := min(len(list), rows*g.columns)
		for i := 5; i < rows; i += 10 {
			tinted := float64(min(5, rows-i)) * g.high
			p.PutAt(0, p.Y+float64(i)*g.high, p.Width, tinted,
				func(c page.Canvas) { c.Rect(0, 0, c.W, c.H, page.Fill(page.Tint)) })
		}
		for i, reading := range list[:here] {
			column, row := i/rows, i%rows
			x := float64(column) * (g.wide + answerGap)
			p.PutAt(x, p.Y+float64(row)*g.high, g.wide, g.high, func(c page.Canvas) {
				section.Reading(c, reading,
					g.size)
			})
		}
		if list = list[here:]; len(list) > 0 { // more than seven columns hold
			p.Turn()
		}
		p.Y += float64(rows) * g.high
	}
}

func clamp(x, low, high float64) float64 { return math.Max(low, math.Min(high, x)) }

// plots prints the oscilloscope pictures on pages of their own: few of them large, many of them small, and all of an
// oscilloscope's lines on one page.
func plots(p *paper.Pages, all []handout.Plot) {
	const gap = 5.0
	across, down := 2, 3
	if len(all) > across*down {
		across, down = 3, 5
	}
	for i, plot := range all {
		place := i % (across * down)
		if place == 0 {
			p.Turn()
		}
		wide := (p.Width - gap*float64(across-1)) / float64(across)
		high := (p.Bottom - paper.Top - gap*float64(down-1)) / float64(down)
		x, y := float64(place%across)*(wide+gap), paper.Top+float64(place/across)*(high+gap)
		p.PutAt(x, y, wide, high, func(c page.Canvas) {
			c.FitWhole(0, 3.6, c.W, handouts.PlotName(plot), page.Style{Size: 9, Bold: true, Condensed: true})
			paper.Draw(c.Part(0, 4.6, c.W, c.H-4.6), content.Trace{Plot: plot})
		})
	}
}
