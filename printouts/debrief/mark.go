package debrief

import (
	"fmt"

	"nospark/grading"
	"nospark/printouts/content"
	"nospark/printouts/wording"
	"nospark/scenarios/lab"
)

// Part is one part of the mark with its arithmetic.
type Part struct {
	Name   string
	How    string
	Why    string // a second line, "" for none
	Points float64
	Of     int
}

// Parts words the arithmetic. Every number in it is printed on the page, so that a mark can be recomputed with a
// pocket calculator.
func (d Debrief) Parts() []Part {
	s, w, rubric := d.Student, d.working, d.Lab.Rubric
	e := wording.Short(s.Evidence, 3)
	from := "e = " + e
	if w.Others > 0 {
		unit := weightUnit(d.Lab)
		from = fmt.Sprintf("e = %d/%d = %s", w.RuledOut/unit, w.Others/unit, e)
	}
	parts := []Part{
		{"Evidence", fmt.Sprintf("%d × e; %s of the other repairs’ weight ruled out", rubric.Evidence, from), "",
			s.Parts.Evidence, rubric.Evidence},
		{"Diagnosis", d.diagnosisText(), "", s.Parts.Diagnosis, rubric.Diagnosis},
		{"Efficiency", d.efficiencyText(), "", s.Parts.Efficiency, rubric.Efficiency},
		{"Interpretation", d.interpretationText(), d.verdictsText(), s.Parts.Interpretation, rubric.Interpretation},
	}
	if rubric.Reasoning > 0 {
		how := "not entered yet: the other parts stand for it until then"
		if s.Reasoning >= 0 {
			how = fmt.Sprintf("%d × %d/4, judged by the instructor", rubric.Reasoning, s.Reasoning)
		}
		parts = append(parts, Part{"Reasoning", how, "", s.Parts.Reasoning, rubric.Reasoning})
	}
	if rubric.Safety > 0 {
		how := "not entered yet: the other parts stand for it until then"
		if s.Safe >= 0 {
			how = fmt.Sprintf("%d × %d, judged by the instructor", rubric.Safety, s.Safe)
		}
		parts = append(parts, Part{"Safe working", how, "", s.Parts.Safety, rubric.Safety})
	}
	return parts
}

// efficiencyText is the formula in the numbers of the page.
func (d Debrief) efficiencyText() string {
	of, lost := d.Lab.Rubric.Efficiency, wording.LostMinutes(d.Student.Lost)
	if d.classic() {
		v := wording.Minutes(d.Reference)
		return fmt.Sprintf("%d × e × %s / (%s + %s lost); %s min is this lab’s reference", of, v, v, lost, v)
	}
	v := wording.Minutes(d.Student.Reference)
	return fmt.Sprintf("%d × e × %s / (%s + 2 × %s lost); best play takes %s min on average from your work order", of,
		v, v, lost, v)
}

// classic tells that the lab is of a time when sheets began with the complaint alone.
func (d Debrief) classic() bool { return d.Lab.Format < lab.FirstWithCases }

// weightUnit is the greatest number that divides all prior weights of a lab: weights are printed in it.
func weightUnit(lab *lab.Lab) int64 {
	if len(lab.Checks) > 0 { // an owed check weighs a fifth of its suspect
		return 1
	}
	var unit int64
	for _, h := range lab.Hypotheses {
		for a := h.Weight; a != 0; {
			unit, a = a, unit%a
		}
	}
	return max(unit, 1)
}

// diagnosisText says which of the cases of the diagnosis part applies.
func (d Debrief) diagnosisText() string {
	of, s := d.Lab.Rubric.Diagnosis, d.Student
	switch {
	case s.Right && !d.classic() && s.LostEarly > 0:
		return fmt.Sprintf("%d × %d/%d: the right repair, but not proven: so much of what was left spoke for it", of,
			s.RightWeight, s.LeftWeight)
	case s.Right:
		return fmt.Sprintf("%d × 1: the right repair", of)
	case d.Student.Repair < 0 && d.Student.Wrote != "":
		return fmt.Sprintf("%d × 0: what was written is not on the list of repairs", of)
	case d.Student.Repair < 0:
		return fmt.Sprintf("%d × 0: no repair was concluded", of)
	case d.working.Allowed && !d.classic():
		return fmt.Sprintf("%d × %s: not right, though every reading still allows it; the smaller of e/4 and half of "+
			"what spoke for it or for the right one",
			of, wording.Short(d.working.Diagnosis, 3))
	case d.working.Allowed:
		return fmt.Sprintf("%d × e/2: not right, but every reading still allows it", of)
	}
	return fmt.Sprintf("%d × 0: not right, and the readings or the complaint exclude it", of)
}

