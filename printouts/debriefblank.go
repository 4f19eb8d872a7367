package printouts

import (
	"nospark/grading"
	"nospark/printouts/page"
)

// nothing prints the half page for a student without a mark. It says nothing of the fault: the sheet may still be worked.
func (d *debrief) nothing() {
	text := page.Style{Size: 11}
	if d.s.Status == grading.Excused {
		d.title("Excused: " + d.lab.Title)
		d.para(2, "You are excused from this lab, so no mark counts.", text, 2)
		if d.s.Why != "" {
			d.para(1, "Your instructor’s note: "+d.s.Why, text, 4)
		}
		d.para(2, "If you would like the practice all the same, ask for your sheet and a partner: the hidden fault is still yours to find.", text, 4)
	} else {
		d.title("Nothing handed in yet: " + d.lab.Title)
		d.para(2, "There was nothing from your sheet among what was handed in, so you have no mark for this lab. That is not a zero; it is an empty place.", text, 4)
		d.para(2, "What you can do:", text, 1)
		for _, way := range []string{
			"If you did hand it in, tell your instructor: a code may have been mistyped.",
			"If you were absent, ask whether you may work your sheet now, or a spare one. Your fault is still hidden; nobody’s debrief gives it away.",
			"If you got stuck, bring the sheet. The first two tests are the hardest to choose, and that is what the next lab practises too.",
		} {
			p := clipped(d.flow, d.width-6, way, text, 3)
			d.y++
			d.put(p.H, func(c page.Canvas) {
				c.Text(2, c.LineHeight(text)/2, "•", page.Style{Size: 11, Level: page.Middle})
				c.Paragraph(6, 0, p)
			})
		}
	}
	sheet := d.lab.Sheets[d.s.Index]
	d.y += 3
	p := clipped(d.flow, d.width-6, "**The complaint, to think about until then:** "+d.lab.Complaints[sheet.Complaint].Label+
		" Which parts can cause it, and which one test would rule out about half of them?", text, 4)
	d.put(p.H+4, func(c page.Canvas) {
		c.RoundRect(0, 0, c.W, c.H, 1.2, page.Pen{Fill: page.Tint})
		c.Paragraph(3, 2, p)
	})
	d.cautions()
}
