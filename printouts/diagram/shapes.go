package diagram

import (
	"math"

	"nospark/printouts/vector"
)

func line(width float64, places ...vector.Point) vector.Shape {
	return vector.Shape{Path: vector.Polyline(places...), Pen: vector.Stroke(width)}
}

func area(fill vector.Color, width float64, places ...vector.Point) vector.Shape {
	return filled(vector.Polygon(places...), fill, width)
}

func rectangle(r vector.Rect, fill vector.Color, width float64) vector.Shape {
	a, b := vector.At(r.X, r.Y), vector.At(r.X+r.W, r.Y+r.H)
	return area(fill, width, a, vector.At(b.X, a.Y), b, vector.At(a.X, b.Y))
}

// arc draws part of a circle; angles in radians, clockwise on paper.
func arc(c vector.Point, r, from, to, width float64) vector.Shape {
	const degrees = 180 / math.Pi
	var p vector.Path
	return vector.Shape{Path: *p.Arc(c.X, c.Y, r, -from*degrees, -to*degrees), Pen: vector.Stroke(width)}
}

func circle(c vector.Point, r float64, fill vector.Color, width float64) vector.Shape {
	return filled(vector.Circle(c.X, c.Y, r), fill, width)
}

// disc is a filled circle without an outline.
func disc(c vector.Point, r float64, fill vector.Color) vector.Shape {
	return vector.Shape{Path: vector.Circle(c.X, c.Y, r), Pen: vector.Fill(fill)}
}

func filled(p vector.Path, fill vector.Color, width float64) vector.Shape {
	return vector.Shape{Path: p, Pen: vector.Pen{Line: vector.Black, Width: width, Fill: fill}}
}
