package page

import "math"

// Measures of the typefaces in parts of the size (DejaVu Sans, tables OS/2 and hhea).
const (
	capHeight = 0.729
	descender = 0.236
	leading   = 1.38 // distance of baselines in a paragraph
)

// mmPerPoint converts a size in points.
const mmPerPoint = 25.4 / 72

// smallest size of any text, pt: what an office copy of a copy still shows.
const smallest = 8

// Sizes are the sizes of text in a section, pt.
type Sizes struct {
	Body, Small, Lead, Heading, Title float64
	Least                             float64 // no running text is smaller
}

// Large reports whether the section is in large print. Blocks that stand beside each other are then set below each other.
func (s Sizes) Large() bool { return s.Least > smallest }

// sizesFor derives all sizes from the body's. Large print has nothing smaller than its body (APH guideline: 18 pt or more throughout).
func sizesFor(body float64, large bool) Sizes {
	if large {
		const base = 18
		return Sizes{Body: base, Small: base, Lead: base + 1, Heading: base + 3, Title: base + 8, Least: base}
	}
	if body == 0 {
		body = 10.5
	}
	body = max(body, smallest)
	return Sizes{Body: body, Small: max(smallest, 0.83*body), Lead: body + 1.5, Heading: body + 3, Title: body + 10, Least: smallest}
}

// Align says which end of a text or of a cell's lines is fixed.
type Align uint8

// The alignments.
const (
	Left Align = iota
	Centre
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
	Size      float64 // pt; 0 means the section's body size; never printed below 8
	Bold      bool
	Condensed bool // a tenth narrower: for tables and drawings
	Ink       Ink  // Black, Grey, Blue or White; all others print black
	Align     Align
	Level     Level
	Angle     float64 // degrees, counter-clockwise, around (x, y)
}

func (s Style) face() face {
	var f face
	if s.Bold {
		f |= faceBold
	}
	if s.Condensed {
		f |= faceCondensed
	}
	return f
}

// typesetter measures text. Flows and canvases have one in them, so that what is measured is what is printed.
type typesetter struct {
	Sizes Sizes

	fonts *Fonts
}

func (t *typesetter) size(s Style) float64 {
	if s.Size == 0 {
		return t.Sizes.Body
	}
	return max(s.Size, smallest)
}

// Width is the width of a line of text, mm.
func (t *typesetter) Width(text string, s Style) float64 {
	return t.widthOf(t.fonts.printable(text, longestLine), s)
}

// widthOf is the width of a clean text, mm.
func (t *typesetter) widthOf(clean string, s Style) float64 {
	return float64(t.fonts.width(clean, s.face())) / 1000 * t.size(s) * mmPerPoint
}

// LineHeight is the distance of two baselines, mm.
func (t *typesetter) LineHeight(s Style) float64 { return leading * t.size(s) * mmPerPoint }

// Text prints one line of text at (x, y).
func (c Canvas) Text(x, y float64, text string, s Style) {
	c.put(x, y, c.fonts.printable(text, longestLine), s)
}

// put prints a clean text.
func (c Canvas) put(x, y float64, clean string, s Style) { c.narrowed(x, y, clean, s, 1) }

// narrowed prints a clean text with the widths of its letters multiplied by a factor.
func (c Canvas) narrowed(x, y float64, clean string, s Style, factor float64) {
	if clean == "" {
		return
	}
	size := c.size(s)
	width := c.widthOf(clean, s) * factor
	// Alignment moves the start along the direction of the text, level moves it across.
	along, across := 0.0, 0.0
	switch s.Align {
	case Centre:
		along = -width / 2
	case Right:
		along = -width
	}
	switch s.Level {
	case Middle:
		across = capHeight * size * mmPerPoint / 2
	case Top:
		across = capHeight * size * mmPerPoint
	}
	sin, cos := math.Sincos(s.Angle * math.Pi / 180)
	c.add(mark{
		kind: markText, text: spaced(clean), face: s.face(), size: size, angle: s.Angle, wide: width, narrow: factor,
		pen: Pen{Line: s.Ink.forText()},
		x:   x + along*cos + across*sin, y: y - along*sin + across*cos,
	})
}

// Fit prints one line of text no wider than width: in the size of the style if that fits, else condensed, else smaller down to 8 pt,
// else cut off with an ellipsis. It reports whether the whole text could be printed.
func (c Canvas) Fit(x, y, width float64, text string, s Style) bool {
	text = c.fonts.printable(text, longestLine)
	if c.widthOf(text, s) > width {
		s.Condensed = true
	}
	if wide := c.widthOf(text, s); wide > width && width > 0 {
		s.Size = max(c.Sizes.Least, math.Floor(c.size(s)*width/wide*10)/10)
	}
	whole := c.widthOf(text, s) <= width
	if !whole {
		text = c.shorten(text, width, s)
	}
	c.put(x, y, text, s)
	return whole
}

// FitWhole prints one line of text no wider than width and never cuts it: condensed if need be, then with narrower letters of the same
// height. It is for tables whose geometry must not depend on their texts.
func (c Canvas) FitWhole(x, y, width float64, text string, s Style) {
	text = c.fonts.printable(text, longestLine)
	if c.widthOf(text, s) > width {
		s.Condensed = true
	}
	factor := 1.0
	if wide := c.widthOf(text, s); wide > width && width > 0 {
		factor = width / wide
	}
	c.narrowed(x, y, text, s, factor)
}

// shorten cuts a clean text so that it fits with an ellipsis.
func (t *typesetter) shorten(clean string, width float64, s Style) string {
	end, sum := 0, t.widthOf("…", s)
	for i, r := range clean {
		if sum > width {
			break
		}
		end = i
		sum += t.widthOf(string(r), s)
	}
	return clean[:end] + "…"
}
