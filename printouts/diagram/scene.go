package diagram

import (
	"math"

	"nospark/printouts/page"
)

// Vec is a place or a direction in millimetres, x to the right, y down.
type Vec struct{ X, Y float64 }

func (a Vec) plus(b Vec) Vec             { return Vec{a.X + b.X, a.Y + b.Y} }
func (a Vec) minus(b Vec) Vec            { return Vec{a.X - b.X, a.Y - b.Y} }
func (a Vec) times(k float64) Vec        { return Vec{a.X * k, a.Y * k} }
func (a Vec) length() float64            { return math.Hypot(a.X, a.Y) }
func (a Vec) unit() Vec                  { return a.times(1 / math.Max(a.length(), 1e-9)) }
func (a Vec) towards(b Vec) Vec          { return b.minus(a).unit() }
func (a Vec) near(b Vec) bool            { return b.minus(a).length() < 1e-6 }
func between(a, b Vec, k float64) Vec    { return a.plus(b.minus(a).times(k)) }
func clamp(x, low, high float64) float64 { return math.Max(low, math.Min(high, x)) }

// Rect is a rectangle in millimetres.
type Rect struct{ X, Y, W, H float64 }

func (r Rect) centre() Vec { return Vec{r.X + r.W/2, r.Y + r.H/2} }

// grown gives the rectangle with m added on every side.
func (r Rect) grown(m float64) Rect { return Rect{r.X - m, r.Y - m, r.W + 2*m, r.H + 2*m} }

// Overlaps reports whether the two rectangles share an area.
func (r Rect) Overlaps(o Rect) bool {
	const touch = 1e-9
	return r.X < o.X+o.W-touch && o.X < r.X+r.W-touch && r.Y < o.Y+o.H-touch && o.Y < r.Y+r.H-touch
}

// Contains reports whether o lies wholly inside r.
func (r Rect) Contains(o Rect) bool {
	return o.X >= r.X && o.Y >= r.Y && o.X+o.W <= r.X+r.W && o.Y+o.H <= r.Y+r.H
}

// Crossed reports whether the straight line from a to b enters the rectangle.
func (r Rect) Crossed(a, b Vec) bool {
	from, to, ok := r.cut(a, b)
	if !ok {
		return false
	}
	inside := between(from, to, 0.5)
	return inside.X > r.X && inside.X < r.X+r.W && inside.Y > r.Y && inside.Y < r.Y+r.H
}

// cut gives the part of the straight line from a to b inside the rectangle (Liang-Barsky clipping).
func (r Rect) cut(a, b Vec) (from, to Vec, ok bool) {
	low, high := 0.0, 1.0
	d := b.minus(a)
	for _, c := range [4][2]float64{
		{-d.X, a.X - r.X}, {d.X, r.X + r.W - a.X}, {-d.Y, a.Y - r.Y}, {d.Y, r.Y + r.H - a.Y},
	} {
		switch p, q := c[0], c[1]; {
		case math.IsNaN(p) || math.IsNaN(q) || p == 0 && q < 0:
			return a, b, false
		case p < 0:
			low = math.Max(low, q/p)
		case p > 0:
			high = math.Min(high, q/p)
		}
	}
	return between(a, b, low), between(a, b, high), low <= high
}

// around gives the smallest rectangle that holds all places.
func around(places ...Vec) Rect {
	low, high := places[0], places[0]
	for _, p := range places[1:] {
		low = Vec{math.Min(low.X, p.X), math.Min(low.Y, p.Y)}
		high = Vec{math.Max(high.X, p.X), math.Max(high.Y, p.Y)}
	}
	return Rect{low.X, low.Y, high.X - low.X, high.Y - low.Y}
}

// Step goes on from the last place of a path: straight to To, or along a cubic curve.
type Step struct {
	C1, C2, To Vec
	Curve      bool
}

// Path is a line or an area.
type Path struct {
	Start  Vec
	Steps  []Step
	Closed bool
	Pen    page.Pen
}

// Text is one line of text with the box it keeps free: level with the middle of the box, and in it to the left, centred or right by
// its style.
type Text struct {
	Text  string
	Box   Rect
	Style page.Style
	Kind  TextKind
}

// TextKind says what a text belongs to.
type TextKind uint8

// The kinds of text.
const (
	PartLabel TextKind = iota
	PointLabel
	PointNumber // inside its circle
	PinName     // inside its box
	SymbolText  // inside a symbol: the M of a motor
)

// Scene is a drawing ready to be rendered: paths from back to front, then texts.
type Scene struct {
	Paths []Path
	Texts []Text
	Wires []Wire   // what texts must not cross
	Left  []string // labels for which there was no free place; the point list has them

	leaders int
}

// Wire is a straight piece of a conductor.
type Wire struct{ From, To Vec }

func line(width float64, places ...Vec) Path {
	p := Path{Start: places[0], Pen: page.Stroke(width)}
	for _, to := range places[1:] {
		p.Steps = append(p.Steps, Step{To: to})
	}
	return p
}

func area(fill page.Ink, width float64, places ...Vec) Path {
	p := line(width, places...)
	p.Closed, p.Pen.Fill = true, fill
	return p
}

func rectangle(r Rect, fill page.Ink, width float64) Path {
	return area(fill, width, Vec{r.X, r.Y}, Vec{r.X + r.W, r.Y}, Vec{r.X + r.W, r.Y + r.H}, Vec{r.X, r.Y + r.H})
}

// arc draws part of a circle by cubic curves, at most a quarter turn each; angles in radians, clockwise on paper.
func arc(c Vec, r, from, to, width float64) Path {
	n := int(math.Ceil(math.Abs(to-from)/(math.Pi/2) - 1e-9))
	turn := (to - from) / float64(n)
	k := 4.0 / 3 * math.Tan(turn/4) * r
	on := func(a float64) (place, tangent Vec) {
		s, co := math.Sincos(a)
		return Vec{c.X + r*co, c.Y + r*s}, Vec{-s, co}
	}
	start, _ := on(from)
	p := Path{Start: start, Pen: page.Stroke(width)}
	for i := range n {
		a, ta := on(from + float64(i)*turn)
		b, tb := on(from + float64(i+1)*turn)
		p.Steps = append(p.Steps, Step{C1: a.plus(ta.times(k)), C2: b.minus(tb.times(k)), To: b, Curve: true})
	}
	return p
}

func circle(c Vec, r float64, fill page.Ink, width float64) Path {
	p := arc(c, r, 0, 2*math.Pi, width)
	p.Closed, p.Pen.Fill = true, fill
	return p
}

// disc is a filled circle without an outline.
func disc(c Vec, r float64, fill page.Ink) Path {
	p := circle(c, r, fill, 0)
	p.Pen = page.Fill(fill)
	return p
}
