package page

import (
	"strconv"

	"nospark/printouts/vector"
)

// Room around blocks, as parts of the body's line height.
const (
	aboveHeading   = 1.1
	belowHeading   = 0.35
	aboveParagraph = 0.45
	aboveItem      = 0.2
)

// lineHeight is the height of a line of body text, the measure of all room between blocks, mm.
func (f *Flow) lineHeight() float64 { return f.LineHeight(Style{}) }

// Title sets the name of the sheet in large letters and, if there is one, a line below it that says what the sheet is
// for.
func (f *Flow) Title(text, below string) {
	f.lines(0, f.Set(f.W, text, Style{Size: f.Sizes.Title, Bold: true, Condensed: true}), true)
	if below != "" {
		f.lines(0.1*f.lineHeight(), f.Set(f.W, below, Style{Size: f.Sizes.Lead, Color: Gray}), true)
	}
	f.add(f.draw(0.3*f.lineHeight(), 0.8, func(c Canvas) {
		c.Line(0, 0.4, c.W, 0.4, Pen{Line: Blue, Width: 0.7})
	}))
	f.gap += 0.3 * f.lineHeight()
}

// Heading begins a part of the sheet. It stays with what follows.
func (f *Flow) Heading(text string) {
	p := f.Set(f.W, text, Style{Size: f.Sizes.Heading, Bold: true, Condensed: true})
	f.lines(aboveHeading*f.lineHeight(), p, true)
	f.gap += belowHeading * f.lineHeight() / 2
}

// Subheading begins a smaller part, in the size of the body. It stays with what follows.
func (f *Flow) Subheading(text string) {
	p := f.Set(f.W, text, Style{Bold: true})
	f.lines(0.7*f.lineHeight(), p, true)
}

// Para adds a paragraph of body text; see [Paragraph] for bold words. Empty text adds nothing.
func (f *Flow) Para(text string) { f.ParaIn(text, Style{}) }

// ParaIn adds a paragraph in another style.
func (f *Flow) ParaIn(text string, s Style) {
	if text != "" {
		f.lines(aboveParagraph*f.lineHeight(), f.Set(f.W, text, f.Running(s)), false)
	}
}

// Running keeps running text at the section's least size or above.
func (f *Flow) Running(s Style) Style {
	if s.Size != 0 {
		s.Size = max(s.Size, f.Sizes.Least)
	}
	return s
}

// lines adds the lines of a paragraph.
func (f *Flow) lines(before float64, p Paragraph, glue bool) { f.hanging(before, 0, "", p, glue) }

// hanging adds the lines of a paragraph, indented, with a sign in the margin before the first. The first two and the
// last two lines stay together, so that no page begins or ends with a straggler.
func (f *Flow) hanging(before, indent float64, sign string, p Paragraph, glue bool) {
	n := p.Lines()
	for i := range n {
		u := f.draw(before, p.Pitch, func(c Canvas) {
			if i == 0 && sign != "" {
				c.Paragraph(0, 0, f.Set(f.W, sign, Style{}))
			}
			c.Lines(indent, 0, p, i, i+1)
		})
		u.glue = i == 0 && n > 1 || i == n-2 || glue
		before = 0
		f.add(u)
	}
}

// Bullets adds a list with a dot before each item.
func (f *Flow) Bullets(items ...string) {
	for i, item := range items {
		f.item(i, "•", item)
	}
}

// Numbered adds a list with a number before each item.
func (f *Flow) Numbered(items ...string) {
	for i, item := range items {
		f.item(i, strconv.Itoa(i+1)+".", item)
	}
}

// item adds one item of a list, its mark hanging in the margin of the list.
func (f *Flow) item(i int, sign, text string) {
	em := f.Sizes.Body * vector.PerPoint
	indent := max(1.3*em, f.Width(sign, Style{})+0.6*em)
	p := f.Set(f.W-indent, text, Style{})
	before := aboveItem * f.lineHeight()
	if i == 0 {
		before = aboveParagraph * f.lineHeight()
	}
	f.hanging(before, indent, sign, p, false)
}
