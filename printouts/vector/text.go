package vector

import "math"

// Align says which end of a text or of a cell's lines is fixed.
type Align uint8

// The alignments.
const (
	Left Align = iota
	Center
	Right
)

// Level says which height of a text is fixed.
type Level uint8

// The levels.
const (
	Baseline Level = iota
	Middle         // half the height of a capital letter: numbers sit in the middle of their circle
	Top            // top of the capital letters
)

// Style says how a text looks. The zero Style is body text, black, with (x, y) at its left on the baseline.
type Style struct {
	Size      float64 // pt; 0 means the size of the text around it; never printed below 8
	Bold      bool
	Condensed bool  // a tenth narrower: for tables and drawings
	Color     Color // Black, Gray, Blue or White; all others print black
	Align     Align
	Level     Level
	Angle     float64 // degrees, counter-clockwise, around (x, y)
}

// Start gives the foot of the first letter of a text of the given width in mm and size in pt that is fixed at a point.
// Alignment moves it along the direction of the text, level moves it across.
func (s Style) Start(at Point, width, size float64) Point {
	along, across := 0.0, 0.0
	switch s.Align {
	case Center:
		along = -width / 2
	case Right:
		along = -width
	}
	switch s.Level {
	case Middle:
		across = CapHeight * size * PerPoint / 2
	case Top:
		across = CapHeight * size * PerPoint
	}
	sin, cos := math.Sincos(s.Angle * math.Pi / 180)
	return Point{at.X + along*cos + across*sin, at.Y - along*sin + across*cos}
}

// PerPoint converts a size in points to millimeters.
const PerPoint = 25.4 / 72

// CapHeight is the height of a capital letter in parts of the size (DejaVu Sans, table OS/2).
const CapHeight = 0.729

// Measure gives the width of a line of text in millimeters.
type Measure func(text string, style Style) float64
