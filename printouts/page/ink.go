package page

// Ink is a colour of a line, an area or a text. No meaning may hang on an ink alone: give the things it tells apart another dash,
// marker, weight or label as well, for many printers know only black. The zero Ink draws nothing; for text it is black.
type Ink uint8

// The inks. The eight named colours are the palette of Okabe and Ito, made to be told apart with every kind of colour vision.
const (
	None  Ink = iota
	Black     // lines and text
	White     // text on dark areas, and areas that hide what is below
	Grey      // secondary text: the lightest that still reads well
	Rule      // hairlines between rows
	Shade     // filling that stands out after copying
	Tint      // filling of boxes and every other row: just visible
	Orange
	SkyBlue
	Green
	Yellow
	Blue
	Vermillion
	Purple
)

// rgb gives the ink's red, green and blue.
func (i Ink) rgb() (r, g, b int) {
	switch i {
	case White:
		return 0xFF, 0xFF, 0xFF
	case Grey:
		return 0x59, 0x59, 0x59
	case Rule:
		return 0xA6, 0xA6, 0xA6
	case Shade:
		return 0xDF, 0xDF, 0xDF
	case Tint:
		return 0xF3, 0xF3, 0xF3
	case Orange:
		return 0xE6, 0x9F, 0x00
	case SkyBlue:
		return 0x56, 0xB4, 0xE9
	case Green:
		return 0x00, 0x9E, 0x73
	case Yellow:
		return 0xF0, 0xE4, 0x42
	case Blue:
		return 0x00, 0x72, 0xB2
	case Vermillion:
		return 0xD5, 0x5E, 0x00
	case Purple:
		return 0xCC, 0x79, 0xA7
	}
	return 0, 0, 0
}

// forText gives black instead of the inks in which small text is hard to read.
func (i Ink) forText() Ink {
	switch i {
	case White, Grey, Blue:
		return i
	}
	return Black
}

// Dash is the pattern of a line.
type Dash uint8

// The patterns. Their lengths grow with the width of the line.
const (
	Solid Dash = iota
	Dashed
	Dotted
	DashDot
)

// lengths gives the pattern for a line of the given width, dashes and gaps in turn, mm.
func (d Dash) lengths(width float64) []float64 {
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

// hairline is the width of a line when none is given, mm.
const hairline = 0.25

// Pen says how a shape is drawn.
type Pen struct {
	Line  Ink     // the outline
	Width float64 // of the outline, mm; 0 means 0.25
	Dash  Dash
	Fill  Ink // the inside
}

// Stroke is a black pen of the given width in mm.
func Stroke(width float64) Pen { return Pen{Line: Black, Width: width} }

// Fill is a pen that fills without an outline.
func Fill(ink Ink) Pen { return Pen{Fill: ink} }
