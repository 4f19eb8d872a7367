package page

import (
	"nospark/printouts/content"
	"nospark/printouts/page/typeset"
	"nospark/printouts/vector"
)

// Cautions adds the box with the cautions: all of them, as they belong beside the way to run a lab, or in a few lines,
// as on every other sheet.
func (f *Flow) Cautions(of content.Cautions) {
	if !of.All {
		f.warning(func() { f.ParaIn(of.Short(), Style{Size: max(readable, f.Sizes.Small)}) })
		return
	}
	small := Style{Size: f.Sizes.Small}
	f.warning(func() {
		f.ParaIn("**"+content.CautionsTitle+"**", Style{Size: f.Sizes.Lead})
		f.ParaIn(content.CautionsLead, small)
		for _, text := range of.List() {
			f.ParaIn(text, small)
		}
		f.gap += 0.2 * f.lineHeight()
		f.ParaIn(content.CautionsFirst, small)
	})
}

// shortCautions is the text of the box that [ShortCautions] draws: no larger than running text must be, for sheets
// with little room.
func shortCautions(t *typeset.Setter, width float64, of content.Cautions) Paragraph {
	return t.Set(width-3*shortPad-shortSign, of.Short(), Style{Size: max(readable, t.Sizes.Least), Condensed: true})
}

// readable is the least size of running text, pt.
const readable = 10

// Measures of that box, mm.
const (
	shortPad  = 1.6
	shortSign = 10.5
)

// ShortCautionsHeight is the height of the box that [ShortCautions] draws in a given width, mm.
func ShortCautionsHeight(f *Flow, width float64, of content.Cautions) float64 {
	return max(shortCautions(f.Setter, width, of).H, shortSign*0.9) + 2*shortPad
}

// ShortCautions fills the canvas with the box of the short cautions, for sheets whose parts have fixed places.
func ShortCautions(c Canvas, of content.Cautions) {
	p := shortCautions(c.Setter, c.W, of)
	c.RoundRect(0, 0, c.W, c.H, 1.2, Pen{Line: Black, Width: 0.45})
	triangle(c.Part(shortPad, (c.H-shortSign*0.9)/2, shortSign, shortSign*0.9))
	c.Paragraph(2*shortPad+shortSign, (c.H-p.H)/2, p)
}

// warning adds a box with a warning triangle at its left.
func (f *Flow) warning(build func()) {
	pad, sign := 0.5*f.lineHeight(), 2.2*f.lineHeight()
	f.frameUnits(f.gather(f.W-3*pad-sign, build), box{
		pen: Pen{Line: Black, Width: 0.45}, pad: pad, indent: 2*pad + sign, least: sign,
		sign: func(c Canvas) { triangle(c.Part(pad, pad, sign, sign*0.9)) },
	})
}

// triangle draws a warning sign that fills the canvas.
func triangle(c Canvas) {
	thick := c.W * 0.085
	c.Polygon(Pen{Line: Black, Width: thick, Fill: White},
		vector.At(c.W/2, thick/2), vector.At(c.W-thick/2, c.H-thick/2), vector.At(thick/2, c.H-thick/2))
	bar := c.W * 0.055
	c.Polygon(Fill(Black), vector.At(c.W/2-bar, c.H*0.33), vector.At(c.W/2+bar, c.H*0.33),
		vector.At(c.W/2+bar*0.6, c.H*0.67), vector.At(c.W/2-bar*0.6, c.H*0.67))
	c.Circle(c.W/2, c.H*0.79, bar, Fill(Black))
}
