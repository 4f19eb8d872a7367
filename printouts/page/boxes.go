package page

// Note adds a tinted box with a title, which may be empty, and paragraphs.
func (f *Flow) Note(title string, paragraphs ...string) {
	f.boxed(Pen{Fill: Tint}, func() {
		if title != "" {
			f.Subheading(title)
		}
		for _, p := range paragraphs {
			f.Para(p)
		}
	})
}

// boxed puts a box around what build adds.
func (f *Flow) boxed(pen Pen, build func()) {
	pad := 0.55 * f.lineHeight()
	f.frameUnits(f.gather(f.W-2*pad, build), box{pen: pen, pad: pad, indent: pad})
}

// box is a frame around units.
type box struct {
	pen    Pen
	pad    float64 // mm, above and below the units
	indent float64 // mm, of the units from the left
	least  float64 // mm, least height inside
	sign   func(c Canvas)
}

// frameUnits draws a box around units. Up to half a page high it is one unit; a higher box may be cut between its
// units, and is open where it was cut.
func (f *Flow) frameUnits(units []unit, b box) {
	if len(units) == 0 {
		return
	}
	inside := stack(units, true)
	room := max(inside, b.least)
	f.gap += 0.6 * f.lineHeight()
	if room+2*b.pad <= f.Page()/2 {
		u := f.draw(0, room+2*b.pad, func(c Canvas) {
			c.RoundRect(0, 0, c.W, c.H, 1.2, b.pen)
			if b.sign != nil {
				b.sign(c)
			}
		})
		pile(&u, units, b.indent, b.pad+(room-inside)/2)
		f.add(u)
	} else {
		f.sliced(units, b)
	}
	f.gap += 0.3 * f.lineHeight()
}

// sliced adds each unit with its slice of the box.
func (f *Flow) sliced(units []unit, b box) {
	for i, inner := range units {
		above, below := inner.before, 0.0
		first, last := i == 0, i == len(units)-1
		if first {
			above = b.pad
		}
		if last {
			below = b.pad
		}
		u := f.draw(0, above+inner.height+below, func(c Canvas) {
			slice(c, b.pen, first, last)
			if first && b.sign != nil {
				b.sign(c)
			}
		})
		pile(&u, []unit{inner}, b.indent, above)
		u.glue = inner.glue || first
		f.add(u)
	}
}

// slice draws the part of a box that the canvas covers: its sides, and its edges at the two ends.
func slice(c Canvas, pen Pen, first, last bool) {
	if pen.Fill != None {
		const overlap = 0.05 // mm: without it some printers show a line between slices
		c.Rect(0, 0, c.W, c.H+overlap, Fill(pen.Fill))
	}
	pen.Fill = None
	if pen.Line == None {
		return
	}
	c.Line(0, 0, 0, c.H, pen)
	c.Line(c.W, 0, c.W, c.H, pen)
	reach := pen.Width / 2 // closes the corners
	if first {
		c.Line(-reach, 0, c.W+reach, 0, pen)
	}
	if last {
		c.Line(-reach, c.H, c.W+reach, c.H, pen)
	}
}
