package printouts

import (
	"fmt"
	"strings"

	"nospark/grading"
	"nospark/printouts/page"
	"nospark/scenarios/handout"
	"nospark/scenarios/lab"
)

// Key prints the answer key, for the instructor alone: the class on the first page, a list of all sheets, then every sheet with its hidden
// fault, best play with the lines of that sheet, what reads abnormal, and the tests that look as if they had to catch the fault and do not.
func Key(lab *lab.Lab, key *grading.Key) ([]byte, error) {
	doc, err := newDocument(handout.Handout{Program: lab.Program, Title: lab.Title, Date: lab.Date, Paper: lab.Paper}, "answer key")
	if err != nil {
		return nil, err
	}
	flow := doc.Section(page.Frame{Name: "Answer key", Left: joined(", ", lab.Program, lab.Title, lab.Date), Right: "Answer key: never for students",
		Foot: "Answer key of lab " + lab.Name + ", for the instructor", Size: 9.5, Side: 15})
	k := answerKey{flow, lab, key}
	k.overview()
	flow.Turn()
	k.glance()
	flow.Turn()
	for i := range lab.Sheets {
		flow.Together(func() { k.sheet(i) })
	}
	return doc.Bytes()
}

// answerKey is a key being printed.
type answerKey struct {
	flow *page.Flow
	lab  *lab.Lab
	key  *grading.Key
}

// overview prints what is true of the whole class.
func (k answerKey) overview() {
	f, lab := k.flow, k.lab
	f.Title("Answer key: "+lab.Title, joined(", ", lab.Pack.Title, counted(len(lab.Sheets), "sheet", "sheets"), lab.Date))
	f.CautionsShort()
	f.Heading("The class")
	t := page.Table{Columns: []page.Column{{Head: "complaint", Share: 4}, {Head: "sheets", Width: page.Natural, Align: page.Right},
		{Head: "suspects at the start", Width: page.Natural, Align: page.Right}, {Head: "best play on average, min", Width: page.Natural, Align: page.Right}}}
	for _, c := range k.key.Complaints {
		t.Row(lab.Complaints[c.Complaint].Label, fmt.Sprint(c.Sheets), fmt.Sprint(c.Suspects), lostMinutes(c.Value))
	}
	f.Table(t)
	f.Para(fmt.Sprintf("Reference of this lab: **%s minutes**, the same for everyone. Efficiency is measured against it.", minutes(k.key.Reference)))
	spread := k.key.Spread
	f.Heading("How hard the sheets are")
	f.Para(fmt.Sprintf("Minutes of best play to the hidden fault: from %s to %s, %s on average. Each dot is a sheet.", minutes(spread.Low), minutes(spread.High), lostMinutes(spread.Mean)))
	k.dots()
	f.Heading("Hidden faults")
	faults := page.Table{Zebra: true, Columns: []page.Column{{Head: "fault", Share: 4}, {Head: "repair", Share: 4}, {Head: "code", Width: page.Natural, Bold: true},
		{Head: "sheets", Width: page.Natural, Align: page.Right}, {Head: "best play, min", Width: page.Natural, Align: page.Right}}}
	for _, v := range k.key.Faults {
		fault := lab.Faults[v.Fault]
		repair := lab.Repairs[fault.Repair]
		span := minutes(v.Low)
		if v.High > v.Low {
			span += " to " + minutes(v.High)
		}
		faults.Row(fault.Label, repair.Label, repair.Code+repair.Letters, fmt.Sprint(v.Sheets), span)
	}
	f.Table(faults)
}

// dots draws a dot for each sheet over an axis of minutes, one above the other where they are equal.
func (k answerKey) dots() {
	const dot, base = 3.2, 8.0
	heaps, tallest := map[int64]int{}, 0
	for _, s := range k.key.Sheets {
		heaps[s.Minutes]++
		tallest = max(tallest, heaps[s.Minutes])
	}
	rise := min(dot, 60/float64(max(tallest, 1))) // a school of a thousand gets flatter heaps, not another page
	k.flow.Draw(float64(tallest)*rise+base+4, func(c page.Canvas) {
		low, high := k.key.Spread.Low/10-1, k.key.Spread.High/10+2
		low = max(low, 0)
		at := func(tenths float64) float64 { return 4 + (c.W-8)*(tenths/10-float64(low))/float64(high-low) }
		y := c.H - base
		c.Line(at(float64(low*10)), y, at(float64(high*10)), y, page.Stroke(0.3))
		every := max(1, (high-low)/16)
		for m := low; m <= high; m += every {
			x := at(float64(m * 10))
			c.Line(x, y, x, y+1.2, page.Stroke(0.3))
			c.Text(x, y+2, fmt.Sprint(m), page.Style{Size: 8, Condensed: true, Align: page.Center, Level: page.Top})
		}
		c.Text(c.W, y+5.5, "minutes of best play", page.Style{Size: 8, Condensed: true, Align: page.Right, Level: page.Top})
		drawn := map[int64]int{}
		for _, s := range k.key.Sheets {
			drawn[s.Minutes]++
			c.Circle(at(float64(s.Minutes)), y-rise*(float64(drawn[s.Minutes])-0.4), min(rise, dot)*0.42, page.Pen{Line: page.Black, Width: 0.2, Fill: page.Blue})
		}
	})
}

// glance lists all sheets, for the instructor who walks round.
func (k answerKey) glance() {
	k.flow.Heading("All sheets at a glance")
	t := page.Table{Zebra: true, Columns: []page.Column{{Head: "sheet", Width: page.Natural, Bold: true}, {Head: "student", Share: 3}, {Head: "hidden fault", Share: 4},
		{Head: "repair", Width: page.Natural, Bold: true}, {Head: "min", Width: page.Natural, Align: page.Right}}}
	for i, s := range k.lab.Sheets {
		v := k.key.Sheets[i]
		t.Row(s.Code, studentName(s), k.lab.Faults[v.Fault].Label, k.codes(v), minutes(v.Minutes))
	}
	k.flow.Table(t)
	k.flow.Para("On the next pages each sheet has its best play with line and letters as on its readings sheet, and the suspects before and after each " +
		"reading. **Traps** are tests that examine the faulty part, or are made at one of its points, and read normal although the part is bad.")
}

// codes are the code of the right repair and those of the repairs that count as right too.
func (k answerKey) codes(v grading.KeySheet) string {
	var all []string
	for _, r := range append([]int{v.Repair}, v.Also...) {
		all = append(all, k.lab.Repairs[r].Code+k.lab.Repairs[r].Letters)
	}
	return strings.Join(all, " or ")
}

// studentName is the name with id and section, as the id tells a student even where the typeface lacks the letters of the name.
func studentName(s lab.Sheet) string {
	if name := joined(", ", s.Name, s.Student, s.Section); name != "" {
		return name
	}
	return "(spare)"
}
