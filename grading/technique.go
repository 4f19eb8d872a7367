package grading

import (
	"fmt"
	"nospark/scenarios/lab"
	"slices"
	"strings"
)

// technique remarks on how a step was done, before what it rules out is taken from the suspects.
func (w *work) technique(step *Step) {
	switch step.State {
	case Banned:
		step.say("The instructions for this lab forbid this instrument, so its reading proves nothing here.")
	case Repeat:
		step.say("This line had been read already. Reading it again costs its minutes and tells nothing new.")
	case Counted:
		switch {
		case step.Value == 0 && len(w.s.Repairs(w.left)) == 1:
			step.say("The repair was proven before this test; nothing it could show would have changed it.")
		case step.Value == 0:
			step.say("No test of this lab could tell the repairs that were left apart.")
		case len(w.s.Split(w.left, step.Test)) == 1:
			step.say("Every suspect that was left reads the same here, so the answer was known beforehand.")
		case step.Lost == float64(step.Minutes):
			step.say("Whatever it showed, as much would have been left to test afterwards.")
		}
	}
	if step.State == Counted && !step.Silent && !step.Agrees {
		if step.Judged == "" {
			step.say("No verdict was written.")
		} else {
			step.say(fmt.Sprintf("Judged %s, but %s is %s: %s", step.Judged, step.Reading, normality(step.Normal), w.g.lab.Tests[step.Test].Spec))
		}
	}
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

// advise remarks on the conclusion and picks the one thing to practise.
func (w *work) advise() {
	w.conclusion()
	w.unloaded()
	w.r.Practise = w.practise()
}

// say adds a remark on the whole diagnosis.
func (w *work) say(format string, args ...any) {
	w.r.Remarks = append(w.r.Remarks, fmt.Sprintf(format, args...))
}

// conclusion remarks on a repair that was not proven, or that a reading had ruled out.
func (w *work) conclusion() {
	lab, r := w.g.lab, &w.r
	if r.Repair < 0 {
		if r.Wrote == "" {
			w.say("No conclusion was written.")
		} else {
			w.say("'%s' is not on the list of repairs, so it counts as no conclusion until the instructor has looked.", r.Wrote)
		}
		return
	}
	label := lab.Repairs[r.Repair].Label
	if same := w.s.Repairs(w.same); r.Right && len(same) > 1 {
		w.say("No test of this lab tells these apart, so each of them counts as right: %s.", w.labels(same))
	}
	if !w.allowed(r.Repair) && !r.Right {
		for i, step := range r.Steps {
			if slices.Contains(step.Cleared, r.Repair) {
				w.say("'%s' does not fit step %d: it would not have read %s there.", label, i+1, step.Reading)
				return
			}
		}
		w.say("'%s' does not fit the complaint.", label)
		return
	}
	others := slices.DeleteFunc(w.s.Repairs(w.left), func(x int) bool { return x == r.Repair })
	if r.LostEarly == 0 || len(others) == 0 {
		return
	}
	w.say("'%s' was concluded while other repairs were still possible: %s.", label, w.labels(others))
	w.beforeProven()
}

// labels lists repairs, the first three by name.
func (w *work) labels(repairs []int) string {
	var names []string
	for _, r := range repairs {
		if len(names) == 3 {
			return fmt.Sprintf("%s and %s", strings.Join(names, ", "), count(len(repairs)-3, "other", "others"))
		}
		names = append(names, "'"+w.g.lab.Repairs[r].Label+"'")
	}
	return strings.Join(names, ", ")
}

// beforeProven names the own feed, ground and inputs of a condemned part that had not been proven: the points of these at which a suspect
// that was left would have read out of specification, and the faults of the concluded repair otherwise. A point is named only for a suspect
// that those before it would not have shown: without feed a controller's inputs are dead as well. A part that only leads on what it gets has
// no such points, and where the lab does not tell where its parts are nothing is said.
func (w *work) beforeProven() {
	lab := w.g.lab
	detail, ok := w.g.details()
	if !ok {
		return
	}
	var places, faults []string
	last, shown := -1, map[int]bool{}
	for _, need := range w.needs(detail) {
		suspect, test := w.unproven(need.Point, detail, shown)
		if suspect < 0 {
			continue
		}
		last = test
		point := lab.Points[need.Point]
		places = append(places, fmt.Sprintf("the %s at point %d (%s)", need.What, point.Number, point.Label))
		if label := "'" + lab.Faults[lab.Hypotheses[suspect].Fault].Label + "'"; !slices.Contains(faults, label) {
			faults = append(faults, label)
		}
	}
	switch len(places) {
	case 0:
	case 1:
		w.say("T%s had not been proven: %s would have shown in: %s.", places[0][1:], faults[0], TestName(lab, last))
	default:
		w.say("T%s had not been proven: %s would have shown there.", listed(places)[1:], listed(faults))
	}
}

// needs lists the own feed, ground and inputs of the parts for which the concluded repair stands, each once.
func (w *work) needs(detail *lab.Detail) []lab.Need {
	var all []lab.Need
	for _, fault := range w.g.lab.Faults {
		if fault.Repair != w.r.Repair {
			continue
		}
		for _, part := range fault.Parts {
			for _, need := range detail.Needs[part] {
				if !slices.Contains(all, need) {
					all = append(all, need)
				}
			}
		}
	}
	return all
}

// unproven finds the heaviest suspect with another repair that an open test at a point would have shown and none before it did, and the
// cheapest such test; -1 if there is none. It adds what the point would have shown.
func (w *work) unproven(point int, detail *lab.Detail, shown map[int]bool) (suspect, test int) {
	lab := w.g.lab
	suspect, test = -1, -1
	for h := range w.left.All() {
		if repairOf(lab, h) == w.r.Repair || shown[h] {
			continue
		}
		t := w.showing(h, point, detail)
		if t < 0 {
			continue
		}
		shown[h] = true
		if suspect < 0 || lab.Hypotheses[h].Weight > lab.Hypotheses[suspect].Weight {
			suspect, test = h, t
		}
	}
	return suspect, test
}

// showing finds the cheapest open test at a point that was not made, under which a suspect reads out of specification and differs from all
// faults of the concluded repair that are left; -1 if there is none.
func (w *work) showing(suspect, point int, detail *lab.Detail) int {
	lab, best := w.g.lab, -1
	for t, test := range lab.Tests {
		band := test.Bands[lab.Hypotheses[suspect].Band(t)]
		if !slices.Contains(detail.Leads[t], point) || band.Normal || band.Silent || !w.s.Open(t) || w.took(t) ||
			best >= 0 && lab.Tests[best].Minutes <= test.Minutes {
			continue
		}
		separates := true
		for h := range w.left.All() {
			if repairOf(lab, h) == w.r.Repair && lab.Hypotheses[h].Band(t) == lab.Hypotheses[suspect].Band(t) {
				separates = false
			}
		}
		if separates {
			best = t
		}
	}
	return best
}

// listed joins words: "a", "a and b", "a, b and c".
func listed(words []string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	last := len(words) - 1
	return strings.Join(words[:last], ", ") + " and " + words[last]
}

// repairOf is the repair that a hypothesis needs.
func repairOf(lab *lab.Lab, h int) int { return lab.Faults[lab.Hypotheses[h].Fault].Repair }

// took tells whether a test was made and counted as evidence.
func (w *work) took(t int) bool {
	return slices.ContainsFunc(w.r.Steps, func(s Step) bool { return s.State == Counted && s.Test == t })
}

// unloaded remarks on a good verdict at a feed or ground that was trusted although only another test can tell. With the part unplugged, or
// with an ohmmeter, hardly any current flows and a bad connection drops no voltage; in a condition without load it is the same. It speaks
// up only when a suspect that the better test would have shown was still standing when the student concluded.
func (w *work) unloaded() {
	lab := w.g.lab
	if w.r.Repair < 0 || w.r.LostEarly == 0 {
		return
	}
	for i := range w.r.Steps {
		step := &w.r.Steps[i]
		if step.State != Counted || !step.Normal || step.Judged != "+" {
			continue
		}
		loaded, h := w.onlyLoaded(step.Test)
		if loaded < 0 {
			continue
		}
		fault := lab.Faults[lab.Hypotheses[h].Fault].Label
		if currentless(&lab.Tests[step.Test]) {
			step.say(fmt.Sprintf("Without current this reading does not prove the point good: '%s' was still possible and shows only under load, in: %s.",
				fault, TestName(lab, loaded)))
		} else {
			step.say(fmt.Sprintf("This reading does not prove the point good in every condition: '%s' was still possible and would show in: %s.",
				fault, TestName(lab, loaded)))
		}
	}
}

// currentless tells that hardly any current flows during a test.
func currentless(t *lab.Test) bool { return len(t.Unplugged) > 0 || t.Instrument == "ohmmeter" }

// onlyLoaded finds a test with current at the same feed or ground that was not made and reads out of specification for a suspect which is
// left: any such test if t itself is without current, else the same instrument in another condition. It is -1 if there is none.
func (w *work) onlyLoaded(t int) (test, suspect int) {
	lab, this := w.g.lab, &w.g.lab.Tests[t]
	if this.Point < 0 {
		return -1, -1
	}
	if role := lab.Points[this.Point].Role; role != "battery" && role != "switched-feed" && role != "ground" {
		return -1, -1
	}
	for h := range w.left.All() {
		for other := range lab.Tests {
			o := &lab.Tests[other]
			band := o.Bands[lab.Hypotheses[h].Band(other)]
			if o.Point == this.Point && !currentless(o) && (currentless(this) || o.Instrument == this.Instrument) &&
				w.s.Open(other) && !w.took(other) && !band.Normal && !band.Silent {
				return other, h
			}
		}
	}
	return -1, -1
}
