package grading

import (
	"fmt"
	"slices"

	"nospark/grading/handin"
)

// practice names the one thing to practice next: whatever cost most of the mark. The points lost are put to four
// accounts.
//
//	judging     the interpretation lost to wrong and missing verdicts
//	proving     the diagnosis lost by concluding before the proof, and the share of evidence and efficiency below
//	            that the minutes of concluding early have in all lost minutes
//	concluding  the diagnosis lost to a repair that the readings exclude or that is missing, and the share of
//	            the wrong repair's minutes
//	choosing    the share of the minutes lost by steps
//
// On a tie the earlier one counts. The advice points at the step that cost most.
func (d *diagnosis) practice() string {
	r, rubric := &d.r, d.lab.Rubric
	diagnosis := float64(rubric.Diagnosis) - r.Parts.Diagnosis
	rest := float64(rubric.Evidence) - r.Parts.Evidence + float64(rubric.Efficiency) - r.Parts.Efficiency
	share := func(minutes float64) float64 {
		if r.Lost == 0 {
			return 0
		}
		return rest * minutes / r.Lost
	}
	misjudged := d.misjudged()
	judging := 0.0
	if misjudged >= 0 {
		judging = float64(rubric.Interpretation) - r.Parts.Interpretation
	}
	proving, concluding := share(r.LostEarly), share(r.LostWrong)
	if r.Repair >= 0 && (r.Right || d.allowed(r.Repair)) {
		proving += diagnosis
	} else {
		concluding += diagnosis
	}
	choosing := share(r.LostSteps)
	switch most := max(judging, proving, concluding, choosing); {
	case most <= 0:
		return "Nothing was lost. Try a harder lab, or fewer minutes."
	case most == judging:
		step := r.Steps[misjudged]
		if step.Judged == "" {
			return fmt.Sprintf("Write + or - behind every reading: step %d, which read %s, has no verdict.",
				misjudged+1, step.Reading)
		}
		return fmt.Sprintf("Compare every reading with its specification before you judge it; look again at step %d, "+
			"which read %s.", misjudged+1, step.Reading)
	case most == proving && slices.ContainsFunc(r.Steps, unproven):
		return copied(slices.IndexFunc(r.Steps, unproven)) // what was proven cannot be told from a slip of the pen
	case most == proving:
		return "Prove it before you conclude: " + d.unfinished()
	case most == concluding && r.Repair < 0 && r.Wrote != "":
		return "Copy the code of the repair from the list, digits and letters, and read it once more."
	case most == concluding && r.Repair < 0:
		return "Write down a conclusion: name the repair that all your readings allow."
	case most == concluding:
		return "Hold the conclusion against every reading before you write it down: each of them must fit."
	}
	return d.choose()
}

func unproven(s Step) bool { return s.State == Unproven }

// copied advises on a step whose letters do not fit.
func copied(step int) string {
	return fmt.Sprintf("Copy line and letters as they stand beside the reading; those of step %d do not fit, so it "+
		"proves nothing.",
		step+1)
}

// unfinished says what the proof still lacked.
func (d *diagnosis) unfinished() string {
	if repairs := d.s.Repairs(d.left); len(repairs) == 1 {
		return fmt.Sprintf("of '%s' %s still owed. Ask of every part whether its feed, ground and inputs are good "+
			"and its output is not.",
			d.lab.Repairs[repairs[0]].Label, handin.Count(len(d.r.Owed), "check was", "checks were"))
	}
	return fmt.Sprintf("%s still stood at the end. Ask which test would tell them apart.",
		handin.Count(len(d.r.Left), "suspect", "suspects"))
}

// choose advises on the choice of tests. A step that made or repeated a check of a possible repair is never held
// against anybody.
func (d *diagnosis) choose() string {
	worst := d.worstStep(func(s Step) bool { return !s.Own })
	if worst < 0 {
		return "You looked only where a part has its feed, ground, inputs and output, which is good practice. " +
			d.order(d.worstStep(func(Step) bool { return true }))
	}
	step := d.r.Steps[worst]
	switch {
	case step.Lost < 1: // less than would be printed
		return "Next to nothing was lost. Try a harder lab, or fewer minutes."
	case step.State == Repeat:
		return fmt.Sprintf("Use what is written in your record table: step %d read a line again.", worst+1)
	case step.State == Unproven:
		return copied(worst)
	case step.State == Banned:
		return fmt.Sprintf("Look which tests the worksheet allows today; that of step %d is not among them.", worst+1)
	case step.State == Counted && len(step.Cleared) == 0 && step.After == step.Before:
		return fmt.Sprintf("Before each test ask which suspects it could rule out; step %d ruled out none.", worst+1)
	}
	return fmt.Sprintf("Choose the test that rules out most for its minutes; look again at step %d, which lost %.1f "+
		"minutes.", worst+1, step.Lost/10)
}

// misjudged is the first step with a wrong verdict, or the first without one if more verdicts are missing than wrong;
// -1 where all fit.
func (d *diagnosis) misjudged() int {
	var wrong, missing []int
	for i, s := range d.r.Steps {
		switch {
		case s.State != Counted && s.State != Repeat || s.Agrees:
		case s.Judged == "":
			missing = append(missing, i)
		default:
			wrong = append(wrong, i)
		}
	}
	switch {
	case len(missing) > len(wrong):
		return missing[0]
	case len(wrong) > 0:
		return wrong[0]
	}
	return -1
}

// order says what a look cost that was right at another time.
func (d *diagnosis) order(step int) string {
	if d.r.Steps[step].Value == 0 {
		return fmt.Sprintf("The repair was proven before step %d.", step+1)
	}
	return fmt.Sprintf("Only their order cost minutes: another look would have told more for its time than step %d did.",
		step+1)
}

// worstStep is the step that lost most of some, -1 without any.
func (d *diagnosis) worstStep(of func(Step) bool) int {
	worst := -1
	for i, s := range d.r.Steps {
		if of(s) && (worst < 0 || s.Lost > d.r.Steps[worst].Lost) {
			worst = i
		}
	}
	return worst
}
