package grading

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"nospark/grading/submission"
	"nospark/scenarios"
	"nospark/scenarios/isolation"
)

// work is the grading of one student: what is known beforehand, and the result as it grows.
type work struct {
	g     *grader
	h     handed
	s     *Suspects
	sheet *scenarios.Sheet
	start isolation.Set
	same  isolation.Set // suspects that no test tells from the truth
	left  isolation.Set // after all steps
	r     StudentResult

	doubts   []string      // why the mark is provisional
	raisedBy *acceptRuling // what made a wrong conclusion right, nil for nothing
}

// steps follows the student's readings.
func (w *work) steps() {
	w.left = w.start
	seen := map[int]bool{} // tests
	provisional := 0
	var misfits []misfit
	for i, entry := range w.h.row.Steps {
		if c, ok := w.g.rule.correct[stepOf{w.h.student, i + 1}]; ok {
			text := entry.Text
			entry = c.step
			entry.Place, entry.Text = w.h.row.Steps[i].Place, fmt.Sprintf("%s (corrected from %s: %s)", c.step.Text, text, c.reason)
		}
		step := w.step(entry, seen)
		switch step.State {
		case NoStep, Unknown, Unproven:
			provisional++
			misfits = append(misfits, misfit{i, entry, step})
		}
		w.r.Minutes += step.Minutes
		w.r.LostSteps += step.Lost
		w.r.Steps = append(w.r.Steps, step)
	}
	if provisional > 0 {
		w.doubts = append(w.doubts, fmt.Sprintf("%s with line or letters that do not fit", count(provisional, "step", "steps")))
		w.foreign(misfits)
	}
	w.unjudged()
	w.length()
	w.r.Left = slices.Collect(w.left.All())
}

// misfit is a step whose line or letters do not fit.
type misfit struct {
	at    int
	entry submission.Step
	step  Step
}

// foreign tells the instructor about steps that prove nothing: those that fit another sheet in one line, the others one by one.
func (w *work) foreign(misfits []misfit) {
	sheet, fit := w.g.m.neighbour(w.h.row, w.h.sheet)
	for _, m := range misfits {
		if sheet < 0 || !hasLine(&w.g.lab.Sheets[sheet], m.entry.Line, m.entry.Letters) {
			w.suspicious(m.at, m.entry, m.step)
		}
	}
	if sheet < 0 {
		return
	}
	whose := owner(&w.g.lab.Sheets[sheet])
	w.doubts = append(w.doubts, fmt.Sprintf("%s fit %s", count(fit, "step", "steps"), whose))
	if sheet != w.h.named { // else the row has been remarked already
		w.g.m.problem(w.h.row.Place, w.unlessConfirmed("ask the student whose readings these are"), "%s of student %s do not fit the own sheet but fit %s",
			count(fit, "step", "steps"), w.h.student, whose)
	}
}

// unjudged tells the instructor about steps without + or -: a verdict that was on the worksheet may have been left out of the form.
func (w *work) unjudged() {
	var steps []string
	var place string
	for i, s := range w.r.Steps {
		if (s.State == Counted || s.State == Repeat) && s.Judged == "" && !s.Silent {
			steps = append(steps, fmt.Sprint(i+1))
			place = cmp.Or(w.h.row.Steps[i].Place, w.h.row.Place)
		}
	}
	const do = "write + or - behind the letters if the worksheet has a verdict"
	switch len(steps) {
	case 0:
	case 1:
		w.g.m.problem(place, do, "step %s of student %s has no verdict, which counts as a wrong one", steps[0], w.h.student)
	default:
		w.g.m.problem(w.h.row.Place, do, "steps %s of student %s have no verdict, which counts as a wrong one", strings.Join(steps, ", "), w.h.student)
	}
}

// length tells the instructor about a row that reads lines again or has more steps than the record table has lines. All steps are graded: a
// student may have drawn another line, and reading again is a mistake to learn from.
func (w *work) length() {
	again := 0
	for _, s := range w.r.Steps {
		if s.State == Repeat {
			again++
		}
	}
	if again > 0 {
		w.g.m.problem(w.h.row.Place, "nothing, if the worksheet says so too", "student %s read %s again; that costs the minutes and tells nothing",
			w.h.student, count(again, "line", "lines"))
	}
	if n, rows := len(w.h.row.Steps), w.g.lab.Rows; rows > 0 && n > rows {
		w.g.m.problem(w.h.row.Place, "compare the row with the worksheet", "student %s has %d steps, but the record table has %d lines; all steps are graded",
			w.h.student, n, rows)
	}
}

