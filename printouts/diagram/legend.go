package diagram

import (
	"nospark/printouts/vector"
	"nospark/scenarios/handout"
)

// Legend explains the signs that a diagram uses, on one line at the top of the frame.
func Legend(d handout.Diagram, frame vector.Rect, measure vector.Measure) vector.Scene {
	const sign, gap = 9.0, 7.0
	y := frame.Y + 2.2
	leads, ground := false, false
	for _, p := range d.Parts {
		leads = leads || p.Kind == "lead"
	}
	for _, n := range d.Nodes {
		ground = ground || n.Ground
	}
	w := &drawing{frame: frame, measure: measure, size: 4.2, radius: 2.2}
	style := vector.Style{Size: 8, Condensed: true}
	x := frame.X
	entry := func(text string, sample func(at vector.Point)) {
		sample(vector.At(x+sign/2, y))
		wide, high := measure(text, style), style.Size*vector.PerPoint
		w.write(text, vector.Box(x+sign+1.5, y-high/2, wide, high), style, partLabel)
		x += sign + 1.5 + wide + gap
	}
	entry("test point", func(at vector.Point) {
		w.add(disc(at, w.radius, vector.Blue))
		w.number(at, w.radius, 1, vector.Style{Size: 8, Bold: true, Color: vector.White})
	})
	entry("joined", func(at vector.Point) {
		w.add(line(wireWidth, vector.At(at.X-4, y), vector.At(at.X+4, y)), line(wireWidth, at, vector.At(at.X, y+2.2)),
			disc(at, 0.75, vector.Black))
	})
	entry("crossing, not joined", func(at vector.Point) {
		w.add(line(wireWidth, vector.At(at.X-4, y), vector.At(at.X+4, y)),
			line(wireWidth, vector.At(at.X, y-2.2), vector.At(at.X, y+2.2)))
	})
	if leads {
		entry("high-tension lead", func(at vector.Point) { w.thick(vector.At(at.X-4, y), vector.At(at.X+4, y)) })
	}
	if ground {
		entry("reference, battery negative", func(at vector.Point) {
			w.ground(vector.At(at.X, y-2), vector.At(0, 1), 0, 0)
		})
	}
	s := w.scene()
	s.Title, s.Description = "Signs of the diagram", "What the signs of the circuit diagram mean."
	return s
}
