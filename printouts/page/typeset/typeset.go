package typeset

import (
	"math"

	"nospark/printouts/vector"
)

// Measures of the typefaces in parts of the size (DejaVu Sans, table hhea).
const (
	Descender = 0.236
	leading   = 1.38 // distance of baselines in a paragraph
)

// Smallest is the smallest size of any text, pt: what an office copy of a copy still shows.
const Smallest = 8

// Sizes are the sizes of text in a section, pt.
type Sizes struct {
	Body, Small, Lead, Heading, Title float64
	Least                             float64 // no running text is smaller
}

// Large reports whether the section is in large print. Blocks that stand beside each other are then set below each
// other.
func (s Sizes) Large() bool { return s.Least > Smallest }

// SizesFor derives all sizes from the body's. Large print has nothing smaller than its body (APH guideline: 18 pt or
// more throughout).
func SizesFor(body float64, large bool) Sizes {
	if large {
		const base = 18
		return Sizes{Body: base, Small: base, Lead: base + 1, Heading: base + 3, Title: base + 8, Least: base}
	}
	if body == 0 {
		body = 10.5
	}
	body = max(body, Smallest)
	return Sizes{Body: body, Small: max(Smallest, 0.83*body), Lead: body + 1.5, Heading: body + 3, Title: body + 10,
		Least: Smallest}
}

// Setter measures text and breaks it into lines, so that what is measured is what is printed.
type Setter struct {
	Sizes Sizes
	Fonts *Fonts
}

// size is the size in which a style is printed, pt.
func (t *Setter) size(s vector.Style) float64 {
	if s.Size == 0 {
		return t.Sizes.Body
	}
	return max(s.Size, Smallest)
}

// LineHeight is the distance of two baselines, mm.
func (t *Setter) LineHeight(s vector.Style) float64 { return leading * t.size(s) * vector.PerPoint }

// Width is the width of a line of text, mm.
func (t *Setter) Width(text string, s vector.Style) float64 {
	return t.widthOf(t.Fonts.printable(text, longestLine), s)
}

// widthOf is the width of a clean text, mm.
func (t *Setter) widthOf(clean string, s vector.Style) float64 {
	return float64(t.Fonts.width(clean, FaceOf(s))) / 1000 * t.size(s) * vector.PerPoint
}

// Line is one line of text, clean and measured.
type Line struct {
	Text   string
	Style  vector.Style
	Size   float64 // pt, as printed
	Width  float64 // mm, as printed
	Narrow float64 // factor of the widths of its letters, 1 unless it had to fit
	Whole  bool    // false when its end was cut off
}

// SetLine cleans and measures one line of text.
func (t *Setter) SetLine(text string, s vector.Style) Line {
	return t.line(t.Fonts.printable(text, longestLine), s)
}

func (t *Setter) line(clean string, s vector.Style) Line {
	return Line{Text: spaced(clean), Style: s, Size: t.size(s), Width: t.widthOf(clean, s), Narrow: 1, Whole: true}
}

// SetFitting sets one line of text no wider than width: in the size of the style if that fits, else condensed, else
// smaller down to 8 pt, else cut off with an ellipsis.
func (t *Setter) SetFitting(width float64, text string, s vector.Style) Line {
	text = t.Fonts.printable(text, longestLine)
	if t.widthOf(text, s) > width {
		s.Condensed = true
	}
	if wide := t.widthOf(text, s); wide > width && width > 0 {
		s.Size = max(t.Sizes.Least, math.Floor(t.size(s)*width/wide*10)/10)
	}
	if t.widthOf(text, s) <= width {
		return t.line(text, s)
	}
	cut := t.line(t.shorten(text, width, s), s)
	cut.Whole = false
	return cut
}

// SetNarrowed sets one line of text no wider than width and never cuts it: condensed if need be, then with narrower
// letters of the same height. It is for tables whose geometry must not depend on their texts.
func (t *Setter) SetNarrowed(width float64, text string, s vector.Style) Line {
	text = t.Fonts.printable(text, longestLine)
	if t.widthOf(text, s) > width {
		s.Condensed = true
	}
	l := t.line(text, s)
	if l.Width > width && width > 0 {
		l.Narrow = width / l.Width
		l.Width *= l.Narrow
	}
	return l
}

// shorten cuts a clean text so that it fits with an ellipsis.
func (t *Setter) shorten(clean string, width float64, s vector.Style) string {
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
