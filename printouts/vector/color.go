package vector

// Color is the color of a line, an area or a text. No meaning may hang on a color alone: give the things it tells apart
// another dash, marker, weight or label as well, for many printers know only black. The zero Color draws nothing; for
// text it is black.
type Color uint8

// The colors. The eight named ones are the palette of Okabe and Ito, made to be told apart with every kind of color
// vision.
const (
	None  Color = iota
	Black       // lines and text
	White       // text on dark areas, and areas that hide what is below
	Gray        // secondary text: the lightest that still reads well
	Rule        // hairlines between rows
	Shade       // filling that stands out after copying
	Tint        // filling of boxes and every other row: just visible
	Orange
	SkyBlue
	Green
	Yellow
	Blue
	Vermillion
	Purple
)

// RGB gives the color's red, green and blue, from 0 to 255.
func (c Color) RGB() (r, g, b int) {
	switch c {
	case White:
		return 0xFF, 0xFF, 0xFF
	case Gray:
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

// ForText gives black instead of the colors in which small text is hard to read.
func (c Color) ForText() Color {
	switch c {
	case White, Gray, Blue:
		return c
	}
	return Black
}
