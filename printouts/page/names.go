package page

import (
	"nospark/printouts/page/canvas"
	"nospark/printouts/page/typeset"
	"nospark/printouts/vector"
)

// What is drawn and written with has names of this package too, so that a document needs no other.
type (
	Canvas     = canvas.Canvas
	Chart      = canvas.Chart
	Series     = canvas.Series
	Fonts      = typeset.Fonts
	Legibility = typeset.Legibility
	Paragraph  = typeset.Paragraph
	Sizes      = typeset.Sizes
	Align      = vector.Align
	Color      = vector.Color
	Path       = vector.Path
	Pen        = vector.Pen
	Point      = vector.Point
	Style      = vector.Style
)

// The colors, patterns of lines, alignments and levels of package vector.
const (
	None  = vector.None
	Black = vector.Black
	White = vector.White
	Gray  = vector.Gray
	Rule  = vector.Rule
	Shade = vector.Shade
	Tint  = vector.Tint
	Blue  = vector.Blue

	Dashed = vector.Dashed

	Left   = vector.Left
	Center = vector.Center
	Right  = vector.Right
	Middle = vector.Middle
	Top    = vector.Top
)

// LoadFonts opens the embedded typefaces. It is needed only to share them between documents or to ask [Fonts.Legible]
// before there is a document; [New] loads them on its own.
func LoadFonts() (*Fonts, error) { return typeset.LoadFonts() }

// Stroke is a black pen of the given width in mm.
func Stroke(width float64) Pen { return vector.Stroke(width) }

// Fill is a pen that fills without an outline.
func Fill(color Color) Pen { return vector.Fill(color) }
