package printouts

import (
	"nospark/grading"
	"nospark/printouts/page"
)

// nothingText is what a student without a mark reads. It says nothing of the fault: the sheet may still be worked.
func (d *debrief) nothingText() (title string, paragraphs []string) {
	complaint := "**The complaint, to think about until then:** " + d.lab.Complaints[d.lab.Sheets[d.s.Index].Complaint].Label +
		" Which parts can cause it, and which one test would rule out about half of them?"
	if d.s.Status == grading.Excused {
		paragraphs = []string{"You are excused from this lab, so no mark counts."}
		if d.s.Why != "" {
			paragraphs = append(paragraphs, "Your instructor’s note: "+d.s.Why)
		}
		return "Excused", append(paragraphs,
			"If you would like the practice all the same, ask for your sheet and a partner: the hidden fault is still yours to find.", complaint)
	}
	if d.s.Status == grading.Incomplete {
		return "Not complete yet", []string{
			"Something from your sheet was handed in, but there is no mark for it yet. That is not a zero; it is an empty place.",
			"Why: " + d.s.Why + ".",
			"Ask your instructor what is missing and whether you may finish. Your fault is still hidden; this page does not give it away.",
			complaint,
		}
	}
	return "Nothing handed in yet", []string{
		"There was nothing from your sheet among what was handed in, so you have no mark for this lab. That is not a zero; it is an empty place.",
		"If you did hand it in, tell your instructor: a code may have been mistyped.",
		"If you were absent, ask whether you may work your sheet now, or a spare one. Your fault is still hidden; this page does not give it away.",
		"If you got stuck, bring the sheet. The first two tests are the hardest to choose, and choosing is what the next lab practises too.",
		complaint,
	}
}

// nothing prints it as half a page.
func (d *debrief) nothing() {
	title, paragraphs := d.nothingText()
	d.title(title + ": " + d.lab.Title)
	text := page.Style{Size: 11}
	for _, p := range paragraphs[:len(paragraphs)-1] {
		d.para(2, p, text, 4)
	}
	d.y += 4
	p := clipped(d.flow, d.width-6, paragraphs[len(paragraphs)-1], text, 4)
	d.put(p.H+4, func(c page.Canvas) {
		c.RoundRect(0, 0, c.W, c.H, 1.2, page.Pen{Fill: page.Tint})
		c.Paragraph(3, 2, p)
	})
	d.cautions()
}
