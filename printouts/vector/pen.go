package vector

// Dash is the pattern of a line.
type Dash uint8

// The patterns. Their lengths grow with the width of the line.
const (
	Solid Dash = iota
	Dashed
	Dotted
	DashDot
)

// Lengths gives the pattern for a line of the given width, dashes and gaps in turn, mm.
func (d Dash) Lengths(width float64) []float64 {
	u := max(width, 0.2)
	switch d {
	case Dashed:
		return []float64{6 * u, 3.5 * u}
	case Dotted:
		return []float64{1.2 * u, 2.4 * u}
	case DashDot:
		return []float64{7 * u, 2.5 * u, 1.2 * u, 2.5 * u}
	}
	return nil
}

// Hairline is the width of a line when none is given, mm.
const Hairline = 0.25

// Pen says how a shape is drawn.
type Pen struct {
	Line  Color   // the outline
	Width float64 // of the outline, mm; 0 means [Hairline]
	Dash  Dash
	Fill  Color // the inside
}

// Stroke is a black pen of the given width in mm.
func Stroke(width float64) Pen { return Pen{Line: Black, Width: width} }

// Fill is a pen that fills without an outline.
func Fill(color Color) Pen { return Pen{Fill: color} }
