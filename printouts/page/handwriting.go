package page

// Blanks adds lines to write on, far enough apart for handwriting.
func (f *Flow) Blanks(n int) {
	pitch := max(8.5, 1.5*f.lineHeight())
	for range n {
		f.add(f.draw(0, pitch, func(c Canvas) {
			c.Line(0, c.H-0.5, c.W, c.H-0.5, Pen{Line: Gray, Width: 0.2})
		}))
	}
}

// Fields adds one row of labeled lines to write on, equally wide: "Name ____  Date ____".
func (f *Flow) Fields(labels ...string) {
	if len(labels) == 0 {
		return
	}
	const gap = 5.0
	height := max(9, 1.6*f.lineHeight())
	f.add(f.draw(0, height, func(c Canvas) {
		width := (c.W - gap*float64(len(labels)-1)) / float64(len(labels))
		for i, label := range labels {
			x, base := float64(i)*(width+gap), c.H-1.5
			c.Fit(x, base, 0.7*width, label, Style{})
			from := x + min(f.Width(label, Style{}), 0.7*width) + 1.5
			c.Line(from, base+0.6, x+width, base+0.6, Pen{Line: Gray, Width: 0.25})
		}
	}))
}
