package worksheets

import (
	"nospark/printouts/handouts"
	"nospark/printouts/page"
	"nospark/printouts/wording"
)

// Widths at the end of a row of a list in large print, mm.
const (
	largeMinutes = 14.0
	largeLine    = 13.0 // of each line that the row has
)

// largeLists places the tests outside the grid, one below the other. Tests that differ in a number alone, as those of
// the cylinders, share a row.
func (s *worksheet) largeLists() {
	if len(s.sheet.Tables) == 0 {
		return
	}
	const least = 4 // lines below a heading
	s.flow(2, "**"+handouts.OtherTests+".** "+handouts.OtherTestsNote)
	for _, t := range s.sheet.Tables {
		if s.Room() < (1+least)*largePitch {
			s.next()
		}
		s.Y += 1
		s.largeListHead(t.Heading, handouts.TableNote(t))
		meter, when := handouts.Shared(t.Rows)
		for _, run := range handouts.Runs(t.Rows) {
			runMeter, runWhen := meter, when
			if under := handouts.RunName(run, meter, when, false); under != "" {
				runMeter, runWhen = handouts.Shared(run)
				if s.Room() < 3*largePitch {
					s.next()
					s.largeListHead(t.Heading+" (cont.)", handouts.TableNote(t))
				}
				s.Put(largePitch, func(c page.Canvas) { c.Fit(0, c.H-1.7, c.W, under+":", largeText) })
			}
			for _, g := range handouts.Numbered(run, runMeter, runWhen) {
				s.largeListRow(t.Heading+" (cont.)", g)
			}
		}
	}
}

func (s *worksheet) largeListHead(heading, shared string) {
	s.Put(largePitch+0.6, func(c page.Canvas) {
		right := largeText
		right.Align = page.Right
		base := c.H - 2
		c.Text(c.W-largeLine, base, "min", right)
		c.Text(c.W, base, "line", right)
		room := c.W - largeLine - largeMinutes
		c.Fit(0, base, room, heading, largeStrong)
		if x := c.Width(heading, largeStrong); shared != "" && x+c.Width(": "+shared, largeText) < room {
			c.Text(x, base, ": "+shared, largeText)
		}
		c.Line(0, c.H, c.W, c.H, page.Pen{Line: page.Black, Width: 0.5})
	})
}

// largeListRow prints the tests that share a row: their name, the minutes of each, and their lines.
func (s *worksheet) largeListRow(again string, g handouts.NumberedTests) {
	lines := float64(len(g.Rows)) * largeLine
	name := closer(s.Flow.Set(s.Width-lines-largeMinutes, g.Text, largeText))
	if s.Room() < name.H {
		s.next()
		s.largeListHead(again, "")
	}
	s.Put(name.H, func(c page.Canvas) {
		c.Paragraph(0, 0, name)
		text := page.Style{Size: largeSize, Condensed: true, Align: page.Right, Level: page.Middle}
		c.Text(c.W-lines, largePitch/2, wording.Minutes(g.Rows[0].Minutes), text)
		for i, r := range g.Rows {
			c.Text(c.W-lines+float64(i+1)*largeLine, largePitch/2, wording.Line(r.Line), text)
		}
		c.Line(0, c.H, c.W, c.H, page.Pen{Line: page.Rule, Width: 0.2})
	})
}
