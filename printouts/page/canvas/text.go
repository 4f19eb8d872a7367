package canvas

import (
	"nospark/printouts/page/typeset"
	"nospark/printouts/vector"
)

// Text prints one line of text at (x, y).
func (c Canvas) Text(x, y float64, text string, s vector.Style) { c.line(x, y, c.SetLine(text, s)) }

// Fit prints one line of text no wider than width: in the size of the style if that fits, else condensed, else smaller
// down to 8 pt, else cut off with an ellipsis. It reports whether the whole text could be printed.
func (c Canvas) Fit(x, y, width float64, text string, s vector.Style) bool {
	l := c.SetFitting(width, text, s)
	c.line(x, y, l)
	return l.Whole
}

// FitWhole prints one line of text no wider than width and never cuts it: condensed if need be, then with narrower
// letters of the same height.
func (c Canvas) FitWhole(x, y, width float64, text string, s vector.Style) {
	c.line(x, y, c.SetNarrowed(width, text, s))
}

func (c Canvas) line(x, y float64, l typeset.Line) {
	if l.Text == "" {
		return
	}
	at := l.Style.Start(vector.At(x, y), l.Width, l.Size)
	c.add(Item{
		Kind: Text, Text: l.Text, Face: typeset.FaceOf(l.Style), Size: l.Size, Angle: l.Style.Angle, Width: l.Width,
		Narrow: l.Narrow, Pen: vector.Pen{Line: l.Style.Color.ForText()}, X: at.X, Y: at.Y,
	})
}

// Paragraph draws a paragraph with its top left corner at (x, y); its lines are aligned in the width it was set for.
func (c Canvas) Paragraph(x, y float64, p typeset.Paragraph) { c.Lines(x, y, p, 0, p.Lines()) }

// Lines draws some lines of a paragraph, the first at (x, y).
func (c Canvas) Lines(x, y float64, p typeset.Paragraph, from, to int) {
	for run := range c.Runs(p, from, to) {
		c.line(x+run.X, y+run.Baseline, run.Line)
	}
}

// Scene draws a scene whose places are those of the canvas.
func (c Canvas) Scene(s vector.Scene) {
	for _, shape := range s.Shapes {
		c.Path(shape.Path, shape.Pen)
	}
	for _, t := range s.Texts {
		at := t.Place()
		c.Text(at.X, at.Y, t.Text, t.Style)
	}
}
