package canvas

import (
	"math"

	"nospark/printouts/vector"
)

// Series is one line of a [Chart].
type Series struct {
	Name string
	X, Y []float64
}

// Chart is a line chart. Its series differ in marker and dash as well as in color, in their order: full line with
// discs, dashed with squares, dotted with triangles. Values that are not finite are left out.
type Chart struct {
	XLabel, YLabel string
	Series         []Series // at most three
	Step           bool     // values stay until the next one: suspects left after each test
	Height         float64  // mm; 0 means 55, more for larger text
}

// look is how a series is drawn.
type look struct {
	pen    vector.Pen
	marker func(c Canvas, x, y float64, color vector.Color)
}

// mostSeries is how many series a chart can tell apart.
const mostSeries = 3

func looks() [mostSeries]look {
	disc := func(c Canvas, x, y float64, color vector.Color) { c.Circle(x, y, 0.95, vector.Fill(color)) }
	square := func(c Canvas, x, y float64, color vector.Color) {
		c.Rect(x-0.9, y-0.9, 1.8, 1.8, vector.Pen{Line: color, Width: 0.35, Fill: vector.White})
	}
	triangle := func(c Canvas, x, y float64, color vector.Color) {
		c.Polygon(vector.Fill(color), vector.At(x, y-1.2), vector.At(x+1.1, y+0.8), vector.At(x-1.1, y+0.8))
	}
	return [mostSeries]look{
		{vector.Pen{Line: vector.Blue, Width: 0.55}, disc},
		{vector.Pen{Line: vector.Vermillion, Width: 0.5, Dash: vector.Dashed}, square},
		{vector.Pen{Line: vector.Green, Width: 0.6, Dash: vector.Dotted}, triangle},
	}
}

// Chart draws a line chart that fills the canvas.
func (c Canvas) Chart(ch Chart) {
	small := vector.Style{Size: c.Sizes.Small, Condensed: true}
	line := c.LineHeight(small)
	series := ch.Series[:min(len(ch.Series), mostSeries)]
	xTicks, yTicks := ch.ticks(series, c, line)
	wide := 0.0
	for _, t := range yTicks {
		wide = max(wide, c.Width(vector.TickText(t), small))
	}
	left, right, top, bottom := wide+3.5, c.W-3, line*1.6, c.H-line*2.1
	x := vector.Axis{From: xTicks[0], To: xTicks[len(xTicks)-1], Start: left, End: right}
	y := vector.Axis{From: yTicks[0], To: yTicks[len(yTicks)-1], Start: bottom, End: top}

	label := vector.Style{Size: small.Size, Condensed: true, Level: vector.Top}
	c.Fit(0, 0, c.legend(series, right, small)-4, ch.YLabel, label)
	small.Level, small.Align = vector.Middle, vector.Right
	for _, t := range yTicks {
		c.Line(left, y.At(t), right, y.At(t), vector.Pen{Line: vector.Rule, Width: 0.15})
		c.Text(left-1.5, y.At(t), vector.TickText(t), small)
	}
	c.Line(left, bottom, right, bottom, vector.Pen{Line: vector.Black, Width: 0.3})
	small.Level, small.Align = vector.Top, vector.Center
	for _, t := range xTicks {
		c.Line(x.At(t), bottom, x.At(t), bottom+1, vector.Pen{Line: vector.Black, Width: 0.3})
		c.Text(x.At(t), bottom+1.8, vector.TickText(t), small)
	}
	small.Align = vector.Right
	c.Fit(right, bottom+1.8+line, right-left, ch.XLabel, small)
	for i, s := range series {
		c.series(s, looks()[i], x, y, ch.Step)
	}
}

// ticks chooses the ticks of both axes. The vertical axis begins at zero unless values lie below.
func (ch Chart) ticks(series []Series, c Canvas, line float64) (x, y []float64) {
	x0, x1, y1, y0 := math.Inf(1), math.Inf(-1), 0.0, 0.0
	for _, s := range series {
		for i := range min(len(s.X), len(s.Y)) {
			if vector.Finite(s.X[i]) && vector.Finite(s.Y[i]) {
				x0, x1 = min(x0, s.X[i]), max(x1, s.X[i])
				y0, y1 = min(y0, s.Y[i]), max(y1, s.Y[i])
			}
		}
	}
	if x0 > x1 {
		x0, x1 = 0, 1
	}
	return vector.Ticks(x0, x1, max(2, int(c.W/16))), vector.Ticks(y0, y1, max(2, int(c.H/(2.2*line))))
}

// legend names the series at the top right, each with its line and marker, and gives where it begins.
func (c Canvas) legend(series []Series, right float64, s vector.Style) float64 {
	s.Level = vector.Middle
	x, y := right, vector.CapHeight*s.Size*vector.PerPoint/2
	for i := len(series) - 1; i >= 0; i-- {
		if series[i].Name == "" {
			continue
		}
		wide := min(c.Width(series[i].Name, s), 0.6*right/float64(len(series))-11)
		x -= wide
		c.Fit(x, y, wide, series[i].Name, s)
		look := looks()[i]
		c.Line(x-10, y, x-1.5, y, look.pen)
		look.marker(c, x-5.75, y, look.pen.Line)
		x -= 15
	}
	return x
}

// series draws one line and its markers.
func (c Canvas) series(s Series, look look, x, y vector.Axis, stepped bool) {
	var places, path []vector.Point
	for i := range min(len(s.X), len(s.Y)) {
		if !vector.Finite(s.X[i]) || !vector.Finite(s.Y[i]) {
			continue
		}
		at := vector.At(x.At(s.X[i]), y.At(s.Y[i]))
		if n := len(places); stepped && n > 0 {
			path = append(path, vector.At(at.X, places[n-1].Y))
		}
		places, path = append(places, at), append(path, at)
	}
	c.Polyline(look.pen, path...)
	for _, p := range places {
		look.marker(c, p.X, p.Y, look.pen.Line)
	}
}
