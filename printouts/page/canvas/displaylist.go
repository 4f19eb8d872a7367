package canvas

import (
	"nospark/printouts/page/typeset"
	"nospark/printouts/vector"
)

// Kind tells the items of a display list apart.
type Kind uint8

// The kinds of items.
const (
	Text Kind = iota
	Path
	Line
	Rect
)

// Item is one thing drawn. Items are kept until their section is complete, because only then the number of pages is
// known, and because a block must be able to move to the next page.
type Item struct {
	Kind       Kind
	Pen        vector.Pen
	X, Y, W, H float64 // text: start of the baseline; line: both ends; others: the rectangle, mm
	Path       vector.Path
	Text       string // clean
	Face       typeset.Face
	Size       float64 // pt
	Angle      float64 // degrees, counter-clockwise
	Width      float64 // of the text, mm
	Narrow     float64 // factor of the widths of the letters
}

// DisplayList is what was drawn, in order.
type DisplayList []Item

func (c Canvas) add(i Item) {
	i.X, i.Y = i.X+c.x, i.Y+c.y
	if i.Kind == Line {
		i.W, i.H = i.W+c.x, i.H+c.y
	}
	*c.list = append(*c.list, i)
}
