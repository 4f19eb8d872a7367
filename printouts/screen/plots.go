package screen

import (
	"fmt"
	"math"

	"nospark/printouts/content"
	"nospark/printouts/diagram/svg"
	"nospark/printouts/vector"
)

// Sizes of plots, mm.
const (
	plotWide = 150.0
	plotHigh = 70.0
	textHigh = 4.0 // a line of their words
)

// plot is a drawing of numbers in the making.
type plot struct{ scene vector.Scene }

func newPlot(title, description string, high float64) *plot {
	return &plot{vector.Scene{Title: title, Description: description, Frame: vector.Box(0, 0, plotWide, high)}}
}

func (p *plot) shape(pen vector.Pen, path vector.Path) {
	p.scene.Shapes = append(p.scene.Shapes, vector.Shape{Path: path, Pen: pen})
}

func (p *plot) line(pen vector.Pen, places ...vector.Point) { p.shape(pen, vector.Polyline(places...)) }

// text writes a line whose middle is level with y, from, around or up to x.
func (p *plot) text(x, y float64, text string, align vector.Align, bold bool) float64 {
	style := vector.Style{Size: 9, Align: align, Level: vector.Middle, Bold: bold}
	wide := svg.Width(text, style)
	box := vector.Box(x, y-textHigh/2, wide, textHigh)
	switch align {
	case vector.Center:
		box.X -= wide / 2
	case vector.Right:
		box.X -= wide
	}
	p.scene.Texts = append(p.scene.Texts, vector.Text{Text: text, Box: box, Width: wide, Style: style})
	return wide
}

// look is how a series is drawn: line and marker differ, no meaning hangs on a color.
type look struct {
	pen    vector.Pen
	marker func(at vector.Point) (vector.Pen, vector.Path)
}

func lookOf(series int) look {
	if series%2 == 0 {
		return look{vector.Stroke(0.6), func(at vector.Point) (vector.Pen, vector.Path) {
			return vector.Fill(vector.Black), vector.Circle(at.X, at.Y, 1.1)
		}}
	}
	return look{vector.Pen{Line: vector.Black, Width: 0.5, Dash: vector.Dashed},
		func(at vector.Point) (vector.Pen, vector.Path) {
			return vector.Pen{Line: vector.Black, Width: 0.4, Fill: vector.White}, vector.Polygon(
				vector.At(at.X-1.1, at.Y-1.1), vector.At(at.X+1.1, at.Y-1.1), vector.At(at.X+1.1, at.Y+1.1),
				vector.At(at.X-1.1, at.Y+1.1))
		}}
}

// chart draws series as stepped lines: a value holds until the next one.
func chart(c content.Chart) vector.Scene {
	p := newPlot(c.YLabel, c.YLabel+" over "+c.XLabel+".", plotHigh)
	x1, y1 := 0.0, 0.0
	for _, s := range c.Series {
		for i := range s.X {
			x1, y1 = max(x1, s.X[i]), max(y1, s.Y[i])
		}
	}
	xs, ys := vector.Ticks(0, x1, 8), vector.Ticks(0, y1, 5)
	x := vector.Axis{From: xs[0], To: xs[len(xs)-1], Start: 12, End: plotWide - 5}
	y := vector.Axis{From: ys[0], To: ys[len(ys)-1], Start: plotHigh - 12, End: 10}
	thin := vector.Pen{Line: vector.Rule, Width: 0.2}
	for _, v := range ys {
		p.line(thin, vector.At(x.Start, y.At(v)), vector.At(x.End, y.At(v)))
		p.text(x.Start-2, y.At(v), vector.TickText(v), vector.Right, false)
	}
	p.line(vector.Stroke(0.35), vector.At(x.Start, y.Start), vector.At(x.End, y.Start))
	for _, v := range xs {
		p.line(vector.Stroke(0.35), vector.At(x.At(v), y.Start), vector.At(x.At(v), y.Start+1.2))
		p.text(x.At(v), y.Start+4, vector.TickText(v), vector.Center, false)
	}
	p.text(0, 3, c.YLabel, vector.Left, true)
	p.text(x.End, plotHigh-3, c.XLabel, vector.Right, true)
	right := x.End
	for i := len(c.Series) - 1; i >= 0; i-- {
		s, look := c.Series[i], lookOf(i)
		right -= p.text(right, 3, s.Name, vector.Right, false) + 2
		const sample = 12.5 // mm: whole dashes
		p.line(look.pen, vector.At(right-sample, 3), vector.At(right, 3))
		p.shape(look.marker(vector.At(right-sample/2, 3)))
		right -= sample + 6
		p.series(s, look, x, y)
	}
	return p.scene
}

// series draws one line and its markers.
func (p *plot) series(s content.Series, look look, x, y vector.Axis) {
	var places, path []vector.Point
	for i := range s.X {
		at := vector.At(x.At(s.X[i]), y.At(s.Y[i]))
		if n := len(places); n > 0 {
			path = append(path, vector.At(at.X, places[n-1].Y))
		}
		places, path = append(places, at), append(path, at)
	}
	p.line(look.pen, path...)
	for _, at := range places {
		p.shape(look.marker(at))
	}
}

// dots draws a dot for each value over an axis.
func dots(d content.Dots) vector.Scene {
	heaps, tallest := map[float64]int{}, 1
	for _, v := range d.Values {
		heaps[v]++
		tallest = max(tallest, heaps[v])
	}
	rise := min(3.2, 60/float64(tallest))
	high := float64(tallest)*rise + 14
	p := newPlot("How often each value occurs", "A dot for each value over an axis.", high)
	base := high - 10
	x := vector.Axis{From: d.From, To: d.To, Start: 5, End: plotWide - 5}
	p.line(vector.Stroke(0.35), vector.At(x.Start, base), vector.At(x.End, base))
	for v := d.From; v <= d.To; v += d.Tick {
		p.line(vector.Stroke(0.35), vector.At(x.At(v), base), vector.At(x.At(v), base+1.2))
		p.text(x.At(v), base+4, fmt.Sprint(math.Round(v)), vector.Center, false)
	}
	if d.Unit != "" {
		p.text(x.End, high-2, d.Unit, vector.Right, false)
	}
	drawn := map[float64]int{}
	for _, v := range d.Values {
		drawn[v]++
		p.shape(vector.Fill(vector.Black), vector.Circle(x.At(v), base-rise*(float64(drawn[v])-0.4), rise*0.42))
	}
	return p.scene
}

// bars draws shares of a whole, each with its name before it and what is said about it behind.
func bars(b content.Bars) vector.Scene {
	const row = 7.0
	p := newPlot("Shares of a whole", "A bar for each share.", row*float64(max(len(b.List), 1)))
	names, notes := 0.0, 0.0
	for i, bar := range b.List {
		y := row * (float64(i) + 0.5)
		names = max(names, p.text(0, y, bar.Label, vector.Left, false))
		notes = max(notes, p.text(plotWide, y, bar.Note, vector.Right, false))
	}
	from, to := names+3, plotWide-notes-3
	for i, bar := range b.List {
		y, wide := row*(float64(i)+0.5), max(to-from, 1)
		p.shape(vector.Pen{Line: vector.Black, Width: 0.25}, box(from, y-2, wide, 4))
		if bar.Of > 0 {
			p.shape(vector.Fill(vector.Black), box(from, y-2, wide*bar.Value/bar.Of, 4))
		}
	}
	return p.scene
}

func box(x, y, w, h float64) vector.Path {
	return vector.Polygon(vector.At(x, y), vector.At(x+w, y), vector.At(x+w, y+h), vector.At(x, y+h))
}
