package worksheets

import (
	"fmt"

	"nospark/printouts/handouts"
	"nospark/printouts/page"
	"nospark/printouts/paper"
	"nospark/printouts/wording"
)

// largeStrip is the strip with the name, as [worksheet.stub] in lines of the size.
func (s *worksheet) largeStrip() {
	s.Put(largeStrip, func(c page.Canvas) {
		code := largeStrong
		code.Align = page.Right
		c.Text(c.W, 6, handouts.SheetName(s.sheet.Code), code)
		room := c.W - c.Width(handouts.SheetName(s.sheet.Code), code) - 6
		if handouts.Person(s.sheet) == "" {
			c.Text(0, 6, "Name", largeText)
			c.Line(20, 7, room, 7, page.Pen{Line: page.Gray, Width: 0.25})
		} else {
			s.nameLine(c, 6, room, largeSize)
		}
		c.Fit(0, 14.5, c.W, stubNote, largeText)
		tear := page.Pen{Line: page.Black, Width: 0.3, Dash: page.Dashed}
		c.Line(-paper.Side, largeTear, c.W+paper.Side, largeTear, tear)
	})
}

// largeHead prints the work order: complaint, what is known, vehicle, rules and cautions. What it says may take more
// than a page; the box of cautions is never cut.
func (s *worksheet) largeHead() {
	s.Put(9, func(c page.Canvas) {
		c.Fit(0, 6, c.W, wording.Join(": ", handouts.SheetName(s.sheet.Code), s.handout.Title), largeStrong)
	})
	s.flow(1, "**Complaint:** "+s.sheet.Complaint)
	if vehicle := wording.Join(" ", handouts.VehicleName(s.handout.Reference.Vehicle),
		wording.Sentences([]string{wording.Capital(handouts.Arrived(s.handout, s.sheet))})); vehicle != "" {
		s.flow(1, "**Vehicle:** "+vehicle)
	}
	for _, known := range handouts.Known(s.sheet) {
		s.flow(1, "**"+handouts.KnownNote+":** "+known)
	}
	s.flow(1, "**Proof:** "+wording.Join(" ", handouts.Proven(s.handout), handouts.NotToday(s.handout)))
	if text := handouts.Forbidden(s.handout); text != "" {
		s.flow(1, "**"+text+"**")
	}
	s.Y += 2
	if s.Room() < s.cautionsHeight() {
		s.next()
	}
	s.cautions()
	s.Y += 2
}

// largeRecord gives every test two lines: what is written before the partner is asked, and the answer below.
func (s *worksheet) largeRecord() {
	const least = 3 // tests on the page where the record begins
	if s.Room() < (5+2*least)*largeWrite {
		s.next()
	}
	s.Para(3, "**"+handouts.RecordName(s.sheet.Code)+".** "+handouts.RecordNote, largeText, 4)
	s.Y += 1
	s.largeRecordHeads()
	for i := range s.handout.Rows {
		if s.Room() < 2*largeWrite {
			s.next()
			s.largeRecordHeads()
		}
		s.Put(2*largeWrite, func(c page.Canvas) { largeRecordLine(c, i+1) })
	}
	s.largeConclusion()
}

// largePlace is where a column of the record stands in large print: in which of the two lines, and its share of it.
type largePlace struct{ line, share float64 }

var largePlaces = []largePlace{{0, 49}, {0, 51}, {1, 14}, {1, 13}, {1, 19}, {1, 29}, {1, 13}, {1, 26}}

// eachLargeColumn gives the places of the columns of the record.
func eachLargeColumn(c page.Canvas, visit func(r handouts.RecordColumn, x, y, wide float64)) {
	total := map[float64]float64{}
	for _, p := range largePlaces {
		total[p.line] += p.share
	}
	x := map[float64]float64{0: largeNumber, 1: largeNumber}
	for i, r := range handouts.RecordColumns() {
		p := largePlaces[i]
		wide := (c.W - largeNumber) * p.share / total[p.line]
		visit(r, x[p.line], p.line*c.H/2, wide)
		x[p.line] += wide
	}
}

