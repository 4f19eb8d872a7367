package printouts

import (
	"math"

	"nospark/printouts/diagram"
	"nospark/printouts/page"
	"nospark/printouts/vector"
	"nospark/scenarios/handout"
)

// Readings prints the readings sheets, one page each, for the partners. Print them on one side only: the back would be another
// student's sheet.
func Readings(h handout.Handout) ([]byte, error) {
	doc, err := newDocument(h, "readings")
	if err != nil {
		return nil, err
	}
	for _, r := range h.Readings {
		if r.Large {
			largeReadings(doc, h, r)
			continue
		}
		flow := doc.Section(page.Frame{Name: "Readings " + r.Code, Foot: joined(", ", "Readings for sheet "+r.Code, h.Title, h.Date, "print on one side only"), Size: 10, Side: leafSide})
		l := newLeaves(flow, h.Paper)
		readingsHead(l, h, r)
		readingLines(l, r.Lines)
		plots(l, r.Plots)
		l.print()
	}
	return doc.Bytes()
}

// readingsHead says whose readings these are by code, not by name, and how to answer.
func readingsHead(l *leaves, h handout.Handout, r handout.ReadingsSheet) {
	l.put(7.5, func(c page.Canvas) {
		code := page.Style{Size: 14, Bold: true, Align: page.Right}
		c.Text(c.W, 5.4, r.Code, code)
		c.Fit(0, 5.4, c.W-c.Width(r.Code, code)-4, "Readings for sheet "+r.Code+": for the partner only", page.Style{Size: 14, Bold: true, Condensed: true})
	})
	p := l.flow.Set(l.width, howToAnswer, page.Style{Size: 10, Condensed: true})
	l.put(p.H+1.5, func(c page.Canvas) { c.Paragraph(0, 0, p) })
}

// lineGrid is the geometry of a readings sheet. It depends on the number of lines and on the paper, never on a reading.
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

// readingLines prints the lines in columns, read downwards. Every other five lines are tinted, which guides the eye.
func readingLines(l *leaves, lines []handout.ReadingLine) {
	l.y += answerAbove
	g := planLines(len(lines), l.width, l.room())
	for len(lines) > 0 {
		rows := min(g.rows, int(l.room()/g.high+1e-6)) // the height of a line may be that of the room, divided
		here := min(len(lines), rows*g.columns)
		for i := 5; i < rows; i += 10 {
			l.fix(0, l.y+float64(i)*g.high, l.width, float64(min(5, rows-i))*g.high, func(c page.Canvas) { c.Rect(0, 0, c.W, c.H, page.Fill(page.Tint)) })
		}
		for i, answer := range lines[:here] {
			column, row := i/rows, i%rows
			x := float64(column) * (g.wide + answerGap)
			l.fix(x, l.y+float64(row)*g.high, g.wide, g.high, func(c page.Canvas) { printAnswer(c, answer, g.size) })
		}
		if lines = lines[here:]; len(lines) > 0 { // more than seven columns hold
			l.turn()
		}
		l.y += float64(rows) * g.high
	}
}

// printAnswer prints number, letters and reading. Their places are fixed; a reading that is too long is set closer.
func printAnswer(c page.Canvas, a handout.ReadingLine, size float64) {
	y := c.H / 2
	number := page.Style{Size: size, Bold: true, Condensed: true, Level: page.Middle}
	letters := page.Style{Size: size, Condensed: true, Level: page.Middle}
	// gaps of about one space: text taken from the file reads "214 KQ 12.39 V", and columns stay two spaces or more apart
	gap := c.Width(" ", letters)
	c.Text(0, y, line(a.Number), number)
	x := c.Width("000", number) + gap
	c.Text(x, y, a.Letters, letters)
	x += c.Width("WW", letters) + gap
	c.FitWhole(x, y, c.W-x, joined(", ", a.Reading, a.Beside), page.Style{Size: size, Condensed: true, Level: page.Middle})
}

// plots prints the oscilloscope pictures on pages of their own, six a page.
func plots(l *leaves, all []handout.Plot) {
	const gap, across, down = 8.0, 2, 3
	for i, p := range all {
		place := i % (across * down)
		if place == 0 {
			l.turn()
		}
		wide := (l.width - gap) / across
		high := (l.bottom - l.top - gap*(down-1)) / down
		x, y := float64(place%across)*(wide+gap), l.top+float64(place/across)*(high+gap)
		l.fix(x, y, wide, high, func(c page.Canvas) {
			c.Text(0, 4, "line "+line(p.Line), page.Style{Size: 11, Bold: true})
			drawPlot(c.Part(0, 6, c.W, c.H-6), p)
		})
	}
}

// drawPlot fills the canvas with one picture, no higher than it is wide.
func drawPlot(c page.Canvas, p handout.Plot) {
	c.Scene(diagram.Trace(p, vector.Rect{W: c.W, H: math.Min(c.H, c.W)}, c.Width))
}
