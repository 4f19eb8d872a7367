package printouts

import (
	"fmt"

	"nospark/grading"
	"nospark/printouts/page"
	"nospark/scenarios/lab"
)

// route prints the chart of the suspects beside the arithmetic of the mark. The parts of the mark decide the height: the rubric may have
// four or six, and the chart can have any.
func (d *debrief) route() {
	const gap = 7.0
	parts := d.parts()
	row := d.spacing.part
	lost := clipped(d.flow, (d.width-gap)*0.52, d.lostText(), page.Style{Size: 8, Condensed: true}, 3)
	high := 6.0
	for _, p := range parts {
		high += p.high(row)
	}
	high += lost.H
	d.y += d.spacing.between
	left := (d.width - gap) * 0.48
	d.put(high, func(c page.Canvas) {
		chart := c.Part(0, 0, left, c.H)
		head := page.Style{Size: 11, Bold: true, Condensed: true}
		chart.Text(0, 4, "Your route and best play", head)
		chart.Part(0, 6.5, chart.W, chart.H-6.5).Chart(page.Chart{
			XLabel: "minutes spent", YLabel: "suspects left", Step: true, Series: []page.Series{d.ownSeries(), d.bestSeries()},
		})
		side := c.Part(left+gap, 0, c.W-left-gap, c.H)
		side.Text(0, 4, "How the mark comes about", head)
		y := 6.0
		for _, p := range parts {
			p.print(side.Part(0, y, side.W, p.high(row)))
			y += p.high(row)
		}
		side.Paragraph(0, y, lost)
	})
}

// ownSeries are the suspects left over the minutes spent.
func (d *debrief) ownSeries() page.Series {
	s := page.Series{Name: "you"}
	at := 0.0
	for i, step := range d.s.Steps {
		if i == 0 {
			s.X, s.Y = append(s.X, 0), append(s.Y, float64(step.Before))
		}
		at += float64(step.Minutes) / 10
		s.X, s.Y = append(s.X, at), append(s.Y, float64(step.After))
	}
	return s
}

// bestSeries are the suspects that best play leaves on its way to this fault. It begins where the student began, at the complaint, so the two
// lines part at the first step that was not best.
func (d *debrief) bestSeries() page.Series {
	s := page.Series{Name: "best play"}
	at := 0.0
	for i, step := range d.s.Path {
		if i == 0 {
			s.X, s.Y = append(s.X, 0), append(s.Y, float64(step.Before))
		}
		at += float64(step.Minutes) / 10
		s.X, s.Y = append(s.X, at), append(s.Y, float64(step.After))
	}
	return s
}

// markPart is one part of the mark with its arithmetic.
type markPart struct {
	name   string
	how    string
	why    string // a second line, "" for none
	points float64
	of     int
}

// secondLine is the height of the second line of a part, mm.
const secondLine = 3.4

// high is the height of a part whose first line takes row, mm.
func (p markPart) high(row float64) float64 {
	if p.why == "" {
		return row
	}
	return row + secondLine
}

