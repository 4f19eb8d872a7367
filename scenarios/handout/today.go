package handout

import (
	"cmp"
	"slices"

	"nospark/scenarios/lab"
	"nospark/scenarios/pack"
)

// notToday lists the checks for which the lab has no open test, whatever the fault, but for those that the booklet says
// can never be made. Where one fault leaves no test for a check and another one does, it can be made as far as a
// student knows.
func notToday(l *lab.Lab) []Waived {
	open := map[string]bool{}
	for _, words := range never(l) {
		open[words] = true
	}
	for _, c := range l.Checks {
		words := c.Words(l)
		open[words] = open[words] || slices.ContainsFunc(c.Tests, func(t int) bool { return allowed(l, t) })
	}
	var list []Waived
	for _, c := range l.Checks {
		if w := waived(l, c); !open[c.Words(l)] && !slices.Contains(list, w) {
			list = append(list, w)
		}
	}
	slices.SortFunc(list, func(a, b Waived) int { // by words, so that the order tells nothing
		return cmp.Or(cmp.Compare(a.What, b.What), cmp.Compare(a.Label, b.Label), cmp.Compare(a.Point, b.Point))
	})
	return list
}

// waived tells a check in the words of [lab.Check.Words].
func waived(l *lab.Lab, c lab.Check) Waived {
	w := Waived{What: c.What, Label: c.Label}
	switch {
	case c.What == "result":
		w.What, w.Label = lab.ResultWords, cmp.Or(c.Label, "the vehicle")
	case c.Point >= 0:
		w.Point = l.Points[c.Point].Number
		for t, test := range l.Tests {
			w.Read = w.Read || test.Column >= 0 && test.Point == c.Point && allowed(l, t)
		}
	case c.What == "end": // inside the harness; the other one has a number
		w.What = "inner end"
	}
	return w
}

// allowed tells whether the lab lets students use the instrument of a test.
func allowed(l *lab.Lab, test int) bool {
	return !slices.Contains(l.Technique.Forbid, l.Tests[test].Instrument)
}

// untested lists the points at which the lab has no test. The reference, where one lead waits while the other one
// measures, counts only where the lead that moves is on it.
func untested(l *lab.Lab, p *pack.Pack) []int {
	open := map[string]bool{}
	for i, t := range l.Tests {
		open[t.ID] = allowed(l, i)
	}
	at := map[int]bool{}
	for _, t := range p.Tests {
		if !open[t.ID] {
			continue
		}
		if t.Sweep >= 0 {
			at[t.Point(p)] = true
			continue
		}
		at[t.Red] = true
		if t.Black != p.Reference {
			at[t.Black] = true
		}
	}
	var list []int
	for i, point := range l.Points {
		if !at[i] {
			list = append(list, point.Number)
		}
	}
	return list
}
