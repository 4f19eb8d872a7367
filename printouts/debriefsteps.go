package printouts

import (
	"fmt"
	"strings"

	"nospark/grading"
	"nospark/printouts/page"
)

// stepColumn is a column of the table of steps.
type stepColumn struct {
	head  string
	wide  float64 // mm; 0: the rest
	right bool
}

var stepColumns = []stepColumn{
	{"", 6, false}, {"line", 13, false}, {"test", 0, false}, {"reading", 38, false}, {"judged", 17, false}, {"min", 9, true}, {"lost", 11, true},
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
func (d *debrief) steps() {
	d.heading(d.spacing.between, "Your steps", "suspects: faults still possible before and after the reading; lost: minutes longer than with the best test at that moment")
	if len(d.s.Steps) == 0 {
		d.para(0, "No test was written down, so nothing was ruled out.", page.Style{Size: 9, Condensed: true}, 1)
		return
	}
	d.put(4.4, func(c page.Canvas) {
		style := page.Style{Size: 8, Bold: true, Condensed: true}
		eachStepColumn(c.W, func(i int, x, wide float64) { cellText8(c, i, x, wide, 3.2, stepColumns[i].head, style) })
		c.Line(0, c.H, c.W, c.H, page.Pen{Line: page.Black, Width: 0.35})
	})
	shown := d.shown
	for i := range d.s.Steps[:shown] {
		d.step(i)
	}
	if shown < len(d.s.Steps) {
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

// step prints one row of the table: the figures on the first line, what there is to say about them below, over the whole width. A row that
// needs no words has none.
func (d *debrief) step(i int) {
	s := d.s.Steps[i]
	style := page.Style{Size: d.spacing.table, Condensed: true}
	var name page.Paragraph
	eachStepColumn(d.width, func(column int, _, wide float64) {
		if stepColumns[column].head == "test" {
			name = clipped(d.flow, wide-2, d.stepName(s), style, d.spacing.name)
		}
	})
	remark := clipped(d.flow, d.width-stepColumns[0].wide, d.remarkOn(i), page.Style{Size: d.spacing.remark, Condensed: true}, d.spacing.lines)
	if d.remarkOn(i) == "" {
		remark.H = 0
	}
	const pad = 0.45
	d.put(pad+name.H+remark.H+pad, func(c page.Canvas) {
		base := pad + c.LineHeight(style)*0.72
		cells := []string{fmt.Sprint(i + 1), written(s), "", s.Reading, judged(s), minutes(s.Minutes), lostMinutes(s.Lost), fmt.Sprintf("%d → %d", s.Before, s.After)}
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

// stepName names the test, or gives what was written where it is no step.
func (d *debrief) stepName(s grading.Step) string {
	if s.Test < 0 {
		return "“" + s.Text + "”"
	}
	if t := d.lab.Tests[s.Test]; d.spacing.name == 1 && t.Column >= 0 && t.Point >= 0 { // what may be cut off comes last
		column := d.lab.Columns[t.Column]
		return fmt.Sprintf("**at %d: %s, %s**", d.lab.Points[t.Point].Number, column.Label, column.Condition)
	}
	return "**" + grading.TestName(d.lab, s.Test) + "**"
}

// written is the line and the letters, as in the record.
func written(s grading.Step) string {
	if s.Line < 0 {
		return "?"
	}
	return line(s.Line) + s.Letters
}

// judged is the verdict and whether it fits.
func judged(s grading.Step) string {
	switch s.State {
	case grading.NoStep, grading.Unknown, grading.Unproven, grading.Dropped, grading.Banned:
		return "-" // it counts for nothing
	}
	switch {
	case s.Silent:
		return "none asked"
	case s.Judged == "":
		return "missing"
	case s.Agrees:
		return s.Judged + " right"
	}
	return s.Judged + " wrong"
}

// remaining sums up the steps that have no room.
func (d *debrief) remaining(from int) {
	var spent int64
	lost := 0.0
	rest := d.s.Steps[from:]
	for _, s := range rest {
		spent += s.Minutes
		lost += s.Lost
	}
	d.para(0.5, fmt.Sprintf("%s without room here: %s min, %s of them lost, suspects %d → %d", counted(len(rest), "more step", "more steps"),
		minutes(spent), lostMinutes(lost), rest[0].Before, rest[len(rest)-1].After), page.Style{Size: 8.5, Condensed: true}, 1)
}

// remarkOn says what a reading ruled out, what the grading remarked, and what the better test would have been. Where only one line is left
// for it the better test comes first, because the end may be cut off.
func (d *debrief) remarkOn(i int) string {
	s := d.s.Steps[i]
	if d.spacing.lines == 1 && s.State == grading.Counted {
		if s.Agrees && s.After == s.Before && d.named(i) < i {
			return "" // nothing new: the figures of the row say it
		}
		return joined(" ", d.betterText(i), d.clearedText(s), sentences(s.Remarks))
	}
	return joined(" ", stateText(s.State), d.clearedText(s), sentences(s.Remarks), d.betterText(i))
}

// sentences makes one text of remarks, each with its full stop.
func sentences(remarks []string) string {
	var all []string
	for _, r := range remarks {
		if r != "" && !strings.HasSuffix(r, ".") && !strings.HasSuffix(r, "?") {
			r += "."
		}
		all = append(all, r)
	}
	return strings.Join(all, " ")
}

// stateText explains a step that is no evidence. The grading itself remarks on repeats and on forbidden instruments.
func stateText(state grading.StepState) string {
	switch state {
	case grading.Unproven:
		return "The letters do not fit this line, so the reading counts for nothing until your instructor has looked; its minutes count."
	case grading.Unknown:
		return "Your sheet has no such line; it costs nothing and tells nothing."
	case grading.NoStep:
		return "This cannot be read as a step; it costs nothing and tells nothing."
	case grading.Dropped:
		return "Your instructor took this test out of the lab; it neither costs nor tells anything."
	}
	return ""
}

// clearedText says what the reading ruled out. Suspects are faults with a severity, so some may go while every repair stays possible.
func (d *debrief) clearedText(s grading.Step) string {
	switch {
	case s.State != grading.Counted:
		return ""
	case len(s.Cleared) > 2 && d.spacing.lines == 1:
		return fmt.Sprintf("Ruled out %d repairs.", len(s.Cleared))
	case len(s.Cleared) > 0:
		names := d.repairLabels(s.Cleared, 4)
		return "Ruled out: " + names + "."
	case s.After < s.Before:
		return fmt.Sprintf("Ruled out %s, but no repair as a whole.", counted(s.Before-s.After, "suspect", "suspects"))
	}
	return "Ruled out nothing."
}

// repairLabels lists repairs, the first few by name.
func (d *debrief) repairLabels(repairs []int, most int) string {
	var names []string
	for i, r := range repairs {
		if i == most && len(repairs) > most+1 {
			names = append(names, counted(len(repairs)-most, "other repair", "other repairs"))
			break
		}
		names = append(names, d.lab.Repairs[r].Label)
	}
	return strings.Join(names, "; ")
}

// betterText names the better test and what it would have done to the suspects.
func (d *debrief) betterText(i int) string {
	s := d.s.Steps[i]
	if s.Better < 0 {
		if s.State == grading.Counted && s.Lost == 0 {
			return "No test was better here."
		}
		return ""
	}
	if first := d.named(i); first < i {
		return fmt.Sprintf("**Better:** still the test named at step %d.", first+1)
	}
	test := d.lab.Tests[s.Better]
	if d.spacing.lines == 1 {
		return fmt.Sprintf("**Better:** %s (%s min): %s.", grading.TestName(d.lab, s.Better), minutes(test.Minutes), splitText(s.Split))
	}
	return fmt.Sprintf("**Better:** %s (%s min) would have split the %s %s.", grading.TestName(d.lab, s.Better), minutes(test.Minutes),
		remainingSuspects(s.Before), splitText(s.Split))
}

// named is the step at which the better test of step i was named first, with the same suspects.
func (d *debrief) named(i int) int {
	all := d.s.Steps
	for i > 0 && all[i].Better >= 0 && all[i-1].Better == all[i].Better && all[i-1].Before == all[i].Before {
		i--
	}
	return i
}

// remainingSuspects words them; one that remains is all there is.
func remainingSuspects(n int) string { return counted(n, "suspect", "remaining suspects") }

// splitText words the sizes of the parts: "3 to 4", "into 2, 1 and 1".
func splitText(sizes []int) string {
	var words []string
	for _, n := range sizes {
		words = append(words, fmt.Sprint(n))
	}
	if len(words) == 2 {
		return words[0] + " to " + words[1]
	}
	return "into " + listed(words)
}

// bestPlay prints the way that best play takes to this fault.
func (d *debrief) bestPlay() {
	d.para(d.spacing.between, d.bestPlayText(), page.Style{Size: d.spacing.remark, Condensed: true}, 2+2*d.spacing.lines)
}

// bestPlayText is best play as one sentence a step, "" when nothing needed testing.
func (d *debrief) bestPlayText() string {
	if len(d.s.Path) == 0 {
		return ""
	}
	text := fmt.Sprintf("**Best play to this fault, %s min:**", minutes(d.s.Best))
	for i, p := range d.s.Path {
		text += fmt.Sprintf(" **%d** %s: %s (%d → %d).", i+1, grading.TestName(d.lab, p.Test), p.Reading, p.Before, p.After)
	}
	return text
}

// advice prints the remarks and the one thing to practise next.
func (d *debrief) advice() {
	if len(d.s.Remarks) > 0 {
		d.para(d.spacing.between, "**Remarks:** "+strings.Join(d.s.Remarks, " "), page.Style{Size: d.spacing.remark, Condensed: true}, 1+d.spacing.lines)
	}
	if d.s.Practise == "" {
		return
	}
	d.y += d.spacing.between
	p := clipped(d.flow, d.width-6, "**Practise next:** "+d.s.Practise, page.Style{Size: d.spacing.remark + 1}, 2)
	d.put(p.H+2.4, func(c page.Canvas) {
		c.RoundRect(0, 0, c.W, c.H, 1.2, page.Pen{Fill: page.Shade})
		c.Paragraph(3, 1.2, p)
	})
}