// parts words the arithmetic. Every number in it is printed on the page, so that a mark can be recomputed with a pocket calculator.
func (d *debrief) parts() []markPart {
	s, w, rubric := d.s, d.working, d.lab.Rubric
	e := short(s.Evidence, 3)
	from := "e = " + e
	if w.Others > 0 {
		unit := weightUnit(d.lab)
		from = fmt.Sprintf("e = %d/%d = %s", w.RuledOut/unit, w.Others/unit, e)
	}
	parts := []markPart{
		{"Evidence", fmt.Sprintf("%d × e; %s of the other repairs’ weight ruled out", rubric.Evidence, from), "", s.Parts.Evidence, rubric.Evidence},
		{"Diagnosis", d.diagnosisText(), "", s.Parts.Diagnosis, rubric.Diagnosis},
		{"Efficiency", fmt.Sprintf("%d × e × %s / (%s + %s lost); %s min is this lab’s reference", rubric.Efficiency,
			minutes(d.reference), minutes(d.reference), lostMinutes(s.Lost), minutes(d.reference)), "", s.Parts.Efficiency, rubric.Efficiency},
		{"Interpretation", d.interpretationText(), d.verdictsText(), s.Parts.Interpretation, rubric.Interpretation},
	}
	if rubric.Reasoning > 0 {
		how := "not entered yet: the other parts stand for it until then"
		if s.Reasoning >= 0 {
			how = fmt.Sprintf("%d × %d/4, judged by the instructor", rubric.Reasoning, s.Reasoning)
		}
		parts = append(parts, markPart{"Reasoning", how, "", s.Parts.Reasoning, rubric.Reasoning})
	}
	if rubric.Safety > 0 {
		how := "not entered yet: the other parts stand for it until then"
		if s.Safe >= 0 {
			how = fmt.Sprintf("%d × %d, judged by the instructor", rubric.Safety, s.Safe)
		}
		parts = append(parts, markPart{"Safe working", how, "", s.Parts.Safety, rubric.Safety})
	}
	return parts
}

// weightUnit is the greatest number that divides all prior weights of a lab: weights are printed in it.
func weightUnit(lab *lab.Lab) int64 {
	var unit int64
	for _, h := range lab.Hypotheses {
		for a := h.Weight; a != 0; {
			unit, a = a, unit%a
		}
	}
	return max(unit, 1)
}

// diagnosisText says which of the cases of the diagnosis part applies.
func (d *debrief) diagnosisText() string {
	of := d.lab.Rubric.Diagnosis
	switch {
	case d.s.Right:
		return fmt.Sprintf("%d × 1: the right repair", of)
	case d.s.Repair < 0 && d.s.Wrote != "":
		return fmt.Sprintf("%d × 0: what was written is not on the list of repairs", of)
	case d.s.Repair < 0:
		return fmt.Sprintf("%d × 0: no repair was concluded", of)
	case d.working.Allowed:
		return fmt.Sprintf("%d × e/2: not right, but every reading still allows it", of)
	}
	return fmt.Sprintf("%d × 0: not right, and the readings or the complaint exclude it", of)
}

// interpretationText is the product of the two shares, in the numbers of the page.
func (d *debrief) interpretationText() string {
	w, of := d.working, d.lab.Rubric.Interpretation
	wrong := w.Asked - w.Agreed
	switch {
	case len(d.s.Steps) == 0 && w.Share == 0:
		return fmt.Sprintf("%d × 0: no test was written down", of)
	case w.Told == 0 && w.Share == 0:
		return fmt.Sprintf("%d × 0: no step told anything, each lost all its minutes", of)
	case w.Told == 0:
		return fmt.Sprintf("%d × 1: nothing needed testing", of)
	case w.Counted > 0 && wrong >= w.Counted:
		return fmt.Sprintf("%d × 0: %s, %s, so nothing is left", of, countingVerdicts(w.Counted), d.wrongText())
	}
	how := fmt.Sprint(of)
	verdicts := "no verdict was asked"
	if w.Counted > 0 {
		how += fmt.Sprintf(" × (%d − %d)/%d", w.Counted, wrong, w.Counted)
		verdicts = fmt.Sprintf("%s, %s", countingVerdicts(w.Counted), d.wrongText())
	}
	return how + fmt.Sprintf(" × (%d − %d)/%d: %s; best play: %s, %d to do", w.Needed, w.Missing, w.Needed, verdicts,
		counted(w.Needed, "step", "steps"), w.Missing)
}

// countingVerdicts words how many verdicts count.
func countingVerdicts(n int) string { return counted(n, "verdict counts", "verdicts count") }

// wrongText says how many verdicts were wrong or missing, which is the same for the mark.
func (d *debrief) wrongText() string {
	wrong, missing := d.working.Asked-d.working.Agreed, 0
	for _, s := range d.s.Steps {
		if asksVerdict(s) && s.Judged == "" {
			missing++
		}
	}
	switch missing {
	case 0:
		return fmt.Sprintf("%d wrong", wrong)
	case wrong:
		return fmt.Sprintf("%d missing", wrong)
	}
	return fmt.Sprintf("%d wrong or missing", wrong)
}

