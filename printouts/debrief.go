package printouts

import (
	"nospark/grading"
	"nospark/printouts/page"
	"nospark/scenarios"
)

// Debriefs prints what each student gets back, one page each in the order of the result: what was wrong, the own route beside best play,
// and how the mark comes about. The name stands on a strip to cut off; the page below carries the code alone. A student who handed in
// nothing, or is excused, gets a friendly half page that does not give the fault away, so that the sheet can still be worked. The page
// of a student with large print is set in 18 pt and takes as many pages as it needs.
func Debriefs(lab *scenarios.Lab, result *grading.Result) ([]byte, error) {
	h := scenarios.Handout{Program: lab.Program, Title: lab.Title, Date: lab.Date, Paper: lab.Paper}
	doc, err := newDocument(h, "debriefs")
	if err != nil {
		return nil, err
	}
	for _, s := range result.Students {
		d := debrief{lab: lab, reference: result.Reference, s: s, working: grading.NewWorking(lab, s)}
		if lab.Sheets[s.Index].LargePrint {
			d.large(doc)
			continue
		}
		flow := doc.Section(page.Frame{Name: "Debrief " + s.Sheet, Foot: joined(", ", "Debrief of sheet "+s.Sheet, lab.Title, lab.Date), Size: 10, Side: leafSide})
		d.plan(flow).print()
	}
	return doc.Bytes()
}

// debrief is the page of one student being placed.
type debrief struct {
	*leaves
	lab       *scenarios.Lab
	reference int64
	s         grading.StudentResult
	working   grading.Working
	spacing   spacing
	shown     int // steps
}

// spacing is how closely a debrief is set. The first at which everything fits one page is used.
type spacing struct {
	table   float64 // pt, of the steps
	remark  float64 // pt, of what is remarked on them
	part    float64 // mm, of a part of the mark; the chart beside is as high as all of them
	between float64 // mm between parts
	lines   int     // most lines of a remark; at 1 it is worded shorter
	name    int     // most lines of the name of a test
}

var spacings = []spacing{
	{9.5, 9, 10, 4, 4, 2},
	{9, 8.5, 9.2, 3, 4, 2},
	{8.5, 8.5, 8.6, 2.4, 3, 2},
	{8.5, 8, 8.2, 1.8, 3, 2},
	{8, 8, 7.8, 1.4, 2, 2},
	{8, 8, 7.4, 1, 2, 1},
	{8, 8, 7.2, 0.8, 1, 1},
}

// plan places the page at the first spacing at which it fits. When it fits at none, the last steps are left out of the closest one.
func (d *debrief) plan(flow *page.Flow) *leaves {
	for _, d.spacing = range spacings {
		if d.fits(flow, len(d.s.Steps)) {
			return d.leaves
		}
	}
	low, high := 0, len(d.s.Steps) // low fits or is all that can be done, high does not fit
	for high-low > 1 {
		if middle := (low + high) / 2; d.fits(flow, middle) {
			low = middle
		} else {
			high = middle
		}
	}
	d.fits(flow, low)
	return d.leaves
}

// fits places the page with the first steps and tells whether it is one page.
func (d *debrief) fits(flow *page.Flow, steps int) bool {
	d.leaves, d.shown = newLeaves(flow, d.lab.Paper), steps
	d.place()
	return d.y <= d.bottom
}

// place puts the parts on the page, one below the other, without regard to its end.
func (d *debrief) place() {
	d.stub()
	switch d.s.Status {
	case grading.Incomplete, grading.Blank, grading.Excused:
		d.nothing()
	default:
		d.head()
		d.route()
		d.steps()
		d.bestPlay()
		d.advice()
		d.cautions()
	}
}

// stub is the strip with the name.
func (d *debrief) stub() {
	d.put(stubHeight, func(c page.Canvas) {
		const base = 5.0
		code := page.Style{Size: 12, Bold: true, Align: page.Right}
		c.Text(c.W, base, "Sheet "+d.s.Sheet, code)
		c.Fit(0, base, c.W-c.Width("Sheet "+d.s.Sheet, code)-6, joined(", ", d.s.Name, d.s.Student, d.s.Section), page.Style{Size: 12, Bold: true})
		cut := "cut off before the page is left lying; what is below carries only its code"
		small := page.Style{Size: 8, Condensed: true, Align: page.Right}
		c.Text(c.W, base+5.5, cut, small)
		c.Fit(0, base+5.5, c.W-c.Width(cut, small)-6, joined(", ", d.lab.Program, d.lab.Title, d.lab.Date), page.Style{Size: 9})
		y := stubHeight - 3.5
		c.Line(-leafSide, y, c.W+leafSide, y, page.Pen{Line: page.Black, Width: 0.3, Dash: page.Dashed})
	})
}

