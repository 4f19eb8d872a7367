// Package debriefs places a debrief on one page. What stands there is said by package debrief.
package debriefs

import (
	"nospark/grading"
	"nospark/printouts/content"
	"nospark/printouts/debrief"
	"nospark/printouts/page"
	"nospark/printouts/page/section"
	"nospark/printouts/paper"
	"nospark/printouts/wording"
	"nospark/scenarios/lab"
)

// PDF prints what each student gets back, one page each in the order of the result. The name stands on a strip to
// cut off; the page below carries the code alone. A student who handed in nothing, or is excused, gets a friendly
// half page. The debrief of a student with large print is set in 18 pt and takes as many pages as it needs.
func PDF(lab *lab.Lab, result *grading.Result) ([]byte, error) {
	doc, err := paper.New(content.Document{Title: lab.Title + ", debriefs", Program: lab.Program, Date: lab.Date,
		Paper: lab.Paper})
	if err != nil {
		return nil, err
	}
	for _, s := range result.Students {
		d := onePage{Debrief: debrief.New(lab, result.Reference, s)}
		if lab.Sheets[s.Index].LargePrint {
			section.Print(doc, d.Section(), paper.Draw)
			continue
		}
		flow := doc.Section(page.Frame{
			Name: d.Name(), Foot: wording.Join(", ", "Debrief of sheet "+s.Sheet, lab.Title, lab.Date), Size: 10,
			Side: paper.Side,
		})
		d.plan(flow).Print()
	}
	return doc.Bytes()
}

// onePage is the page of one student being placed.
type onePage struct {
	*paper.Pages
	debrief.Debrief
	spacing spacing
	shown   int // steps
}

// spacing is how closely a debrief is set. The first at which everything fits one page is used.
type spacing struct {
	learn   float64 // pt, of the three sentences
	table   float64 // pt, of the steps
	remark  float64 // pt, of what is remarked on them
	chart   float64 // mm, height
	between float64 // mm between parts
	lines   int     // most lines of a remark; at 1 it is worded shorter
	name    int     // most lines of the name of a test
}

// whole is more lines than any remark has: nothing is cut. Only where a page cannot hold that at any spacing are the
// longest remarks cut, which the page for a screen and the text have whole.
const whole = 30

var spacings = []spacing{
	{11, 9.5, 9, 46, 3.6, whole, 3},
	{10.5, 9, 8.5, 42, 2.8, whole, 3},
	{10.5, 8.5, 8.5, 38, 2.2, whole, 3},
	{10, 8.5, 8, 36, 1.7, whole, 3},
	{10, 8, 8, 34, 1.3, whole, 3},
	{10, 8, 8, 30, 1, whole, 3},
	{10, 8, 8, 24, 0.8, whole, 3},
	{9.5, 8, 8, 20, 0.5, whole, 3},
	{10, 8, 8, 32, 1, 2, 1},
	{10, 8, 8, 26, 0.8, 1, 1},
}

// plan places the page at the first spacing at which it fits. When it fits at none, the last steps are left out of
// the closest one.
func (d *onePage) plan(flow *page.Flow) *paper.Pages {
	for _, d.spacing = range spacings {
		if d.fits(flow, len(d.Student.Steps)) {
			return d.Pages
		}
	}
	low, high := 0, len(d.Student.Steps) // low fits or is all that can be done, high does not fit
	for high-low > 1 {
		if middle := (low + high) / 2; d.fits(flow, middle) {
			low = middle
		} else {
			high = middle
		}
	}
	d.fits(flow, low)
	return d.Pages
}

// fits places the page with the first steps and tells whether it is one page.
func (d *onePage) fits(flow *page.Flow, steps int) bool {
	d.Pages, d.shown = paper.NewPages(flow, d.Lab.Paper), steps
	d.Terse, d.ShortNames = d.spacing.lines == 1, d.spacing.name == 1
	d.place()
	return d.Y <= d.Bottom
}

// place puts the parts on the page, one below the other, without regard to its end.
func (d *onePage) place() {
	d.stub()
	d.Put(paper.TitleHigh, func(c page.Canvas) { paper.Title(c, d.PageTitle(), d.Student.Sheet) })
	if d.Nothing() {
		d.nothing()
	} else {
		d.head()
		d.route()
		d.steps()
		d.bestPlay()
		d.remarks()
		d.arithmetic()
	}
	d.cautions()
}

// stub is the strip with the name.
func (d *onePage) stub() {
	d.Put(paper.StripHigh, func(c page.Canvas) {
		base, room := paper.StripCode(c, "Sheet "+d.Student.Sheet)
		c.Fit(0, base, room, d.Person(), page.Style{Size: 12, Bold: true})
		paper.StripNote(c, d.About(), "cut off before the page is left lying; below stands only the code")
	})
}

// nothing prints half a page for a student without a mark.
func (d *onePage) nothing() {
	text := page.Style{Size: 11}
	words := d.NothingWords()
	for _, p := range words[:len(words)-1] {
		d.Para(2, p, text, 4)
	}
	d.Box(4, 2, page.Tint, words[len(words)-1], text, 4)
}

// Measures of the head, mm.
const (
	markWide = 46.0
	// the names of the three sentences, a part of their size in points
	learnLabel = 3.4
)

// head prints the three sentences for the learner, beside the mark.
func (d *onePage) head() {
	style := page.Style{Size: d.spacing.learn, Condensed: true}
	sentences, label := d.Learner(), learnLabel*d.spacing.learn
	var set []page.Paragraph // measured first: the box of the mark beside must not be lower
	high := 0.0
	for _, f := range sentences {
		p := d.Clip(d.Width-markWide-6-label, f.Text, style, 1+max(2, d.spacing.lines))
		set = append(set, p)
		high += p.H + 1.2
	}
	high = max(high, 20)
	d.Y += 1
	d.Put(high, func(c page.Canvas) {
		y := 0.0
		for i, p := range set {
			c.Text(0, y+c.LineHeight(style)/2, sentences[i].Label,
				page.Style{Size: d.spacing.learn, Bold: true, Condensed: true, Level: page.Middle})
			c.Paragraph(label, y, p)
			y += p.H + 1.2
		}
		d.markBox(c.Part(c.W-markWide, 0, markWide, 20))
	})
	d.Para(0.5, d.Why(), page.Style{Size: 9.5, Condensed: true}, d.spacing.lines)
}

// markBox prints the mark where everybody looks first, and what it does not say: the minutes.
func (d *onePage) markBox(c page.Canvas) {
	c.RoundRect(0, 0, c.W, c.H, 1.5, page.Pen{Line: page.Black, Width: 0.45, Fill: page.Tint})
	c.Text(c.W/2, 9.5, wording.Points(d.Student.Mark),
		page.Style{Size: 24, Bold: true, Condensed: true, Align: page.Center})
	c.Text(c.W/2, 14, d.MarkLabel(), page.Style{Size: 8.5, Condensed: true, Align: page.Center})
	c.Fit(2, 18, c.W-4, d.MinutesText(), page.Style{Size: 8, Condensed: true})
}

// cautions prints the short cautions at the foot of the page.
func (d *onePage) cautions() {
	d.Y += d.spacing.between
	of := content.Cautions{Lacks: d.Lab.Lacks}
	d.Put(page.ShortCautionsHeight(d.Flow, d.Width, of), func(c page.Canvas) { page.ShortCautions(c, of) })
}