// interpretationText is the product of the two shares, in the numbers of the page.
func (d Debrief) interpretationText() string {
	w, of := d.working, d.Lab.Rubric.Interpretation
	wrong := w.Asked - w.Agreed
	switch {
	case len(d.Student.Steps) == 0 && w.Share == 0:
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
		wording.Count(w.Needed, "step", "steps"), w.Missing)
}

// countingVerdicts words how many verdicts count.
func countingVerdicts(n int) string { return wording.Count(n, "verdict counts", "verdicts count") }

// wrongText says how many verdicts were wrong or missing, which is the same for the mark.
func (d Debrief) wrongText() string {
	wrong, missing := d.working.Asked-d.working.Agreed, 0
	for _, s := range d.Student.Steps {
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

// verdictsText says why fewer verdicts count than the page asks for; "" where all count, or the steps told nothing
// anyway.
func (d Debrief) verdictsText() string {
	w, asked := d.working, d.asked()
	if w.Told == 0 || asked == w.Counted {
		return ""
	}
	idle := asked - w.Asked
	out := fmt.Sprintf("Of %d verdicts %s count: right, ", asked, wording.Count(idle, "does not", "do not"))
	switch {
	case idle == 0:
		return fmt.Sprintf("Of %d verdicts no more count than best play has steps, but all wrong ones", asked)
	case w.Asked == w.Counted:
		return out + "where the step lost all its minutes"
	}
	return out + fmt.Sprintf("all minutes lost; of %d no more than best play’s %d", w.Asked, w.Counted)
}

// asked counts the steps on the page that want a verdict.
func (d Debrief) asked() int {
	n := 0
	for _, step := range d.Student.Steps {
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

// Lost takes the lost minutes apart, and says where the mark is more than the sum of its parts.
func (d Debrief) Lost() string {
	s := d.Student
	text := fmt.Sprintf("**Lost** %s min = %s in steps", wording.LostMinutes(s.Lost), wording.LostMinutes(s.LostSteps))
	text += fmt.Sprintf(" + %s still needed when you concluded + %s for a wrong repair",
		wording.LostMinutes(s.LostEarly), wording.LostMinutes(s.LostWrong))
	sum := s.Parts.Evidence + s.Parts.Diagnosis + s.Parts.Efficiency + s.Parts.Interpretation + s.Parts.Reasoning +
		s.Parts.Safety
	switch open := d.open(); { // as the grading does it: while a column is empty the other parts stand for it
	case s.Set:
		text += fmt.Sprintf(". **Mark** set by the instructor; the parts add up to %s", wording.Points(sum))
	case open > 0 && open < 100:
		text += fmt.Sprintf(". **Mark** = %s × 100/%d", wording.Points(sum), 100-open)
	default:
		text += ". **Mark** = sum of the parts"
	}
	return text
}

// open is the weight of the instructor's columns that are still empty.
func (d Debrief) open() int {
	open := 0
	if d.Student.Reasoning < 0 {
		open += d.Lab.Rubric.Reasoning
	}
	if d.Student.Safe < 0 {
		open += d.Lab.Rubric.Safety
	}
	return open
}

// Chart shows the suspects left over the minutes spent, on the student's route and with best play. Both begin at
// the complaint, so the two lines part at the first step that was not best.
func (d Debrief) Chart() content.Chart {
	own, best := content.Series{Name: "you"}, content.Series{Name: "best play"}
	for _, s := range d.Student.Steps {
		extend(&own, s.Before, s.After, s.Minutes)
	}
	for _, s := range d.Student.Path {
		extend(&best, s.Before, s.After, s.Minutes)
	}
	return content.Chart{XLabel: "minutes spent", YLabel: "suspects left", Series: []content.Series{own, best}}
}

// extend adds a step to a series.
func extend(s *content.Series, before, after int, tenths int64) {
	at := 0.0
	if n := len(s.X); n > 0 {
		at = s.X[n-1]
	} else {
		s.X, s.Y = append(s.X, 0), append(s.Y, float64(before))
	}
	s.X, s.Y = append(s.X, at+float64(tenths)/10), append(s.Y, float64(after))
}
