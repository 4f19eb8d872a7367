package paper

import "nospark/printouts/page"

// StripHigh is the height of a strip with a name, mm below the top margin.
const StripHigh = 16.5

// Base of the first line of a strip, mm.
const stripBase = 5.0

// StripCode is what a strip says of its sheet, at the right of its first line; room is what it leaves at the left.
func StripCode(c page.Canvas, sheet string) (base, room float64) {
	code := page.Style{Size: 12, Bold: true, Align: page.Right}
	c.Text(c.W, stripBase, sheet, code)
	return stripBase, c.W - c.Width(sheet, code) - 6
}

// StripNote is the second line of a strip, with what is to be done with it, and the line along which that is done.
func StripNote(c page.Canvas, about, note string) {
	small := page.Style{Size: 10, Condensed: true, Align: page.Right}
	c.Text(c.W, stripBase+5.5, note, small)
	c.Fit(0, stripBase+5.5, c.W-c.Width(note, small)-6, about, page.Style{Size: 10})
	y := StripHigh - 3.5
	// to the edges of the paper, where the tear begins
	c.Line(-Side, y, c.W+Side, y, page.Pen{Line: page.Black, Width: 0.3, Dash: page.Dashed})
}

// TitleHigh is the height of the title of a sheet, mm.
const TitleHigh = 8.5

// Title is the name of a sheet's first page, with its code in a box.
func Title(c page.Canvas, text, sheet string) {
	code := page.Style{Size: 14, Bold: true}
	wide := c.Width(sheet, code) + 6
	c.RoundRect(c.W-wide, -0.5, wide, 8, 1.2, page.Pen{Line: page.Black, Width: 0.45})
	c.Text(c.W-wide/2, 3.5, sheet, page.Style{Size: 14, Bold: true, Align: page.Center, Level: page.Middle})
	c.Fit(0, 5.4, c.W-wide-4, text, page.Style{Size: 16, Bold: true, Condensed: true})
}
