package grading

import (
	"fmt"
	"slices"
	"strings"

	"nospark/grading/bestplay"
	"nospark/grading/handin"
	"nospark/scenarios/isolation"
	"nospark/scenarios/lab"
)

// onConclusion remarks on a repair that was not proven, or that a reading had ruled out.
func (d *diagnosis) onConclusion() {
	r := &d.r
	if r.Repair < 0 {
		if r.Wrote == "" {
			d.say("No conclusion was written.")
		} else {
			d.say("'%s' is not on the list of repairs, so it counts as no conclusion until the instructor has looked.",
				r.Wrote)
		}
		return
	}
	label := d.lab.Repairs[r.Repair].Label
	if same := d.s.Repairs(d.same); r.Right && len(same) > 1 {
		d.say("No test of this lab tells these apart, so each of them counts as right: %s.", d.labels(same))
	}
	if !d.allowed(r.Repair) && !r.Right {
		for i, step := range r.Steps {
			if slices.Contains(step.Cleared, r.Repair) {
				d.say("'%s' does not fit step %d: it would not have read %s there.", label, i+1, step.Reading)
				return
			}
		}
		for _, k := range bestplay.Known(d.lab, d.sheet) {
			if d.s.Open(k.Test) && !slices.ContainsFunc(d.lab.Hypotheses, func(h lab.Hypothesis) bool {
				return d.lab.Faults[h.Fault].Repair == r.Repair && h.Band(k.Test) == k.Band
			}) {
				d.say("'%s' does not fit what the work order gives: %s.", label, d.lab.TestName(k.Test))
				return
			}
		}
		d.say("'%s' does not fit the complaint.", label)
		return
	}
	if r.LostEarly == 0 {
		return
	}
	others := slices.DeleteFunc(d.s.Repairs(d.left), func(x int) bool { return x == r.Repair })
	switch owed := len(d.s.OwedBy(d.left, r.Repair)); {
	case len(others) > 0:
		d.say("'%s' was concluded while other repairs were still possible: %s.", label, d.labels(others))
	case owed > 0:
		d.say("'%s' was concluded before it was proven: %s still owed.", label, handin.Count(owed, "check was", "checks were"))
	}
	d.notLooked()
}

// provingPoint is where a part has to be looked at before it is condemned: its own feed, ground, input or output, or
// one end of a wire.
type provingPoint struct {
	what  string
	part  string // label, "" where a lab has no checks
	point int    // -1 where no lead reaches
	tests []int  // any one of which looks there
	vain  bool   // a reading was taken there, with a test that does not prove this repair
}

// vainly tells whether a reading was taken where an owed check is made: with a test that shows nothing of this repair,
// as volts without load at a poor ground.
func (d *diagnosis) vainly(check int) bool {
	owed := d.lab.Checks[check]
	words := owed.Words(d.lab)
	detail, err := d.details()
	return slices.ContainsFunc(d.r.Steps, func(s Step) bool {
		there := s.State == Counted && owed.Point >= 0 && err == nil && d.lab.Tests[s.Test].Part == "" &&
			slices.Contains(detail.Leads[s.Test], owed.Point) // of a part taken off nothing is read in the circuit
		return there ||
			slices.ContainsFunc(s.Checks, func(c int) bool { return d.lab.Checks[c].Words(d.lab) == words })
	})
}

// provingPoints are those of the concluded repair that were not looked at. A lab without checks tells the own feed,
// ground and inputs by its pack; a part that only leads on what it gets has none of these, and where the lab does not
// tell where its parts are there are no places.
func (d *diagnosis) provingPoints() []provingPoint {
	var all []provingPoint
	if len(d.lab.Checks) > 0 {
		for _, c := range d.s.OwedBy(d.left, d.r.Repair) {
			check := d.lab.Checks[c]
			all = append(all, provingPoint{check.What, check.Label, check.Point, check.Tests, d.vainly(c)})
		}
		return all
	}
	detail, err := d.details()
	if err != nil {
		return nil
	}
	for _, need := range d.needs(detail.Needs) {
		p := provingPoint{what: need.What, point: need.Point}
		for t := range d.lab.Tests {
			if slices.Contains(detail.Leads[t], need.Point) {
				p.tests = append(p.tests, t)
			}
		}
		all = append(all, p)
	}
	return all
}

