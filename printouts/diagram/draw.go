package diagram

import "nospark/printouts/page"

// Draw puts a scene on paper. The places of the scene are those of the canvas.
func Draw(c page.Canvas, s Scene) {
	for _, p := range s.Paths {
		var q page.Path
		q.Move(p.Start.X, p.Start.Y)
		for _, step := range p.Steps {
			if step.Curve {
				q.Curve(page.Point(step.C1), page.Point(step.C2), page.Point(step.To))
			} else {
				q.Line(step.To.X, step.To.Y)
			}
		}
		if p.Closed {
			q.Close()
		}
		c.Path(q, p.Pen)
	}
	for _, t := range s.Texts {
		x, y := t.Box.X, t.Box.Y+t.Box.H/2
		switch {
		case t.Style.Angle != 0: // upwards from the foot of the box
			x, y = t.Box.X+t.Box.W/2, t.Box.Y+t.Box.H
		case t.Style.Align == page.Centre:
			x += t.Box.W / 2
		case t.Style.Align == page.Right:
			x += t.Box.W
		}
		c.Text(x, y, t.Text, t.Style)
	}
}
