package page

// Chart adds a line chart.
func (f *Flow) Chart(ch Chart) {
	height := ch.Height
	if height == 0 {
		height = 55 * f.Sizes.Body / 10.5
	}
	f.gap += 0.4 * f.lineHeight()
	f.Draw(height, func(c Canvas) { c.Chart(ch) })
	f.gap += 0.4 * f.lineHeight()
}

// Bar is one bar of [Flow.Bars].
type Bar struct {
	Label string
	Value float64 // from 0 to Of
	Of    float64 // the full length; > 0
	Note  string  // printed behind the bar: the value in words
}

// Bars adds horizontal bars with their labels at the left and a note behind each: the parts of a mark.
func (f *Flow) Bars(bars ...Bar) {
	s := Style{Level: Middle}
	label, note, most := 0.0, 0.0, 0.0
	for _, b := range bars {
		label, note, most = max(label, f.Width(b.Label, s)), max(note, f.Width(b.Note, s)), max(most, b.Of)
	}
	label, note = min(label, f.W*0.4), min(note, f.W*0.3)
	f.gap += 0.3 * f.lineHeight()
	for _, b := range bars {
		f.add(f.draw(0, 1.25*f.lineHeight(), func(c Canvas) {
			y, tall := c.H/2, 0.5*f.lineHeight()
			c.Fit(0, y, label, b.Label, s)
			room := c.W - label - note - 6
			if b.Of > 0 && room > 0 {
				full := room * b.Of / most
				x := label + 3
				if part := b.Value / b.Of; part > 0 {
					c.Rect(x, y-tall/2, full*min(1, part), tall, Fill(Blue))
				}
				c.Rect(x, y-tall/2, full, tall, Pen{Line: Black, Width: 0.25})
			}
			c.Fit(c.W-note, y, note, b.Note, s)
		}))
	}
}
