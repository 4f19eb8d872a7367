package web

import (
	"fmt"
	"strings"

	"nospark/printouts/wording"
	"nospark/scenarios/lab"
)

// groups puts the tests of a lab in order: those at the numbered points, point by point, then the others, kind by kind.
func groups(l *lab.Lab) []group {
	all := make([]group, len(l.Points))
	for i, p := range l.Points {
		all[i] = group{ID: fmt.Sprintf("point-%d", p.Number), Point: p.Number, Name: p.Label, Note: p.Role}
		if p.Role != "" {
			all[i].Note = lab.RoleName(p.Role)
		}
	}
	place := map[string]int{}
	for i, t := range l.Tests {
		if t.Column >= 0 {
			c := l.Columns[t.Column]
			all[t.Point].Tests = append(all[t.Point].Tests,
				test{t.ID, wording.Join(", ", c.Label, c.Condition), l.TestName(i), t.Instrument, t.Minutes})
			continue
		}
		at, known := place[t.Group]
		if !known {
			at = len(all)
			place[t.Group] = at
			name := wording.Capital(t.Group)
			if name == "" {
				name = "Other tests"
			}
			all = append(all, group{ID: fmt.Sprintf("kind-%d", len(place)), Name: name})
		}
		all[at].Tests = append(all[at].Tests, test{t.ID, named(l, i), named(l, i), t.Instrument, t.Minutes})
	}
	var some []group
	for _, g := range all {
		if len(g.Tests) > 0 {
			some = append(some, g)
		}
	}
	return some
}

// named says how a test outside the grid is made, its instrument with it where the name does not say it.
func named(l *lab.Lab, t int) string {
	name, meter := l.TestName(t), lab.MeterLabel(l.Tests[t].Instrument)
	words := strings.FieldsFunc(meter, func(r rune) bool { return r == ' ' || r == ',' })
	for _, w := range words {
		if strings.Contains(strings.ToLower(name), strings.TrimSuffix(strings.ToLower(w), "meter")) {
			return name
		}
	}
	return name + ", " + meter
}