// needs are what the parts that the concluded repair is for need at their own points, each once.
func (d *diagnosis) needs(of map[string][]lab.Need) []lab.Need {
	var all []lab.Need
	for _, fault := range d.lab.Faults {
		if fault.Repair != d.r.Repair {
			continue
		}
		for _, part := range fault.Parts {
			for _, need := range of[part] {
				if !slices.Contains(all, need) {
					all = append(all, need)
				}
			}
		}
	}
	return all
}

// notLooked names the places at which the concluded repair had not been proven, and to what a bad reading there would
// have pointed: the heaviest suspect that was left. One is named only for a suspect that those before it would not have
// shown: without feed a controller's inputs are dead as well. A check that no listed suspect hangs on stands for causes
// that are not on the list.
func (d *diagnosis) notLooked() {
	var looks []string
	shown, last := isolation.Set{}, -1
	for _, p := range d.provingPoints() {
		suspect, test := d.heaviest(p, &shown)
		pointed := "a bad reading there would have pointed to a cause that is not on the list"
		switch {
		case suspect >= 0:
			last = test
			pointed = fmt.Sprintf("%s there would have pointed to '%s'",
				d.lab.Tests[test].Bands[d.lab.Hypotheses[suspect].Band(test)].Name,
				d.lab.Faults[d.lab.Hypotheses[suspect].Fault].Label)
		case len(d.lab.Checks) == 0:
			continue
		}
		// the same place can be owed for more than one reason
		if look := fmt.Sprintf("%s %s: %s", d.pointName(p), d.looked(p), pointed); !slices.Contains(looks, look) {
			looks = append(looks, look)
		}
	}
	const most = 3
	if more := len(looks) - most; more > 0 {
		looks = append(looks[:most], handin.Count(more, "check more", "checks more"))
	}
	switch text := strings.Join(looks, "; "); {
	case len(looks) == 0:
	case len(looks) == 1 && last >= 0:
		d.say("%s%s, in: %s.", strings.ToUpper(text[:1]), text[1:], d.lab.TestName(last))
	default:
		d.say("%s%s.", strings.ToUpper(text[:1]), text[1:])
	}
}

// pointName words a place; it begins with a small letter.
func (d *diagnosis) pointName(p provingPoint) string {
	name := "the " + p.what
	if p.part != "" {
		name += " of " + p.part
	}
	if p.point >= 0 {
		point := d.lab.Points[p.point]
		name += fmt.Sprintf(" at point %d (%s)", point.Number, point.Label)
	}
	return name
}

// looked says that one did not look there. Without checks a reading may have been taken that does not prove the point.
func (d *diagnosis) looked(p provingPoint) string {
	switch {
	case len(d.lab.Checks) == 0:
		return "was not proven"
	case p.vain:
		return "was measured, but not with a test that proves this repair"
	case p.what == "own test":
		return "was not made"
	}
	return "was not measured"
}

// heaviest finds the heaviest suspect with another repair that an open test at a place would have shown and none before
// it did, and the cheapest such test; -1 if there is none. It adds what the place would have shown.
func (d *diagnosis) heaviest(p provingPoint, shown *isolation.Set) (suspect, test int) {
	suspect, test = -1, -1
	for h := range d.s.Rows(d.left).All() {
		if bestplay.RepairOf(d.lab, h) == d.r.Repair || shown.Has(h) {
			continue
		}
		t := d.showing(h, p)
		if t < 0 {
			continue
		}
		*shown = shown.With(h)
		if suspect < 0 || d.lab.Hypotheses[h].Weight > d.lab.Hypotheses[suspect].Weight {
			suspect, test = h, t
		}
	}
	return suspect, test
}

// showing finds the cheapest open test at a place that was not made, under which a suspect reads out of specification
// and differs from all faults of the concluded repair that are left; -1 if there is none.
func (d *diagnosis) showing(suspect int, p provingPoint) int {
	best := -1
	condemned := d.s.Needing(d.left, d.r.Repair)
	for _, t := range p.tests {
		if !bestplay.Abnormal(d.lab, t, suspect) || !d.s.Open(t) || d.took(t) ||
			best >= 0 && d.lab.Tests[best].Minutes <= d.lab.Tests[t].Minutes {
			continue
		}
		separates := true
		for h := range condemned.All() {
			separates = separates && d.lab.Hypotheses[h].Band(t) != d.lab.Hypotheses[suspect].Band(t)
		}
		if separates {
			best = t
		}
	}
	return best
}
