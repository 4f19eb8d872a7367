package page

import "math"

// Point is a place on a [Canvas], mm from its left and from its top.
type Point struct{ X, Y float64 }

// Path is a line of straight pieces and curves. Its zero value is empty; the first step should be a Move.
type Path struct{ steps []step }

type stepKind uint8

const (
	stepMove stepKind = iota
	stepLine
	stepCurve
	stepClose
)

type step struct {
	kind      stepKind
	c1, c2, p Point
}

// Move begins a new piece at a place.
func (p *Path) Move(x, y float64) *Path { return p.add(step{kind: stepMove, p: Point{x, y}}) }

// Line goes straight on to a place.
func (p *Path) Line(x, y float64) *Path { return p.add(step{kind: stepLine, p: Point{x, y}}) }

// Curve goes on along a cubic Bézier curve with the two control points.
func (p *Path) Curve(c1, c2, to Point) *Path {
	return p.add(step{kind: stepCurve, c1: c1, c2: c2, p: to})
}

// Close goes straight back to where the piece began and joins the ends.
func (p *Path) Close() *Path { return p.add(step{kind: stepClose}) }

func (p *Path) add(s step) *Path {
	p.steps = append(p.steps, s)
	return p
}

// Arc goes on along part of a circle around (x, y), from one angle to another, in degrees, counter-clockwise from three o'clock;
// from may be larger than to. It begins with a Move in an empty path and with a straight line to its start otherwise.
//
// Each piece of at most a quarter turn t is a cubic curve whose control points lie 4/3 tan(t/4) radii along the tangents; it
// strays from the circle by less than 0.03 % of the radius.
func (p *Path) Arc(x, y, r, from, to float64) *Path {
	pieces := max(1, int(math.Ceil(math.Abs(to-from)/90-1e-9)))
	turn := (to - from) / float64(pieces) * math.Pi / 180
	reach := 4.0 / 3 * math.Tan(turn/4) * r
	at := from * math.Pi / 180
	place := func(a float64) (on, along Point) {
		sin, cos := math.Sincos(a)
		return Point{x + r*cos, y - r*sin}, Point{-reach * sin, -reach * cos}
	}
	start, _ := place(at)
	if len(p.steps) == 0 {
		p.Move(start.X, start.Y)
	} else {
		p.Line(start.X, start.Y)
	}
	for range pieces {
		a, alongA := place(at)
		at += turn
		b, alongB := place(at)
		p.Curve(Point{a.X + alongA.X, a.Y + alongA.Y}, Point{b.X - alongB.X, b.Y - alongB.Y}, b)
	}
	return p
}

// polyline joins places by straight lines.
func polyline(places []Point) Path {
	var p Path
	for i, at := range places {
		if i == 0 {
			p.Move(at.X, at.Y)
		} else {
			p.Line(at.X, at.Y)
		}
	}
	return p
}

// rounded is a rectangle with round corners.
func rounded(x, y, w, h, r float64) Path {
	r = min(r, w/2, h/2)
	var p Path
	p.Arc(x+w-r, y+r, r, 0, 90).Arc(x+r, y+r, r, 90, 180).Arc(x+r, y+h-r, r, 180, 270).Arc(x+w-r, y+h-r, r, 270, 360)
	return *p.Close()
}
