package section

import (
	"fmt"
	"math"

	"nospark/printouts/content"
	"nospark/printouts/page"
)

func (r renderer) figure(f content.Figure) {
	if f.Caption == "" {
		r.picture(f)
		return
	}
	r.Flow.Together(func() {
		r.Subheading(f.Caption)
		r.picture(f)
	})
}

func (r renderer) picture(f content.Figure) {
	switch p := f.Picture.(type) {
	case content.Chart:
		r.Chart(ChartOf(p))
	case content.Dots:
		r.dots(p)
	case content.Bars:
		var bars []page.Bar
		for _, b := range p.List {
			bars = append(bars, page.Bar(b))
		}
		r.Bars(bars...)
	default:
		height := f.Height
		if height == 0 {
			height = r.Room() - 1
		}
		r.Draw(height, func(c page.Canvas) { r.draw(c, f.Picture) })
	}
}

// ChartOf makes a chart of stepped lines of its content.
func ChartOf(c content.Chart) page.Chart {
	chart := page.Chart{XLabel: c.XLabel, YLabel: c.YLabel, Step: true}
	for _, s := range c.Series {
		chart.Series = append(chart.Series, page.Series(s))
	}
	return chart
}

// dots draws a dot for each value over an axis.
func (r renderer) dots(d content.Dots) {
	const dot = 3.2 // mm, distance of dots above each other
	heaps, tallest := map[float64]int{}, 1
	for _, v := range d.Values {
		heaps[v]++
		tallest = max(tallest, heaps[v])
	}
	rise := min(dot, d.Highest/float64(tallest)) // a large school gets flatter heaps, not another page
	above, base := 3.0, 6.0
	if d.Unit != "" {
		above, base = 4, 8
	}
	small := page.Style{Size: 8, Condensed: true, Align: page.Center, Level: page.Top}
	r.Draw(float64(tallest)*rise+base+above, func(c page.Canvas) {
		at := func(v float64) float64 { return 4 + (c.W-8)*(v-d.From)/(d.To-d.From) }
		y := c.H - base
		c.Line(at(d.From), y, at(d.To), y, page.Stroke(0.3))
		for v := d.From; v <= d.To; v += d.Tick {
			c.Line(at(v), y, at(v), y+1.2, page.Stroke(0.3))
			c.Text(at(v), y+2, fmt.Sprint(math.Round(v)), small)
		}
		if d.Unit != "" {
			c.Text(c.W, y+5.5, d.Unit, page.Style{Size: 8, Condensed: true, Align: page.Right, Level: page.Top})
		}
		drawn := map[float64]int{}
		for _, v := range d.Values {
			drawn[v]++
			c.Circle(at(v), y-rise*(float64(drawn[v])-0.4), min(rise, dot)*0.42,
				page.Pen{Line: page.Black, Width: 0.2, Fill: page.Blue})
		}
	})
}

// cards sets two cards beside each other, to cut along dashed lines.
func (r renderer) cards(cards content.Cards) {
	const least, edge, gap = 38.0, 3.5, 1.0 // mm: height of a card, around its text, between its lines
	for from := 0; from < len(cards.List); from += 2 {
		high := least
		var row [][]page.Paragraph
		for _, card := range cards.List[from:min(from+2, len(cards.List))] {
			lines := r.card(card, r.W/2-2*edge-aside(card))
			row = append(row, lines)
			sum := 2*edge - gap
			for _, l := range lines {
				sum += l.H + gap
			}
			high = max(high, sum) // long names take more lines
		}
		r.Draw(high, func(c page.Canvas) {
			for k, lines := range row {
				part, y := c.Part(float64(k)*c.W/2, 0, c.W/2, high), edge
				squares(part, cards.List[from+k].Squares, part.W-edge-squareSize, edge)
				for _, l := range lines {
					part.Paragraph(edge, y, l)
					y += l.H + gap
				}
			}
			dashed := page.Pen{Line: page.Gray, Width: 0.2, Dash: page.Dashed}
			c.Line(0, high, c.W, high, dashed)
			c.Line(c.W/2, 0, c.W/2, high, dashed)
		})
	}
}

// squareSize is the width of the picture on a card, mm: a QR code of 33 squares has 0.85 mm each, which a telephone
// reads at arm's length.
const squareSize = 28.0

// aside is the room that a picture takes from the lines of a card.
func aside(c content.Card) float64 {
	if len(c.Squares) == 0 {
		return 0
	}
	return squareSize + 1
}

// squares draws the picture of a card, runs of dark squares as one.
func squares(c page.Canvas, rows [][]bool, x, y float64) {
	for i, row := range rows {
		one := squareSize / float64(len(rows))
		for from := 0; from < len(row); from++ {
			to := from
			for to < len(row) && row[to] {
				to++
			}
			if to > from {
				c.Rect(x+float64(from)*one, y+float64(i)*one, float64(to-from)*one, one*1.02, page.Pen{Fill: page.Black})
				from = to
			}
		}
	}
}

// card sets the lines of a card.
func (r renderer) card(c content.Card, width float64) []page.Paragraph {
	lines := []page.Paragraph{r.Set(width, c.Name, page.Style{Size: 12, Bold: true}), r.Set(width, c.Lead, page.Style{Size: 10})}
	for _, text := range c.Lines {
		lines = append(lines, r.Set(width, text, page.Style{Size: 10, Condensed: true}))
	}
	return lines
}
