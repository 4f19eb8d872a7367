package debrief

import (
	"fmt"
	"strings"

	"nospark/grading"
	"nospark/printouts/wording"
)

// StepName names the test, or gives what was written where it is no step.
func (d Debrief) StepName(s grading.Step) string {
	if s.Test < 0 {
		return "“" + s.Text + "”"
	}
	if t := d.Lab.Tests[s.Test]; d.ShortNames && t.Column >= 0 && t.Point >= 0 { // what may be cut off comes last
		column := d.Lab.Columns[t.Column]
		return fmt.Sprintf("**at %d: %s, %s**", d.Lab.Points[t.Point].Number, column.Label, column.Condition)
	}
	return "**" + d.Lab.TestName(s.Test) + "**"
}

// Written is the line and the letters, as in the record.
func Written(s grading.Step) string {
	if s.Line < 0 {
		return "?"
	}
	return wording.Line(s.Line) + s.Letters
}

// Judged is the verdict and whether it fits.
func Judged(s grading.Step) string {
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

// RemarkOn says what a reading ruled out, what the grading remarked, and what the better test would have been.
// Where only one line is left for it the better test comes first, because the end may be cut off.
func (d Debrief) RemarkOn(i int) string {
	s := d.Student.Steps[i]
	if d.Terse && s.State == grading.Counted {
		if s.Agrees && s.After == s.Before && i != d.worst() {
			return "" // nothing new: the figures of the row say it
		}
		return wording.Join(" ", d.betterText(i), d.clearedText(s), wording.Sentences(s.Remarks))
	}
	return wording.Join(" ", stateText(s.State), d.clearedText(s), wording.Sentences(s.Remarks), d.betterText(i))
}

// stateText explains a step that is no evidence. The grading itself remarks on repeats and on forbidden instruments.
func stateText(state grading.StepState) string {
	switch state {
	case grading.Unproven:
		return "The letters do not fit this line, so the reading counts for nothing until your instructor has " +
			"looked; its minutes count."
	case grading.Unknown:
		return "Your sheet has no such line; it costs nothing and tells nothing."
	case grading.NoStep:
		return "This cannot be read as a step; it costs nothing and tells nothing."
	case grading.Dropped:
		return "Your instructor took this test out of the lab; it neither costs nor tells anything."
	}
	return ""
}

// clearedText says what the reading ruled out. Suspects are faults with a severity, so some may go while every
// repair stays possible.
func (d Debrief) clearedText(s grading.Step) string {
	switch {
	case s.State != grading.Counted:
		return ""
	case len(s.Cleared) > 2 && d.Terse:
		return fmt.Sprintf("Ruled out %d repairs.", len(s.Cleared))
	case len(s.Cleared) > 0:
		names := d.repairLabels(s.Cleared, 4)
		return "Ruled out: " + names + "."
	case s.After < s.Before:
		return fmt.Sprintf("Ruled out %s, but no repair as a whole.",
			wording.Count(s.Before-s.After, "suspect", "suspects"))
	}
	switch {
	case len(s.Checks) > 0:
		return "Counts as checked: " + d.checkNames(s.Checks) + "."
	case s.Own:
		return "Looked where a repair has to be proven."
	}
	return "Ruled out nothing."
}

// checkNames lists checks, the first few by name.
func (d Debrief) checkNames(checks []int) string {
	const most = 2
	var names []string
	for i, c := range checks {
		if i == most && len(checks) > most+1 {
			names = append(names, fmt.Sprintf("%d more", len(checks)-most))
			break
		}
		names = append(names, d.Lab.Checks[c].Words(d.Lab))
	}
	return strings.Join(names, "; ")
}

// repairLabels lists repairs, the first few by name.
func (d Debrief) repairLabels(repairs []int, most int) string {
	var names []string
	for i, r := range repairs {
		if i == most && len(repairs) > most+1 {
			names = append(names, wording.Count(len(repairs)-most, "other repair", "other repairs"))
			break
		}
		names = append(names, d.Lab.Repairs[r].Label)
	}
	return strings.Join(names, "; ")
}

// betterText names the better test and to what its readings would have pointed, once on the page: at the step that lost
// most.
func (d Debrief) betterText(i int) string {
	s := d.Student.Steps[i]
	if s.Better < 0 {
		if s.State == grading.Counted && s.Lost == 0 && !d.Terse { // the figures of the row say it
			return "No test was better here."
		}
		return ""
	}
	if i != d.worst() {
		return ""
	}
	test := d.Lab.Tests[s.Better]
	if s.Pointed != "" {
		return fmt.Sprintf("**Better:** %s (%s min): %s.", d.Lab.TestName(s.Better),
			wording.Minutes(test.Minutes), s.Pointed)
	}
	return fmt.Sprintf("**Better:** %s (%s min) would have split the %s %s.", d.Lab.TestName(s.Better),
		wording.Minutes(test.Minutes),
		remainingSuspects(s.Before), splitText(s.Split))
}

// worst is the step that lost most of those for which there was a better test, the first of equals; -1 for none.
func (d Debrief) worst() int {
	worst := -1
	for i, s := range d.Student.Steps {
		if s.Better >= 0 && (worst < 0 || s.Lost > d.Student.Steps[worst].Lost) {
			worst = i
		}
	}
	return worst
}

// remainingSuspects words them; one that remains is all there is.
func remainingSuspects(n int) string { return wording.Count(n, "suspect", "remaining suspects") }

// splitText words the sizes of the parts: "3 to 4", "into 2, 1 and 1".
func splitText(sizes []int) string {
	var words []string
	for _, n := range sizes {
		words = append(words, fmt.Sprint(n))
	}
	if len(words) == 2 {
		return words[0] + " to " + words[1]
	}
	return "into " + wording.List(words)
}

// BestPlay is best play as one sentence a step, "" when nothing needed testing.
func (d Debrief) BestPlay() string {
	if len(d.Student.Path) == 0 {
		return ""
	}
	text := fmt.Sprintf("**Best play to this fault, %s min:**", wording.Minutes(d.Student.Best))
	for i, p := range d.Student.Path {
		text += fmt.Sprintf(" **%d** %s: %s (%d → %d).", i+1, d.Lab.TestName(p.Test), p.Reading, p.Before,
			p.After)
	}
	return text
}
