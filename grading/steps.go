package grading

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"nospark/grading/bestplay"
	"nospark/grading/handin"
	"nospark/grading/letters"
	"nospark/grading/submission"
	"nospark/scenarios/isolation"
	"nospark/scenarios/lab"
)

// diagnosis is the grading of a student's work on one sheet: what is known beforehand, and the result as it grows.
type diagnosis struct {
	*grader
	h      handin.Entry
	s      *bestplay.Suspects
	sheet  *lab.Sheet
	start  isolation.Set
	same   isolation.Set   // suspects that no test tells from the truth
	before []isolation.Set // of each step: what was left before it
	left   isolation.Set   // after all steps
	r      StudentResult

	doubts   []string           // why the mark is provisional
	raisedBy *handin.Acceptance // what made a wrong conclusion right, nil for nothing
}

// steps follows the student's readings.
func (d *diagnosis) steps() {
	d.left = d.start
	seen := map[int]bool{} // tests
	provisional := 0
	var misfits []misfit
	for i, entry := range d.h.Row.Steps {
		if c, ok := d.rule.Corrected(d.h.Work, i+1); ok {
			text := entry.Text
			entry = c.Step
			entry.Place = d.h.Row.Steps[i].Place
			entry.Text = fmt.Sprintf("%s (corrected from %s: %s)", c.Step.Text, text, c.Reason)
		}
		d.before = append(d.before, d.left)
		step := d.step(entry, seen)
		switch step.State {
		case NoStep, Unknown, Unproven:
			provisional++
			misfits = append(misfits, misfit{i, entry, step})
		}
		d.r.Minutes += step.Minutes
		d.r.LostSteps += step.Lost
		d.r.Steps = append(d.r.Steps, step)
	}
	if provisional > 0 {
		d.doubts = append(d.doubts,
			fmt.Sprintf("%s with line or letters that do not fit", handin.Count(provisional, "step", "steps")))
		d.foreign(misfits)
	}
	d.unjudged()
	d.length()
	d.r.Left = slices.Collect(d.s.Rows(d.left).All())
	d.r.Owed = d.s.Owed(d.left)
}

// misfit is a step whose line or letters do not fit.
type misfit struct {
	at    int
	entry submission.Step
	step  Step
}

// foreign tells the instructor about steps that prove nothing: those that fit another sheet in one line, the others one
// by one.
func (d *diagnosis) foreign(misfits []misfit) {
	sheet, fit := d.lines.Neighbor(d.h.Row, d.h.Sheet)
	for _, m := range misfits {
		if sheet < 0 || !letters.HasLine(&d.lab.Sheets[sheet], m.entry.Line, m.entry.Letters) {
			d.suspicious(m.at, m.entry, m.step)
		}
	}
	if sheet < 0 {
		return
	}
	whose := letters.Owner(&d.lab.Sheets[sheet])
	d.doubts = append(d.doubts, fmt.Sprintf("%s fit %s", handin.Count(fit, "step", "steps"), whose))
	if sheet != d.h.Named { // else the row has been remarked already
		d.problem(d.h.Row.Place, d.unlessConfirmed("ask the student whose readings these are"),
			"%s of student %s do not fit the own sheet but fit %s",
			handin.Count(fit, "step", "steps"), d.h.Student, whose)
	}
}

// unjudged tells the instructor about steps without + or -: a verdict that was on the worksheet may have been left out
// of the form.
func (d *diagnosis) unjudged() {
	var steps []string
	var place string
	for i, s := range d.r.Steps {
		if (s.State == Counted || s.State == Repeat) && s.Judged == "" && !s.Silent {
			steps = append(steps, fmt.Sprint(i+1))
			place = cmp.Or(d.h.Row.Steps[i].Place, d.h.Row.Place)
		}
	}
	do := "write + or - behind the letters if the worksheet has a verdict"
	if d.h.Row.Bench {
		do = "nothing, if none was meant; else [[correct]] the step in adjust.toml"
	}
	switch len(steps) {
	case 0:
	case 1:
		d.problem(place, do, "step %s of student %s has no verdict, which counts as a wrong one", steps[0],
			d.h.Student)
	default:
		d.problem(d.h.Row.Place, do, "steps %s of student %s have no verdict, which counts as a wrong one",
			strings.Join(steps, ", "), d.h.Student)
	}
}

// length tells the instructor about a row that reads lines again or has more steps than the record table has lines. All
// steps are graded: a student may have drawn another line, and reading again is a mistake to learn from.
func (d *diagnosis) length() {
	again := 0
	for _, s := range d.r.Steps {
		if s.State == Repeat {
			again++
		}
	}
	if again > 0 {
		d.problem(d.h.Row.Place, "nothing, if the worksheet says so too",
			"student %s read %s again; that costs the minutes and tells nothing",
			d.h.Student, handin.Count(again, "line", "lines"))
	}
	if n, rows := len(d.h.Row.Steps), d.lab.Rows; rows > 0 && n > rows && !d.h.Row.Bench {
		d.problem(d.h.Row.Place, "compare the row with the worksheet",
			"student %s has %d steps, but the record table has %d lines; all steps are graded",
			d.h.Student, n, rows)
	}
}