// title prints the name of the page with the code in its box.
func (d *debrief) title(text string) {
	d.put(8.5, func(c page.Canvas) {
		code := page.Style{Size: 14, Bold: true}
		wide := c.Width(d.s.Sheet, code) + 6
		c.RoundRect(c.W-wide, -0.5, wide, 8, 1.2, page.Pen{Line: page.Black, Width: 0.45})
		c.Text(c.W-wide/2, 3.5, d.s.Sheet, page.Style{Size: 14, Bold: true, Align: page.Centre, Level: page.Middle})
		c.Fit(0, 5.4, c.W-wide-4, text, page.Style{Size: 16, Bold: true, Condensed: true})
	})
}

// Measures of the head, mm.
const (
	markWide  = 46.0
	factLabel = 31.0
)

// head prints what was wrong and what was concluded, beside the mark.
func (d *debrief) head() {
	d.title("Debrief: " + d.lab.Title)
	facts := d.facts()
	style := page.Style{Size: 9.5, Condensed: true}
	var set []page.Paragraph // measured first: the box of the mark beside must not be lower
	high := 0.0
	for _, f := range facts {
		p := clipped(d.flow, d.width-markWide-6-factLabel, f.text, style, min(f.most, d.spacing.lines))
		set = append(set, p)
		high += p.H + 0.7
	}
	high = max(high, 20)
	d.y += 1.5
	d.put(high, func(c page.Canvas) {
		y := 0.0
		for i, p := range set {
			c.Text(0, y+c.LineHeight(style)/2, facts[i].label, page.Style{Size: 9.5, Bold: true, Condensed: true, Level: page.Middle})
			c.Paragraph(factLabel, y, p)
			y += p.H + 0.7
		}
		d.markBox(c.Part(c.W-markWide, 0, markWide, 20))
	})
	if d.s.Why != "" {
		d.para(0.5, "**"+statusWord(d.s)+":** "+d.s.Why, style, min(3, d.spacing.lines))
	}
}

// statusWord leads in the reason of a mark's status.
func statusWord(s grading.StudentResult) string {
	if s.Status == grading.Provisional {
		return "Provisional"
	}
	return "Note"
}

// fact is a labelled line of the head.
type fact struct {
	label, text string
	most        int // lines
}

// facts are the lines of the head. A pack may leave out how a fault shows.
func (d *debrief) facts() []fact {
	sheet := d.lab.Sheets[d.s.Index]
	fault := d.lab.Faults[d.lab.Hypotheses[sheet.Truth].Fault]
	facts := []fact{
		{"Complaint", d.lab.Complaints[sheet.Complaint].Label, 2},
		{"What was wrong", "**" + fault.Label + "**", 2},
	}
	if fault.Note != "" {
		facts = append(facts, fact{"How it shows", fault.Note, 4})
	}
	return append(facts, fact{"Repair", repairName(d.lab, fault.Repair), 2}, fact{"You concluded", d.concluded(), 2})
}

// concluded says what the student concluded and whether it was right.
func (d *debrief) concluded() string {
	switch {
	case d.s.Repair < 0 && d.s.Wrote != "":
		return "“" + d.s.Wrote + "”: **not on the list of repairs**"
	case d.s.Repair < 0:
		return "**nothing**"
	case d.s.Right:
		return repairName(d.lab, d.s.Repair) + ": **right**"
	}
	return repairName(d.lab, d.s.Repair) + ": **not right**"
}

// repairName is a repair with its code as students write it.
func repairName(lab *scenarios.Lab, repair int) string {
	r := lab.Repairs[repair]
	return r.Label + " (" + r.Code + r.Letters + ")"
}

// markBox prints the mark where everybody looks first, and what it does not say: the minutes.
func (d *debrief) markBox(c page.Canvas) {
	c.RoundRect(0, 0, c.W, c.H, 1.5, page.Pen{Line: page.Black, Width: 0.45, Fill: page.Tint})
	label := "mark, of 100"
	if d.s.Status == grading.Provisional {
		label = "provisional mark, of 100"
	}
	c.Text(c.W/2, 9.5, points(d.s.Mark), page.Style{Size: 24, Bold: true, Condensed: true, Align: page.Centre})
	c.Text(c.W/2, 14, label, page.Style{Size: 8.5, Condensed: true, Align: page.Centre})
	spent := minutes(d.s.Minutes) + " min spent, best play " + minutes(d.s.Best)
	c.Fit(2, 18, c.W-4, spent, page.Style{Size: 8, Condensed: true})
}

// cautions prints the short cautions at the foot of the page.
func (d *debrief) cautions() {
	d.y += d.spacing.between
	d.put(page.ShortCautionsHeight(d.flow, d.width), func(c page.Canvas) { c.ShortCautions() })
}