// step grades one reading and takes what it rules out from the suspects.
func (w *work) step(entry submission.Step, seen map[int]bool) Step {
	suspects := w.left.Len()
	step := Step{
		Text: entry.Text, Line: entry.Line, Letters: entry.Letters, Judged: entry.Judged,
		Test: -1, Better: -1, Before: suspects, After: suspects, Value: w.s.Value(w.left),
	}
	if entry.Line < 0 {
		step.State = NoStep
		return step
	}
	t := slices.IndexFunc(w.sheet.Lines, func(l scenarios.Line) bool { return l.Number == entry.Line })
	if t < 0 {
		step.State = Unknown
		return step
	}
	w.reading(&step, t)
	switch {
	case w.g.rule.misread[stepOf{w.h.student, len(w.r.Steps) + 1}], slices.Contains(w.g.rule.dropped(w.h.sheet, w.h.student), t):
		step.State, step.Minutes = Dropped, 0
		return step
	case w.sheet.Lines[t].Letters != entry.Letters:
		step.State, step.Lost = Unproven, float64(step.Minutes)
		return step
	case !w.s.Open(t):
		step.State, step.Lost = Banned, float64(step.Minutes)
	case seen[t]:
		step.State, step.Lost = Repeat, float64(step.Minutes)
	default:
		step.State, step.Lost = Counted, w.s.Lost(w.left, t)
	}
	if best, more := w.s.Best(w.left); more && step.Lost > 0 {
		step.Better, step.Split = best, w.s.Split(w.left, best)
	}
	w.technique(&step)
	if step.State == Counted {
		seen[t] = true
		before := w.s.Repairs(w.left)
		w.left = w.s.After(w.left, t, w.sheet.Lines[t].Band)
		after := w.s.Repairs(w.left)
		step.After = w.left.Len()
		step.Cleared = slices.DeleteFunc(before, func(r int) bool { return slices.Contains(after, r) })
	}
	return step
}

// reading fills in what the student saw and whether the verdict fits it.
func (w *work) reading(step *Step, t int) {
	test, line := w.g.lab.Tests[t], w.sheet.Lines[t]
	band := test.Bands[line.Band]
	step.Test, step.Minutes = t, test.Minutes
	step.Reading = shown(line)
	step.Normal, step.Silent = band.Normal, band.Silent
	step.Agrees = band.Silent || step.Judged == "+" && band.Normal || step.Judged == "-" && !band.Normal
}

// shown is a reading with what is printed beside it.
func shown(line scenarios.Line) string {
	if line.Beside == "" {
		return line.Reading
	}
	return line.Reading + ", " + line.Beside
}

// suspicious tells the instructor about a step that proves nothing.
func (w *work) suspicious(i int, entry submission.Step, step Step) {
	if step.State == NoStep {
		return // reading the file has said so
	}
	what := fmt.Sprintf("step %d of student %s: ", i+1, w.h.student)
	if step.State == Unknown {
		what += fmt.Sprintf("sheet %s has no line %03d", w.sheet.Code, entry.Line)
	} else {
		what += fmt.Sprintf("letters %s do not fit line %03d of sheet %s, whose letters are %s", entry.Letters, entry.Line, w.sheet.Code,
			w.sheet.Lines[step.Test].Letters)
	}
	if submission.NoCheckLetters(entry.Letters) {
		what += ", and " + submission.NeverLetters
	}
	do := "look at the worksheet; then [[correct]] the step or [[confirm]] the mark in adjust.toml"
	if m := meant(w.sheet, entry.Line, entry.Letters, entry.Judged); m != "" {
		do = fmt.Sprintf("perhaps %s was meant; %s", m, do)
	}
	w.g.m.problem(entry.Place, w.unlessConfirmed(do), "%s", what)
}

const confirmedAlready = "nothing: the mark is confirmed in adjust.toml"

// unlessConfirmed is what to do about a doubt, which is nothing once the instructor has confirmed the mark.
func (w *work) unlessConfirmed(do string) string {
	if _, confirmed := w.g.rule.confirm[w.r.Student]; confirmed {
		return confirmedAlready
	}
	return do
}

// bestPlay is the way to this fault, from what is left, of somebody who knows no more than a student.
func (w *work) bestPlay(set isolation.Set) []PathStep {
	var path []PathStep
	for {
		t, more := w.s.Best(set)
		if !more {
			return path
		}
		line := w.sheet.Lines[t]
		next := w.s.After(set, t, line.Band)
		path = append(path, PathStep{
			Test: t, Reading: shown(line), Normal: w.g.lab.Tests[t].Bands[line.Band].Normal, Minutes: w.g.lab.Tests[t].Minutes,
			Before: set.Len(), After: next.Len(),
		})
		set = next
	}
}

// count words a number of things.
func count(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}
