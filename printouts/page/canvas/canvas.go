package canvas

import (
	"math"

	"nospark/printouts/page/typeset"
	"nospark/printouts/vector"
)

// Canvas is a rectangle of paper to draw on: (0, 0) is its top left corner, x runs to the right and y down, in mm.
// Drawing outside of the rectangle is possible; keeping inside is the caller's part.
type Canvas struct {
	W, H float64 // mm

	*typeset.Setter
	list *DisplayList
	x, y float64 // its corner on what it is a part of
}

// New is a canvas whose corner is that of the display list to which it adds.
func New(w, h float64, setter *typeset.Setter, list *DisplayList) Canvas {
	return Canvas{W: w, H: h, Setter: setter, list: list}
}

// Part gives a rectangle of the canvas as a canvas of its own.
func (c Canvas) Part(x, y, w, h float64) Canvas {
	c.x, c.y, c.W, c.H = c.x+x, c.y+y, w, h
	return c
}

// Line draws a straight line.
func (c Canvas) Line(x1, y1, x2, y2 float64, pen vector.Pen) {
	c.add(Item{Kind: Line, Pen: pen, X: x1, Y: y1, W: x2, H: y2})
}

// Path draws a line or area of any form.
func (c Canvas) Path(p vector.Path, pen vector.Pen) {
	if len(p) > 0 {
		c.add(Item{Kind: Path, Pen: pen, Path: p})
	}
}

// Polyline joins places by straight lines.
func (c Canvas) Polyline(pen vector.Pen, places ...vector.Point) {
	c.Path(vector.Polyline(places...), pen)
}

// Polygon joins places by straight lines and closes the outline.
func (c Canvas) Polygon(pen vector.Pen, places ...vector.Point) {
	c.Path(vector.Polygon(places...), pen)
}

// Rect draws a rectangle.
func (c Canvas) Rect(x, y, w, h float64, pen vector.Pen) {
	c.add(Item{Kind: Rect, Pen: pen, X: x, Y: y, W: w, H: h})
}

// RoundRect draws a rectangle with corners of radius r.
func (c Canvas) RoundRect(x, y, w, h, r float64, pen vector.Pen) {
	c.Path(vector.RoundRect(x, y, w, h, r), pen)
}

// Circle draws a circle around (x, y).
func (c Canvas) Circle(x, y, r float64, pen vector.Pen) { c.Path(vector.Circle(x, y, r), pen) }

// Arrow draws a straight line with a filled head at its end.
func (c Canvas) Arrow(x1, y1, x2, y2 float64, pen vector.Pen) {
	c.ArrowAlong(pen, vector.At(x1, y1), vector.At(x2, y2))
}

// ArrowAlong joins places by straight lines and puts a filled head on the last.
func (c Canvas) ArrowAlong(pen vector.Pen, places ...vector.Point) {
	if len(places) < 2 {
		return
	}
	width := pen.Width
	if width == 0 {
		width = vector.Hairline
	}
	tip, from := places[len(places)-1], places[len(places)-2]
	dx, dy := tip.X-from.X, tip.Y-from.Y
	reach := math.Hypot(dx, dy)
	if reach == 0 {
		return
	}
	long := min(1.4+4*width, reach)
	dx, dy = dx/reach*long, dy/reach*long
	base := vector.At(tip.X-dx, tip.Y-dy)
	// The shaft ends inside the head, so that its blunt end does not show beside the tip.
	shaft := append(places[:len(places)-1:len(places)-1], vector.At(tip.X-0.8*dx, tip.Y-0.8*dy))
	pen.Fill = vector.None
	c.Polyline(pen, shaft...)
	const half = 0.36
	c.Polygon(vector.Fill(pen.Line), tip, vector.At(base.X-half*dy, base.Y+half*dx),
		vector.At(base.X+half*dy, base.Y-half*dx))
}
