package grading

import (
	"fmt"
	"strings"

	"nospark/grading/bestplay"
	"nospark/scenarios/isolation"
	"nospark/scenarios/lab"
)

// onSteps says what there is to learn from the steps.
func (d *diagnosis) onSteps() {
	for i := range d.r.Steps {
		d.onStep(&d.r.Steps[i], d.before[i])
	}
	d.onLoad()
	d.onLuck()
}

// onStep remarks on how a step was done; before was left at that moment.
func (d *diagnosis) onStep(step *Step, before isolation.Set) {
	switch step.State {
	case Banned:
		step.say("The instructions for this lab forbid this instrument, so its reading proves nothing here.")
	case Repeat:
		step.say("This line had been read already. Reading it again costs its minutes and tells nothing new.")
	case Counted:
		d.onChoice(step, before)
	}
	if step.Better >= 0 {
		step.Pointed = d.pointed(before, step.Better)
	}
	if step.State == Counted && !step.Silent && !step.Agrees {
		if step.Judged == "" {
			step.say("No verdict was written.")
		} else {
			step.say(fmt.Sprintf("Judged %s, but %s is %s: %s", step.Judged, step.Reading, normality(step.Normal),
				d.lab.Tests[step.Test].Spec))
		}
	}
}

// onChoice remarks on a test that could tell nothing. Where it is a look at the own feed, ground, input or output of a
// repair that was possible, it is no mistake: then it says what it was good for.
func (d *diagnosis) onChoice(step *Step, before isolation.Set) {
	given := false
	for _, k := range bestplay.Known(d.lab, d.sheet) {
		given = given || k.Test == step.Test
	}
	switch {
	case given && !d.s.Tells(before, step.Test):
		step.say("The work order gave this reading already.")
	case step.Own && step.Value == 0:
		step.say("The repair was proven by then. Looking at a part's own feed, ground, inputs and output is good " +
			"practice all the same.")
	case step.Own:
	case step.Value == 0 && len(d.s.Repairs(before)) == 1:
		step.say("The repair was proven before this test; nothing it could show would have changed it.")
	case step.Value == 0:
		step.say("No test of this lab could tell the repairs that were left apart.")
	case !d.s.Tells(before, step.Test):
		step.say("Every suspect that was left reads the same here, so the answer was known beforehand.")
	case step.Lost == float64(step.Minutes):
		step.say("Whatever it showed, as much would have been left to test afterwards.")
	}
}

// pointed says to what each reading of a test would have pointed: "none would have pointed to 'Replace the switch',
// normal to 'Replace the lamp'". Where a check of its own is owed, any other reading means a cause that is not on the list.
func (d *diagnosis) pointed(before isolation.Set, test int) string {
	var words []string
	named := 0
	for _, w := range d.s.Ways(before, test) {
		named += w.Left.Len()
		band := d.lab.Tests[test].Bands[w.Band].Name
		verb := ""
		if len(words) == 0 {
			verb = "would have pointed "
		}
		words = append(words, fmt.Sprintf("%s %sto %s", band, verb, d.labels(d.s.Repairs(w.Left))))
	}
	if named < before.Len() {
		words = append(words, "anything else to a cause that is not on the list")
	}
	return strings.Join(words, ", ")
}

// say adds a remark; a test without words for its specification leaves no dangling colon.
func (s *Step) say(remark string) { s.Remarks = append(s.Remarks, strings.TrimSuffix(remark, ": ")) }

// normality says in words what a band is.
func normality(normal bool) string {
	if normal {
		return "within the specification"
	}
	return "outside the specification"
}

// onLoad remarks on a good verdict at a feed or ground that was trusted although only another test can tell. With the
// part unplugged, or with an ohmmeter, hardly any current flows and a bad connection drops no voltage; in a condition
// without load it is the same. It speaks up only when a suspect that the better test would have shown was still
// standing when the student concluded.
func (d *diagnosis) onLoad() {
	if d.r.Repair < 0 || d.r.LostEarly == 0 {
		return
	}
	for i := range d.r.Steps {
		step := &d.r.Steps[i]
		if step.State != Counted || !step.Normal || step.Judged != "+" {
			continue
		}
		loaded, h := d.onlyLoaded(step.Test)
		if loaded < 0 {
			continue
		}
		fault := d.lab.Faults[d.lab.Hypotheses[h].Fault].Label
		if currentless(&d.lab.Tests[step.Test]) {
			step.say(fmt.Sprintf("Without current this reading does not prove the point good: '%s' was still "+
				"possible and shows only under load, in: %s.",
				fault, d.lab.TestName(loaded)))
		} else {
			step.say(fmt.Sprintf("This reading does not prove the point good in every condition: '%s' was still "+
				"possible and would show in: %s.",
				fault, d.lab.TestName(loaded)))
		}
	}
}

// currentless tells that hardly any current flows during a test.
func currentless(t *lab.Test) bool { return len(t.Unplugged) > 0 || t.Instrument == "ohmmeter" }

// onlyLoaded finds a test with current at the same feed or ground that was not made and reads out of specification for
// a suspect which is left: any such test if t itself is without current, else the same instrument in another condition.
// It is -1 if there is none.
func (d *diagnosis) onlyLoaded(t int) (test, suspect int) {
	this := &d.lab.Tests[t]
	if this.Point < 0 {
		return -1, -1
	}
	if role := d.lab.Points[this.Point].Role; role != "battery" && role != "switched-feed" && role != "ground" {
		return -1, -1
	}
	for h := range d.s.Rows(d.left).All() {
		for other := range d.lab.Tests {
			o := &d.lab.Tests[other]
			if o.Point == this.Point && !currentless(o) && (currentless(this) || o.Instrument == this.Instrument) &&
				d.s.Open(other) && !d.took(other) && bestplay.Abnormal(d.lab, other, h) {
				return other, h
			}
		}
	}
	return -1, -1
}

// Minutes, in tenths, from which luck is worth a line.
const lucky = 10

// onLuck explains where time spent and time lost seem to contradict each other: a proof that took no longer than best
// play although its steps lost minutes, and one that took much longer although they hardly lost any. Lost minutes are
// reckoned over all suspects, the time spent is that of the one vehicle.
func (d *diagnosis) onLuck() {
	r := &d.r
	over := float64(r.Minutes - r.Best)
	switch {
	case r.LostEarly > 0 || len(r.Steps) == 0:
	case over <= 0 && r.LostSteps >= lucky:
		d.say("Luck was with you: on this vehicle your steps took %s minutes, best play %s, but over all faults that "+
			"were possible the same choices take %.1f minutes longer.",
			inMinutes(r.Minutes), inMinutes(r.Best), r.LostSteps/10)
	case over >= lucky && 2*r.LostSteps <= over:
		d.say("Luck was against you: on this vehicle your steps took %.1f minutes longer than best play, but over "+
			"all faults that were possible the same choices lose only %.1f.",
			over/10, r.LostSteps/10)
	}
}

// inMinutes writes tenths of a minute.
func inMinutes(tenths int64) string { return fmt.Sprintf("%d.%d", tenths/10, tenths%10) }
