package vector

import "math"

// Path is a line of straight pieces and curves. Its zero value is empty; the first step should be a Move.
type Path []Step

// StepKind says how a path goes on.
type StepKind uint8

// The kinds of steps.
const (
	MoveTo  StepKind = iota // begin a new piece
	LineTo                  // straight on
	CurveTo                 // along a cubic Bézier curve
	Close                   // straight back to where the piece began
)

// Step is one step of a path, to the point To; a curve has two control points.
type Step struct {
	Kind       StepKind
	C1, C2, To Point
}

// Move begins a new piece at a place.
func (p *Path) Move(x, y float64) *Path { return p.add(Step{Kind: MoveTo, To: Point{x, y}}) }

// Line goes straight on to a place.
func (p *Path) Line(x, y float64) *Path { return p.add(Step{Kind: LineTo, To: Point{x, y}}) }

// Curve goes on along a cubic Bézier curve with the two control points.
func (p *Path) Curve(c1, c2, to Point) *Path {
	return p.add(Step{Kind: CurveTo, C1: c1, C2: c2, To: to})
}

// Close goes straight back to where the piece began and joins the ends.
func (p *Path) Close() *Path { return p.add(Step{Kind: Close}) }

func (p *Path) add(s Step) *Path {
	*p = append(*p, s)
	return p
}

// Arc goes on along part of a circle around (x, y), from one angle to another, in degrees, counter-clockwise from three
// o'clock; from may be larger than to. It begins with a Move in an empty path and with a straight line to its start
// otherwise.
//
// Each piece of at most a quarter turn t is a cubic curve whose control points lie 4/3 tan(t/4) radii along the
// tangents; it strays from the circle by less than 0.03 % of the radius.
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
	if len(*p) == 0 {
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

// Polyline joins places by straight lines.
func Polyline(places ...Point) Path {
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

// Polygon joins places by straight lines and closes the outline.
func Polygon(places ...Point) Path {
	p := Polyline(places...)
	return *p.Close()
}

// Circle is a circle around (x, y).
func Circle(x, y, r float64) Path {
	var p Path
	return *p.Arc(x, y, r, 0, 360).Close()
}

// RoundRect is a rectangle with round corners.
func RoundRect(x, y, w, h, r float64) Path {
	r = min(r, w/2, h/2)
	var p Path
	p.Arc(x+w-r, y+r, r, 0, 90).Arc(x+r, y+r, r, 90, 180).Arc(x+r, y+h-r, r, 180, 270).Arc(x+w-r, y+h-r, r, 270, 360)
	return *p.Close()
}