// largeNumber is the width of the number of a test, mm.
const largeNumber = 12.0

func (s *worksheet) largeRecordHeads() {
	s.Put(2*largePitch, func(c page.Canvas) {
		eachLargeColumn(c, func(r handouts.RecordColumn, x, y, wide float64) {
			if r.Asked {
				c.Rect(x, y, wide, c.H/2, page.Fill(page.Shade))
			}
			c.Text(x+1, y+c.H/4, r.Head, page.Style{Size: largeSize, Condensed: true, Bold: true, Level: page.Middle})
			if begin := c.Width(r.Head, largeStrong) + 3; r.Below != "" &&
				begin+c.Width(r.Below, largeText) < wide-1 {
				c.Text(x+begin, y+c.H/4, r.Below, page.Style{Size: largeSize, Condensed: true, Level: page.Middle})
			}
		})
		largeFrame(c)
	})
}

func largeRecordLine(c page.Canvas, n int) {
	eachLargeColumn(c, func(r handouts.RecordColumn, x, y, wide float64) {
		if r.Asked {
			c.Rect(x, y, wide, c.H/2, page.Fill(page.Tint))
		}
	})
	c.Text(largeNumber-2, c.H/4, fmt.Sprint(n),
		page.Style{Size: largeSize, Condensed: true, Bold: true, Align: page.Right, Level: page.Middle})
	largeFrame(c)
}

// largeFrame draws the lines around the cells of a test, heavier between two tests.
func largeFrame(c page.Canvas) {
	thin := page.Pen{Line: page.Black, Width: 0.2}
	eachLargeColumn(c, func(_ handouts.RecordColumn, x, y, _ float64) { c.Line(x, y, x, y+c.H/2, thin) })
	c.Line(c.W, 0, c.W, c.H, thin)
	c.Line(largeNumber, c.H/2, c.W, c.H/2, thin)
	for _, y := range []float64{0, c.H} {
		c.Line(0, y, c.W, y, page.Pen{Line: page.Black, Width: 0.6})
	}
}

// largeConclusion has what stands below the record: the minutes, the repair, the reason and the instructor's marks.
func (s *worksheet) largeConclusion() {
	const lines = 2
	high := 5*largePitch + 14 + lines*largeWrite
	if s.Room() < high {
		s.next()
	}
	s.Y += 2
	s.Para(0, handouts.MoreTests(s.handout.Rows), largeText, 2)
	s.Y += 1
	s.Put(14, func(c page.Canvas) {
		const box = 11.0
		middle := largeStrong
		middle.Level = page.Middle
		c.Text(0, c.H/2, conclusionLabel, middle)
		x := c.Width(conclusionLabel, largeStrong) + 3
		for i := range 4 {
			if i == 2 {
				x += 2
			}
			c.Rect(x, 1, box, c.H-2, page.Pen{Line: page.Black, Width: 0.6})
			x += box
		}
		x += 6
		middle.Bold = false
		c.Text(x, c.H/2, handouts.TotalMinutes, middle)
		x += c.Width(handouts.TotalMinutes, largeText) + 2
		c.Rect(x, 1, c.W-x, c.H-2, page.Pen{Line: page.Black, Width: 0.3})
	})
	s.Para(1, wording.Capital(codeHint)+".", largeText, 2)
	for i := range lines {
		s.Put(largeWrite, func(c page.Canvas) {
			from := 0.0
			if i == 0 {
				c.Text(0, c.H-2, handouts.Reason, largeStrong)
				from = c.Width(handouts.Reason, largeStrong) + 3
			}
			c.Line(from, c.H-1, c.W, c.H-1, page.Pen{Line: page.Gray, Width: 0.3})
		})
	}
	s.Y += 2
	s.Put(largePitch, func(c page.Canvas) {
		right := largeText
		right.Align = page.Right
		c.Text(0, c.H-2, marksReasoning, largeText)
		c.Text(c.W, c.H-2, marksSafely, right)
	})
}
