// Package section sets the blocks of a content.Section on paper. Start at [Print].
package section

import (
	"fmt"

	"nospark/printouts/content"
	"nospark/printouts/page"
)

// Artist draws the pictures that this package does not know, and fills the canvas with them.
type Artist func(page.Canvas, content.Picture)

// Print adds a section of blocks. A hand that places the parts of a page itself takes [Open] instead.
func Print(d *page.Document, s content.Section, draw Artist) {
	r := renderer{Open(d, s), draw}
	r.blocks(s.Blocks)
}

// Open begins a section with the heads and foot, but without the blocks of its content.
func Open(d *page.Document, s content.Section) *page.Flow {
	return d.Section(page.Frame{Name: s.Name, Left: s.Left, Right: s.Right, Foot: s.Foot, Size: s.Size, Large: s.Large,
		Landscape: s.Across, Side: s.Side})
}

// renderer sets blocks one below the other.
type renderer struct {
	*page.Flow
	draw Artist
}

func (r renderer) blocks(blocks []content.Block) {
	for _, b := range blocks {
		r.block(b)
	}
}

func (r renderer) block(b content.Block) {
	switch b := b.(type) {
	case content.Title:
		r.Title(b.Text, b.Below)
	case content.Strip:
		r.strip(b)
	case content.Heading:
		if b.Level > 2 {
			r.Subheading(b.Text)
		} else {
			r.Heading(b.Text)
		}
	case content.Entry:
		r.entry(b)
	case content.Paragraph:
		r.ParaIn(b.Text, styleOf(b.Look))
	case content.List:
		if b.Numbered {
			r.Numbered(b.Items...)
		} else {
			r.Bullets(b.Items...)
		}
	case content.Fields:
		r.fields(b)
	case content.Note:
		r.Note(b.Title, b.Text)
	case content.Table:
		r.table(b)
	case content.Readings:
		r.readings(b)
	case content.Cards:
		r.cards(b)
	case content.Figure:
		r.figure(b)
	default:
		r.rest(b)
	}
}

// rest renders forms, cautions and the hints for paper.
func (r renderer) rest(b content.Block) {
	switch b := b.(type) {
	case content.Form:
		r.Together(func() {
			if b.Name != "" {
				r.Subheading(b.Name)
			}
			for _, row := range b.Rows {
				r.Flow.Fields(row...)
			}
		})
	case content.Lines:
		r.Para(b.Label)
		r.Blanks(b.Count)
	case content.Cautions:
		r.Cautions(b)
	case content.Columns:
		r.Flow.Columns(b.N, 8, func() { r.blocks(b.Blocks) })
	case content.Together:
		r.Flow.Together(func() { r.blocks(b.Blocks) })
	case content.PageBreak:
		r.Turn()
	default:
		panic(fmt.Sprintf("section: a block of type %T cannot be printed", b))
	}
}

// strip gives the name a page of its own, which takes the place of a strip to tear off.
func (r renderer) strip(s content.Strip) {
	if s.Name != "" {
		r.Title(s.Name, s.About)
	} else {
		r.Title(s.About, "")
		r.Flow.Fields("name")
	}
	r.Para(s.Note)
	r.Turn()
}

func styleOf(l content.Look) page.Style { return page.Style{Size: l.Size, Condensed: l.Condensed} }

// entry draws a bar that is found when leafing. In large print it is a heading.
func (r renderer) entry(e content.Entry) {
	if r.Sizes.Large() {
		r.Heading(e.Code + " " + e.Text + " " + e.Aside)
		return
	}
	r.Space(3)
	r.Draw(8, func(c page.Canvas) {
		c.Rect(0, 0, c.W, c.H, page.Fill(page.Shade))
		code := page.Style{Size: 11, Bold: true, Level: page.Middle}
		c.Text(2, c.H/2, e.Code, code)
		right := page.Style{Size: 11, Bold: true, Condensed: true, Align: page.Right, Level: page.Middle}
		c.Text(c.W-2, c.H/2, e.Aside, right)
		x := 6 + c.Width(e.Code, code)
		c.Fit(x, c.H/2, c.W-x-c.Width(e.Aside, right)-8, e.Text,
			page.Style{Size: 10, Bold: true, Condensed: true, Level: page.Middle})
	})
}

// fields sets each text with its label in the margin, in large print before it.
func (r renderer) fields(f content.Fields) {
	const indent = 27.0 // mm
	style := styleOf(f.Look)
	for _, field := range f.List {
		switch {
		case field.Text == "":
		case r.Sizes.Large() && field.Label != "":
			r.Para("**" + field.Label + ":** " + field.Text)
		case r.Sizes.Large():
			r.Para(field.Text)
		default:
			p := r.Set(r.W-indent, field.Text, style)
			r.Draw(p.H+0.3, func(c page.Canvas) {
				label := page.Style{Size: style.Size, Bold: true, Condensed: style.Condensed, Level: page.Middle}
				c.Text(0, c.LineHeight(style)/2, field.Label, label)
				c.Paragraph(indent, 0, p)
			})
		}
	}
}
