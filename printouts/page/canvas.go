package page

import "math"

// Canvas is a rectangle of paper to draw on: (0, 0) is its top left corner, x runs to the right and y down, in mm. Drawing outside
// of the rectangle is possible; keeping inside is the caller's part.
type Canvas struct {
	W, H float64 // mm

	*typesetter
	ink  *[]mark
	x, y float64 // its corner on what it is a part of
}

// markKind tells the sorts of marks on paper apart.
type markKind uint8

const (
	markText markKind = iota
	markPath
	markLine
	markRect
	markClip
	markUnclip
)

// mark is one thing drawn. Marks are kept until their section is complete, because only then the number of pages is known, and
// because a block must be able to move to the next page.
type mark struct {
	kind       markKind
	pen        Pen
	x, y, w, h float64 // text: start of the baseline; line: both ends; others: the rectangle
	path       []step
	text       string
	face       face
	size       float64 // pt
	angle      float64 // degrees, counter-clockwise
	wide       float64 // width of the text, mm
	narrow     float64 // factor of the widths of the letters
}

func (c Canvas) add(m mark) {
	m.x, m.y = m.x+c.x, m.y+c.y
	if m.kind == markLine {
		m.w, m.h = m.w+c.x, m.h+c.y
	}
	*c.ink = append(*c.ink, m)
}

// Part gives a rectangle of the canvas as a canvas of its own.
func (c Canvas) Part(x, y, w, h float64) Canvas {
	c.x, c.y, c.W, c.H = c.x+x, c.y+y, w, h
	return c
}

// Line draws a straight line.
func (c Canvas) Line(x1, y1, x2, y2 float64, pen Pen) {
	c.add(mark{kind: markLine, pen: pen, x: x1, y: y1, w: x2, h: y2})
}

// Polyline joins places by straight lines.
func (c Canvas) Polyline(pen Pen, places ...Point) { c.Path(polyline(places), pen) }

// Polygon joins places by straight lines and closes the outline.
func (c Canvas) Polygon(pen Pen, places ...Point) {
	p := polyline(places)
	c.Path(*p.Close(), pen)
}

// Path draws a line or area of any form.
func (c Canvas) Path(p Path, pen Pen) {
	if len(p.steps) == 0 {
		return
	}
	c.add(mark{kind: markPath, pen: pen, path: p.steps})
}

// Rect draws a rectangle.
func (c Canvas) Rect(x, y, w, h float64, pen Pen) {
	c.add(mark{kind: markRect, pen: pen, x: x, y: y, w: w, h: h})
}

// RoundRect draws a rectangle with corners of radius r.
func (c Canvas) RoundRect(x, y, w, h, r float64, pen Pen) { c.Path(rounded(x, y, w, h, r), pen) }

// Circle draws a circle around (x, y).
func (c Canvas) Circle(x, y, r float64, pen Pen) {
	var p Path
	c.Path(*p.Arc(x, y, r, 0, 360).Close(), pen)
}

// Arc draws part of a circle around (x, y); see [Path.Arc] for the angles.
func (c Canvas) Arc(x, y, r, from, to float64, pen Pen) {
	var p Path
	c.Path(*p.Arc(x, y, r, from, to), pen)
}

// Arrow draws a straight line with a filled head at its end.
func (c Canvas) Arrow(x1, y1, x2, y2 float64, pen Pen) {
	c.ArrowAlong(pen, Point{x1, y1}, Point{x2, y2})
}

// ArrowAlong joins places by straight lines and puts a filled head on the last.
func (c Canvas) ArrowAlong(pen Pen, places ...Point) {
	if len(places) < 2 {
		return
	}
	width := pen.Width
	if width == 0 {
		width = hairline
	}
	tip, from := places[len(places)-1], places[len(places)-2]
	dx, dy := tip.X-from.X, tip.Y-from.Y
	reach := math.Hypot(dx, dy)
	if reach == 0 {
		return
	}
	long := min(1.4+4*width, reach)
	dx, dy = dx/reach*long, dy/reach*long
	base := Point{tip.X - dx, tip.Y - dy}
	// The shaft ends inside the head, so that its blunt end does not show beside the tip.
	shaft := append(places[:len(places)-1:len(places)-1], Point{tip.X - 0.8*dx, tip.Y - 0.8*dy})
	pen.Fill = None
	c.Polyline(pen, shaft...)
	const half = 0.36
	c.Polygon(Fill(pen.Line), tip, Point{base.X - half*dy, base.Y + half*dx}, Point{base.X + half*dy, base.Y - half*dx})
}

// Clip draws with everything outside of the rectangle cut off.
func (c Canvas) Clip(x, y, w, h float64, draw func(Canvas)) {
	c.add(mark{kind: markClip, x: x, y: y, w: w, h: h})
	draw(c)
	c.add(mark{kind: markUnclip})
}
