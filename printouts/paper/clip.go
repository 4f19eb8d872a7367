package paper

import (
	"strings"

	"nospark/printouts/page"
)

// Clip sets a text in at most the given number of lines; one that is longer ends with an ellipsis. It keeps sheets
// of one page on one page, whatever was written into a pack or into adjust.toml.
func (p *Pages) Clip(width float64, text string, style page.Style, most int) page.Paragraph {
	set := p.Flow.Set(width, text, style)
	if set.Lines() <= most {
		return set
	}
	runes := []rune(text)
	low, high := 0, len(runes) // low fits, high does not
	for high-low > 1 {
		middle := (low + high) / 2
		if p.Flow.Set(width, cut(runes[:middle]), style).Lines() <= most {
			low = middle
		} else {
			high = middle
		}
	}
	return p.Flow.Set(width, cut(runes[:low]), style)
}

// cut puts an ellipsis behind the last whole word; a pair of ** that was cut open is closed.
func cut(runes []rune) string {
	text := string(runes)
	if at := strings.LastIndexByte(text, ' '); at > len(text)/2 {
		text = text[:at]
	}
	text = strings.TrimRight(text, " *,;:.") + "…"
	if strings.Count(text, "**")%2 == 1 {
		text += "**"
	}
	return text
}

// Para places a paragraph of at most the given number of lines across the page.
func (p *Pages) Para(above float64, text string, style page.Style, most int) {
	if text == "" {
		return
	}
	set := p.Clip(p.Width, text, style, most)
	p.Y += above
	p.Put(set.H, func(c page.Canvas) { c.Paragraph(0, 0, set) })
}

// Box places a paragraph of at most the given number of lines on a tinted ground, with pad mm above and below it.
func (p *Pages) Box(above, pad float64, ink page.Color, text string, style page.Style, most int) {
	const edge = 3.0 // mm, at the sides
	p.Y += above
	set := p.Clip(p.Width-2*edge, text, style, most)
	p.Put(set.H+2*pad, func(c page.Canvas) {
		c.RoundRect(0, 0, c.W, c.H, 1.2, page.Pen{Fill: ink})
		c.Paragraph(edge, pad, set)
	})
}

// Heading places the name of a part, and beside it a remark.
func (p *Pages) Heading(above float64, name, remark string) {
	p.Y += above
	p.Put(5.4, func(c page.Canvas) {
		style := page.Style{Size: 11, Bold: true, Condensed: true}
		c.Text(0, 4, name, style)
		x := c.Width(name, style) + 4
		c.Fit(x, 4, c.W-x, remark, page.Style{Size: 8.5, Condensed: true})
	})
}
