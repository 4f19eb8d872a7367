package diagram

import (
	"nospark/printouts/page"
	"nospark/scenarios/handout"
)

// Legend explains the signs that a diagram uses, on one line at the top of the canvas.
func Legend(c page.Canvas, d handout.Diagram) {
	const y, sign, gap = 2.2, 9.0, 7.0
	leads, ground := false, false
	for _, p := range d.Parts {
		leads = leads || p.Kind == "lead"
	}
	for _, n := range d.Nodes {
		ground = ground || n.Ground
	}
	w := &drawing{measure: c.Width, size: 4.2, radius: 2.2}
	style := page.Style{Size: 8, Condensed: true, Level: page.Middle}
	x := 0.0
	entry := func(text string, sample func(at Vec)) {
		sample(Vec{x + sign/2, y})
		c.Text(x+sign+1.5, y, text, style)
		x += sign + 1.5 + c.Width(text, style) + gap
	}
	entry("test point", func(at Vec) {
		w.add(disc(at, w.radius, page.Blue))
		w.number(at, w.radius, 1, page.Style{Size: 8, Bold: true, Ink: page.White})
	})
	entry("joined", func(at Vec) {
		w.add(line(wireWidth, Vec{at.X - 4, y}, Vec{at.X + 4, y}), line(wireWidth, at, Vec{at.X, y + 2.2}), disc(at, 0.75, page.Black))
	})
	entry("crossing, not joined", func(at Vec) {
		w.add(line(wireWidth, Vec{at.X - 4, y}, Vec{at.X + 4, y}), line(wireWidth, Vec{at.X, y - 2.2}, Vec{at.X, y + 2.2}))
	})
	if leads {
		entry("high-tension lead", func(at Vec) { w.thick(Vec{at.X - 4, y}, Vec{at.X + 4, y}) })
	}
	if ground {
		entry("reference, battery negative", func(at Vec) { w.ground(Vec{at.X, y - 2}, Vec{0, 1}, 0, 0) })
	}
	Draw(c, w.scene)
}