// verdictsText says why fewer verdicts count than the page asks for; "" where all count, or the steps told nothing anyway.
func (d *debrief) verdictsText() string {
	w, asked := d.working, d.asked()
	if w.Told == 0 || asked == w.Counted {
		return ""
	}
	idle := asked - w.Asked
	out := fmt.Sprintf("Of %d verdicts %s count: right, ", asked, counted(idle, "does not", "do not"))
	switch {
	case idle == 0:
		return fmt.Sprintf("Of %d verdicts no more count than best play has steps, but all wrong ones", asked)
	case w.Asked == w.Counted:
		return out + "where the step lost all its minutes"
	}
	return out + fmt.Sprintf("all minutes lost; of %d no more than best play’s %d", w.Asked, w.Counted)
}

// asked counts the steps on the page that want a verdict.
func (d *debrief) asked() int {
	n := 0
	for _, step := range d.s.Steps {
		if asksVerdict(step) {
			n++
		}
	}
	return n
}

// asksVerdict tells whether a step wants a verdict.
func asksVerdict(s grading.Step) bool {
	return (s.State == grading.Counted || s.State == grading.Repeat) && !s.Silent
}

// lostText takes the lost minutes apart, and says where the mark is more than the sum of its parts.
func (d *debrief) lostText() string {
	s := d.s
	text := fmt.Sprintf("**Lost** %s min = %s in steps", lostMinutes(s.Lost), lostMinutes(s.LostSteps))
	text += fmt.Sprintf(" + %s still needed when you concluded + %s for a wrong repair", lostMinutes(s.LostEarly), lostMinutes(s.LostWrong))
	sum := s.Parts.Evidence + s.Parts.Diagnosis + s.Parts.Efficiency + s.Parts.Interpretation + s.Parts.Reasoning + s.Parts.Safety
	switch open := d.open(); { // as the grading does it: while a column is empty the other parts stand for it
	case s.Set:
		text += fmt.Sprintf(". **Mark** set by the instructor; the parts add up to %s", points(sum))
	case open > 0 && open < 100:
		text += fmt.Sprintf(". **Mark** = %s × 100/%d", points(sum), 100-open)
	default:
		text += ". **Mark** = sum of the parts"
	}
	return text
}

// open is the weight of the instructor's columns that are still empty.
func (d *debrief) open() int {
	open := 0
	if d.s.Reasoning < 0 {
		open += d.lab.Rubric.Reasoning
	}
	if d.s.Safe < 0 {
		open += d.lab.Rubric.Safety
	}
	return open
}

// print prints the name, a bar and the points on one line and the arithmetic below, in one or two. The arithmetic is never cut off, however narrow its
// letters become: half a formula is worth nothing.
func (p markPart) print(c page.Canvas) {
	const number, bar = 22.0, 26.0
	c.Text(0, 3.4, p.name, page.Style{Size: 9, Bold: true, Condensed: true})
	c.Text(c.W, 3.4, points(p.points)+" of "+fmt.Sprint(p.of), page.Style{Size: 9, Condensed: true, Align: page.Right})
	if p.of > 0 {
		x, wide := c.W-number-bar, bar*min(1, max(0, p.points/float64(p.of)))
		c.Rect(x, 1.1, wide, 2.5, page.Fill(page.Blue))
		c.Rect(x, 1.1, bar, 2.5, page.Pen{Line: page.Black, Width: 0.2})
	}
	c.FitWhole(0, 6.9, c.W, p.how, page.Style{Size: 8.5, Condensed: true})
	if p.why != "" {
		c.FitWhole(0, 6.9+secondLine, c.W, p.why, page.Style{Size: 8.5, Condensed: true})
	}
}
