package diagram

import (
	"math"

	"nospark/printouts/vector"
)

// pen draws in a symbol's own coordinates: x along the line through the symbol, y across it, both in symbol units. The
// place of the symbol and its direction on paper are in the pen.
type pen struct {
	w             *drawing
	c             vector.Point
	along, across vector.Point
	size          float64
}

// newPen points "above" to the upper side of a level line and to the left of an upright one.
func newPen(w *drawing, c, along vector.Point, size float64) pen {
	across := vector.At(-along.Y, along.X)
	if across.Y < -1e-9 || math.Abs(across.Y) < 1e-9 && across.X < 0 {
		across = across.Times(-1)
	}
	return pen{w, c, along, across, size}
}

func (p pen) at(x, y float64) vector.Point {
	return p.c.Plus(p.along.Times(x * p.size)).Plus(p.across.Times(y * p.size))
}

func (p pen) rect(x0, y0, x1, y1 float64) vector.Rect {
	return vector.Around(p.at(x0, y0), p.at(x1, y1))
}

func (p pen) line(width float64, xy ...float64) {
	p.w.add(line(width, p.places(xy)...))
}

func (p pen) area(fill vector.Color, xy ...float64) {
	p.w.add(area(fill, symbolWidth, p.places(xy)...))
}

func (p pen) box(x0, y0, x1, y1 float64) {
	p.w.add(rectangle(p.rect(x0, y0, x1, y1), vector.White, symbolWidth))
}

func (p pen) disc(x, y, r float64, fill vector.Color) {
	p.w.add(circle(p.at(x, y), r*p.size, fill, symbolWidth))
}

func (p pen) places(xy []float64) []vector.Point {
	var places []vector.Point
	for i := 0; i+1 < len(xy); i += 2 {
		places = append(places, p.at(xy[i], xy[i+1]))
	}
	return places
}

// text writes upright in the symbol, whatever way the symbol lies.
func (p pen) text(s string, x, y, size float64) {
	c, style := p.at(x, y), vector.Style{Size: size, Align: vector.Center}
	wide, high := p.w.measure(s, style), size*vector.PerPoint
	p.w.write(s, vector.Box(c.X-wide/2, c.Y-high/2, wide, high), style, symbolText)
}

// drawBattery: long thin bars positive, short thick bars negative; the first pin is the positive one.
func drawBattery(_ *drawing, p pen) {
	for _, x := range []float64{-0.42, 0.14} {
		p.line(symbolWidth, x, -0.75, x, 0.75)
		p.line(thickWidth+0.2, x+0.28, -0.38, x+0.28, 0.38)
	}
	p.line(wireWidth, -0.14, 0, 0.14, 0)
	p.line(symbolWidth, -0.78, -0.5, -0.5, -0.5)
	p.line(symbolWidth, -0.64, -0.64, -0.64, -0.36)
	p.w.solids = append(p.w.solids, p.rect(-0.78, -0.64, -0.5, -0.36)) // the sign stands outside of the symbol
}

// drawMotor: a circle with an M.
func drawMotor(_ *drawing, p pen) {
	p.disc(0, 0, 0.85, vector.White)
	p.text("M", 0, 0, p.size*1.9)
}

// drawLamp: a circle with a cross.
func drawLamp(_ *drawing, p pen) {
	const arm = 0.6 * math.Sqrt2 / 2
	p.disc(0, 0, 0.6, vector.White)
	p.line(symbolWidth, -arm, -arm, arm, arm)
	p.line(symbolWidth, -arm, arm, arm, -arm)
}

// drawDiode: a triangle that points the way of the current, and the bar that stops it the other way.
func drawDiode(_ *drawing, p pen) {
	p.line(wireWidth, -0.4, 0, 0.4, 0)
	p.area(vector.Black, -0.3, -0.34, 0.25, 0, -0.3, 0.34)
	p.line(symbolWidth, 0.25, -0.36, 0.25, 0.36)
}

// drawConnector: a contact bar that reaches into a socket.
func drawConnector(w *drawing, p pen) {
	p.line(wireWidth, -0.4, 0, 0.1, 0)
	p.line(thickWidth+0.4, -0.22, 0, 0.08, 0)
	a := math.Atan2(p.along.Y, p.along.X)
	w.add(arc(p.at(0.04, 0), 0.36*p.size, a-1.3, a+1.3, symbolWidth))
}

// drawFuse: a box with the line running through.
func drawFuse(_ *drawing, p pen) {
	p.box(-0.8, -0.3, 0.8, 0.3)
	p.line(wireWidth, -0.8, 0, 0.8, 0)
}

// drawSwitch: an open contact on two terminals.
func drawSwitch(_ *drawing, p pen) {
	p.line(symbolWidth+0.1, -0.66, 0, 0.55, -0.58)
	p.disc(-0.66, 0, 0.1, vector.White)
	p.disc(0.66, 0, 0.1, vector.White)
}

// drawResistor: an empty box.
func drawResistor(_ *drawing, p pen) { p.box(-0.85, -0.32, 0.85, 0.32) }

// drawThermistor: a resistor under a slanted stroke with a foot; theta marks what it depends on.
func drawThermistor(_ *drawing, p pen) {
	drawResistor(nil, p)
	p.line(symbolWidth, -0.95, 0.6, -0.62, 0.6, 0.62, -0.6)
	p.text("θ", 0.95, -0.55, p.size*1.35)
}

// drawGap: two points that face each other across the gap.
func drawGap(_ *drawing, p pen) {
	for _, s := range []float64{-1, 1} {
		p.line(wireWidth, s*0.6, 0, s*0.4, 0)
		p.area(vector.Black, s*0.5, -0.26, s*0.12, 0, s*0.5, 0.26)
	}
}