// step grades one reading and takes what it rules out from the suspects.
func (d *diagnosis) step(entry submission.Step, seen map[int]bool) Step {
	suspects := d.s.Count(d.left)
	step := Step{
		Text: entry.Text, Line: entry.Line, Letters: entry.Letters, Judged: entry.Judged,
		Test: -1, Better: -1, Before: suspects, After: suspects, Value: d.s.Value(d.left),
	}
	if entry.Line < 0 {
		step.State = NoStep
		return step
	}
	t := slices.IndexFunc(d.sheet.Lines, func(l lab.Line) bool { return l.Number == entry.Line })
	if t < 0 {
		step.State = Unknown
		return step
	}
	d.reading(&step, t)
	switch {
	case entry.Void != "":
		step.State, step.Minutes = Dropped, 0
		return step
	case d.rule.Misread(d.h.Work, len(d.r.Steps)+1), slices.Contains(d.rule.Dropped(d.h.Work), t):
		step.State, step.Minutes = Dropped, 0
		return step
	case d.sheet.Lines[t].Letters != entry.Letters:
		step.State, step.Lost = Unproven, float64(step.Minutes)
		return step
	case !d.s.Open(t):
		step.State, step.Lost = Banned, float64(step.Minutes)
	case seen[t]:
		step.State, step.Lost = Repeat, float64(step.Minutes)
	default:
		step.State, step.Lost = Counted, d.s.Lost(d.left, t)
	}
	if best, more := d.s.Best(d.left); more && step.Lost > 0 {
		step.Better, step.Split = best, d.s.Split(d.left, best)
	}
	if step.State == Counted {
		seen[t] = true
		before := d.left
		d.left = d.s.After(before, t, d.sheet.Lines[t].Band)
		after := d.s.Repairs(d.left)
		step.After = d.s.Count(d.left)
		step.Cleared = slices.DeleteFunc(d.s.Repairs(before), func(r int) bool { return slices.Contains(after, r) })
		step.Checks, step.Own = d.s.Made(before, d.left), d.s.Own(before, t)
	}
	return step
}

// reading fills in what the student saw and whether the verdict fits it.
func (d *diagnosis) reading(step *Step, t int) {
	test, line := d.lab.Tests[t], d.sheet.Lines[t]
	band := test.Bands[line.Band]
	step.Test, step.Minutes = t, test.Minutes
	step.Reading = bestplay.Shown(line)
	step.Normal, step.Silent = band.Normal, band.Silent
	step.Agrees = band.Silent || step.Judged == "+" && band.Normal || step.Judged == "-" && !band.Normal
}

// suspicious tells the instructor about a step that proves nothing.
func (d *diagnosis) suspicious(i int, entry submission.Step, step Step) {
	if step.State == NoStep {
		return // reading the file has said so
	}
	what := fmt.Sprintf("step %d of student %s: ", i+1, d.h.Student)
	if step.State == Unknown {
		what += fmt.Sprintf("sheet %s has no line %03d", d.sheet.Code, entry.Line)
	} else {
		what += fmt.Sprintf("letters %s do not fit line %03d of sheet %s, whose letters are %s", entry.Letters,
			entry.Line,
			d.sheet.Code, d.sheet.Lines[step.Test].Letters)
	}
	if submission.NoCheckLetters(entry.Letters) {
		what += ", and " + submission.NeverLetters
	}
	do := "look at the worksheet; then [[correct]] the step or [[confirm]] the mark in adjust.toml"
	if m := letters.Meant(d.sheet, entry.Line, entry.Letters, entry.Judged); m != "" {
		do = fmt.Sprintf("perhaps %s was meant; %s", m, do)
	}
	d.problem(entry.Place, d.unlessConfirmed(do), "%s", what)
}

// labels lists repairs, the first three by name.
func (d *diagnosis) labels(repairs []int) string {
	var names []string
	for _, r := range repairs {
		if len(names) == 3 {
			return fmt.Sprintf("%s and %s", strings.Join(names, ", "), handin.Count(len(repairs)-3, "other", "others"))
		}
		names = append(names, "'"+d.lab.Repairs[r].Label+"'")
	}
	return strings.Join(names, ", ")
}

// took tells whether a test was made and counted as evidence.
func (d *diagnosis) took(t int) bool {
	for _, s := range d.r.Steps {
		if s.State == Counted && s.Test == t {
			return true
		}
	}
	return false
}

// say adds a remark on the whole diagnosis.
func (d *diagnosis) say(format string, args ...any) {
	d.r.Remarks = append(d.r.Remarks, fmt.Sprintf(format, args...))
}

const confirmedAlready = "nothing: the mark is confirmed in adjust.toml"

// unlessConfirmed is what to do about a doubt, which is nothing once the instructor has confirmed the mark.
func (d *diagnosis) unlessConfirmed(do string) string {
	if _, confirmed := handin.RulingOn(d.rule.Confirm, d.h.Work); confirmed {
		return confirmedAlready
	}
	return do
}
