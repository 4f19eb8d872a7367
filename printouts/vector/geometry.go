package vector

import "math"

// Point is a place or a direction in millimeters, x to the right, y down.
type Point struct{ X, Y float64 }

// At is the point at (x, y).
func At(x, y float64) Point { return Point{x, y} }

// Plus is the point moved by b.
func (a Point) Plus(b Point) Point { return Point{a.X + b.X, a.Y + b.Y} }

// Minus is the direction from b to a.
func (a Point) Minus(b Point) Point { return Point{a.X - b.X, a.Y - b.Y} }

// Times is the direction made longer by a factor.
func (a Point) Times(k float64) Point { return Point{a.X * k, a.Y * k} }

// Length is the distance from the origin.
func (a Point) Length() float64 { return math.Hypot(a.X, a.Y) }

// Toward is the direction from a to b, of length 1.
func (a Point) Toward(b Point) Point {
	d := b.Minus(a)
	return d.Times(1 / math.Max(d.Length(), 1e-9))
}

// Near reports whether two points are the same but for rounding.
func (a Point) Near(b Point) bool { return b.Minus(a).Length() < 1e-6 }

// Between is the point a part k of the way from a to b.
func Between(a, b Point, k float64) Point { return a.Plus(b.Minus(a).Times(k)) }

// Rect is a rectangle in millimeters.
type Rect struct{ X, Y, W, H float64 }

// Box is the rectangle with its corner at (x, y).
func Box(x, y, w, h float64) Rect { return Rect{x, y, w, h} }

// Around gives the smallest rectangle that holds all places.
func Around(places ...Point) Rect {
	low, high := places[0], places[0]
	for _, p := range places[1:] {
		low = Point{math.Min(low.X, p.X), math.Min(low.Y, p.Y)}
		high = Point{math.Max(high.X, p.X), math.Max(high.Y, p.Y)}
	}
	return Rect{low.X, low.Y, high.X - low.X, high.Y - low.Y}
}

// Times is the rectangle in another size, its distance from the origin too.
func (r Rect) Times(k float64) Rect { return Rect{r.X * k, r.Y * k, r.W * k, r.H * k} }

// Center is the middle of the rectangle.
func (r Rect) Center() Point { return Point{r.X + r.W/2, r.Y + r.H/2} }

// Grown gives the rectangle with m added on every side.
func (r Rect) Grown(m float64) Rect { return Rect{r.X - m, r.Y - m, r.W + 2*m, r.H + 2*m} }

// Nearest is the place of the rectangle nearest to p.
func (r Rect) Nearest(p Point) Point {
	return Point{min(max(p.X, r.X), r.X+r.W), min(max(p.Y, r.Y), r.Y+r.H)}
}

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
func (r Rect) Crossed(a, b Point) bool {
	from, to, ok := r.Cut(a, b)
	if !ok {
		return false
	}
	inside := Between(from, to, 0.5)
	return inside.X > r.X && inside.X < r.X+r.W && inside.Y > r.Y && inside.Y < r.Y+r.H
}

// Cut gives the part of the straight line from a to b inside the rectangle (Liang-Barsky clipping), and whether there
// is one.
func (r Rect) Cut(a, b Point) (from, to Point, ok bool) {
	low, high := 0.0, 1.0
	d := b.Minus(a)
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
	return Between(a, b, low), Between(a, b, high), low <= high
}
