package worksheets

import (
	"fmt"

	"nospark/printouts/handouts"
	"nospark/printouts/page"
)

// Measures of what is written on by hand, mm.
const (
	recordHead   = 9.5
	recordNumber = 7.0
	totalHigh    = 5.6
	writing      = 12.0 // pt, of instructions beside lines to write on
)

// recordShares are the shares of the width of the record's columns.
var recordShares = []float64{46, 26, 12, 10, 15, 29, 11, 35}

// record places the record table and the conclusion, on a page of their own when the tests have left too little
// room. The first half of a line is written before the partner is asked.
func (s *worksheet) record() {
	need := 6 + recordHead + float64(s.handout.Rows)*s.density.write + totalHigh + 1.5 + s.conclusionHeight()
	if s.Count() == 1 || s.Room() < need+3 {
		s.next()
	} else {
		s.Y += 3
	}
	s.Put(sectionHigh, func(c page.Canvas) {
		drawSection(c, handouts.RecordName(s.sheet.Code), handouts.RecordNote, writing)
	})
	s.PutShared(recordHead, func(c page.Canvas) { recordHeads(c) })
	for i := range s.handout.Rows {
		if s.Room() < s.density.write {
			s.Turn()
			s.PutShared(recordHead, func(c page.Canvas) { recordHeads(c) })
		}
		s.PutShared(s.density.write, func(c page.Canvas) { recordLine(c, i+1) })
	}
	if s.Room() < totalHigh+s.conclusionHeight()+1.5 {
		s.Turn()
	}
	s.PutShared(totalHigh, func(c page.Canvas) { recordTotal(c, s.handout.Rows) })
	s.Y += 1.5
	s.PutShared(s.conclusionHeight(), func(c page.Canvas) { s.conclusion(c) })
}

// recordTotal is the field for the sum of the minutes, below their column, and what to do when the lines do not
// suffice.
func recordTotal(c page.Canvas, rows int) {
	eachRecordColumn(c, func(r handouts.RecordColumn, x, wide float64) {
		if r.Label != "minutes" {
			return
		}
		c.Text(x-1.5, c.H/2, handouts.TotalMinutes,
			page.Style{Size: writing, Condensed: true, Align: page.Right, Level: page.Middle})
		c.Fit(x+wide+3, c.H/2, c.W-x-wide-3, handouts.MoreTests(rows),
			page.Style{Size: writing, Condensed: true, Level: page.Middle})
		thin := page.Pen{Line: page.Black, Width: 0.2}
		c.Line(x, 0, x, c.H, thin)
		c.Line(x+wide, 0, x+wide, c.H, thin)
		c.Line(x, c.H, x+wide, c.H, thin)
	})
}

// conclusionHeight is the height of boxes and ruled lines, mm.
func (s *worksheet) conclusionHeight() float64 { return 12 + float64(s.density.reason)*s.density.write }

// eachRecordColumn gives the left edges of the columns.
func eachRecordColumn(c page.Canvas, visit func(r handouts.RecordColumn, x, wide float64)) {
	total := 0.0
	for _, share := range recordShares {
		total += share
	}
	x := recordNumber
	for i, r := range handouts.RecordColumns() {
		wide := (c.W - recordNumber) * recordShares[i] / total
		visit(r, x, wide)
		x += wide
	}
}

// recordHeads shades what is filled in after the partner was asked, so that the order of work is seen at a glance.
func recordHeads(c page.Canvas) {
	strong := page.Pen{Line: page.Black, Width: 0.35}
	eachRecordColumn(c, func(r handouts.RecordColumn, x, wide float64) {
		if r.Asked {
			c.Rect(x, 0, wide, c.H, page.Fill(page.Shade))
		}
		c.Fit(x+1.2, 4.2, wide-1.6, r.Head, page.Style{Size: 11, Bold: true, Condensed: true})
		c.Fit(x+1.2, 8, wide-1.6, r.Below, page.Style{Size: 8, Condensed: true})
		c.Line(x, 0, x, c.H, page.Pen{Line: page.Black, Width: 0.2})
	})
	c.Line(c.W, 0, c.W, c.H, page.Pen{Line: page.Black, Width: 0.2})
	c.Line(0, 0, c.W, 0, strong)
	c.Line(0, c.H, c.W, c.H, strong)
}

// recordLine is one line to write on.
func recordLine(c page.Canvas, n int) {
	thin := page.Pen{Line: page.Black, Width: 0.2}
	c.Text(recordNumber-2, c.H/2, fmt.Sprint(n),
		page.Style{Size: 10, Condensed: true, Align: page.Right, Level: page.Middle})
	eachRecordColumn(c, func(r handouts.RecordColumn, x, wide float64) {
		if r.Asked {
			c.Rect(x, 0, wide, c.H, page.Fill(page.Tint))
		}
	})
	eachRecordColumn(c, func(r handouts.RecordColumn, x, wide float64) { c.Line(x, 0, x, c.H, thin) })
	c.Line(c.W, 0, c.W, c.H, thin)
	if n > 1 { // drawn again, for the filling covers half of it
		c.Line(0, 0, c.W, 0, thin)
	}
	c.Line(0, c.H, c.W, c.H, thin)
}

// Words of the conclusion.
const (
	conclusionLabel = handouts.Conclusion + ": repair"
	codeHint        = "its code in the booklet, like 12HM"
	marksReasoning  = "instructor:  reasoning  0   1   2   3   4"
	marksSafely     = "worked safely  yes   no"
)

// conclusion has a box for each character of the repair's code and letters, ruled lines for the reason, and what
// the instructor marks.
func (s *worksheet) conclusion(c page.Canvas) {
	const box, high, marks = 8.5, 10.0, 52.0
	style := page.Style{Size: 12, Bold: true, Condensed: true, Level: page.Middle}
	c.Text(0, high/2, conclusionLabel, style)
	x := c.Width(conclusionLabel, style) + 4
	for i := range 4 {
		if i == 2 {
			x += 2
		}
		c.Rect(x, 0, box, high, page.Pen{Line: page.Black, Width: 0.4})
		x += box
	}
	hint := c.Set(c.W-x-marks-8, codeHint, page.Style{Size: writing, Condensed: true})
	c.Paragraph(x+4, (high-hint.H)/2, hint)

	side := c.Part(c.W-marks, 0, marks, high)
	side.RoundRect(0, 0, marks, high, 1, page.Pen{Fill: page.Tint})
	small := page.Style{Size: 8, Condensed: true}
	side.Text(2, 4, marksReasoning, small)
	side.Text(2, 8.2, marksSafely, small)

	y := high + 2.0
	c.Text(0, y+5.5, handouts.Reason, page.Style{Size: 12, Bold: true, Condensed: true})
	for i := range s.density.reason {
		from := 0.0
		if i == 0 {
			from = 18
		}
		base := y + float64(i)*s.density.write + 7
		c.Line(from, base, c.W, base, page.Pen{Line: page.Gray, Width: 0.25})
	}
}
