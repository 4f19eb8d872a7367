package debriefs

import (
	"fmt"
	"strings"

	"nospark/printouts/debrief"
	"nospark/printouts/page"
	"nospark/printouts/wording"
)

// stepColumn is a column of the table of steps.
type stepColumn struct {
	head  string
	wide  float64 // mm; 0: the rest
	right bool
}

var stepColumns = []stepColumn{
	{"", 6, false}, {"line", 13, false}, {"test", 0, false}, {"reading", 38, false}, {"judged", 17, false},
	{"min", 9, true}, {"lost", 11, true},
	{"suspects", 17, true},
}

// eachStepColumn gives the left edges of the columns.
func eachStepColumn(total float64, visit func(i int, x, wide float64)) {
	rest := total
	for _, c := range stepColumns {
		rest -= c.wide
	}
	x := 0.0
	for i, c := range stepColumns {
		wide := c.wide
		if wide == 0 {
			wide = rest
		}
		visit(i, x, wide)
		x += wide
	}
}

// steps prints the table of steps, each with what there is to say about it on the line below.
func (d *onePage) steps() {
	d.Heading(d.spacing.between, debrief.StepsName, debrief.StepsNote)
	if len(d.Student.Steps) == 0 {
		d.Para(0, debrief.NoSteps, page.Style{Size: 9, Condensed: true}, 1)
		return
	}
	d.Put(4.4, func(c page.Canvas) {
		style := page.Style{Size: 8, Bold: true, Condensed: true}
		eachStepColumn(c.W, func(i int, x, wide float64) { cellText8(c, i, x, wide, 3.2, stepColumns[i].head, style) })
		c.Line(0, c.H, c.W, c.H, page.Pen{Line: page.Black, Width: 0.35})
	})
	shown := d.shown
	for i := range d.Student.Steps[:shown] {
		d.step(i)
	}
	if shown < len(d.Student.Steps) {
		d.remaining(shown)
	}
}

// cellText8 prints one line of a cell.
func cellText8(c page.Canvas, column int, x, wide, base float64, text string, style page.Style) {
	if stepColumns[column].right {
		style.Align = page.Right
		x += wide
	}
	c.Fit(x, base, wide-1, text, style)
}

// step prints one row of the table: the figures on the first line, what there is to say about them below, over the
// whole width. A row that needs no words has none.
func (d *onePage) step(i int) {
	s := d.Student.Steps[i]
	style := page.Style{Size: d.spacing.table, Condensed: true}
	var name page.Paragraph
	eachStepColumn(d.Width, func(column int, _, wide float64) {
		if stepColumns[column].head == "test" {
			name = d.Clip(wide-2, d.StepName(s), style, d.spacing.name)
		}
	})
	remark := d.Clip(d.Width-stepColumns[0].wide, d.RemarkOn(i),
		page.Style{Size: d.spacing.remark, Condensed: true}, d.spacing.lines)
	if d.RemarkOn(i) == "" {
		remark.H = 0
	}
	const pad = 0.45
	d.Put(pad+name.H+remark.H+pad, func(c page.Canvas) {
		base := pad + c.LineHeight(style)*0.72
		cells := []string{fmt.Sprint(i + 1), debrief.Written(s), "", s.Reading, debrief.Judged(s),
			wording.Minutes(s.Minutes), wording.LostMinutes(s.Lost), fmt.Sprintf("%d → %d", s.Before, s.After)}
		eachStepColumn(c.W, func(column int, x, wide float64) {
			if stepColumns[column].head == "test" {
				c.Paragraph(x, pad, name)
				return
			}
			look := style
			look.Bold = column == 0
			cellText8(c, column, x, wide, base, cells[column], look)
		})
		if remark.H > 0 {
			c.Paragraph(stepColumns[0].wide, pad+name.H, remark)
		}
		c.Line(0, c.H, c.W, c.H, page.Pen{Line: page.Rule, Width: 0.2})
	})
}

// remaining sums up the steps that have no room.
func (d *onePage) remaining(from int) {
	var spent int64
	lost := 0.0
	rest := d.Student.Steps[from:]
	for _, s := range rest {
		spent += s.Minutes
		lost += s.Lost
	}
	d.Para(0.5, fmt.Sprintf("%s without room here: %s min, %s of them lost, suspects %d → %d",
		wording.Count(len(rest), "more step", "more steps"),
		wording.Minutes(spent), wording.LostMinutes(lost), rest[0].Before, rest[len(rest)-1].After),
		page.Style{Size: 8.5, Condensed: true}, 1)
}

// bestPlay prints the way that best play takes to this fault.
func (d *onePage) bestPlay() {
	d.Para(d.spacing.between, d.BestPlay(), page.Style{Size: d.spacing.remark, Condensed: true}, 2+2*d.spacing.lines)
}

// remarks prints what the grading remarks on the work as a whole.
func (d *onePage) remarks() {
	if len(d.Student.Remarks) > 0 {
		d.Para(d.spacing.between, "**"+debrief.RemarksName+":** "+strings.Join(d.Student.Remarks, " "),
			page.Style{Size: d.spacing.remark, Condensed: true}, 1+d.spacing.lines)
	}
}
