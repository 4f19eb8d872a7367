package web

import (
	"fmt"
	"strings"

	"nospark/printouts/handouts"
	"nospark/printouts/wording"
	"nospark/scenarios/handout"
	"nospark/scenarios/lab"
)

// class is the same for everybody.
type class struct {
	Program, Title, Date string
	Lacks                lab.Lacks // dangers that the vehicle does not have
	Rules                []string  // what is forbidden, when a repair is proven, what need not be made today
	Reference            handout.Reference
	Groups               []group
	tests                map[string]test
	repairs              map[string]lab.Repair // by code with letters
}

// group are the tests at a point, or of one kind outside the grid.
type group struct {
	ID, Name, Note string
	Point          int // number, 0 for none
	Tests          []test
}

// test is what a student can choose.
type test struct {
	ID      string
	Short   string // below the heading of its group
	Label   string // by itself
	Meter   string // id of the instrument
	Minutes int64  // tenths
}

// sheet is the own work order.
type sheet struct {
	Code, Person, Complaint, Odometer string
	Vehicle                           int
	Known                             []handout.KnownReading
}

func newClass(l *lab.Lab, h handout.Handout) *class {
	c := &class{Program: h.Program, Title: h.Title, Date: h.Date, Lacks: h.Lacks, Reference: h.Reference,
		tests: map[string]test{}, repairs: map[string]lab.Repair{}}
	for _, text := range []string{handouts.Forbidden(h), handouts.Proven(h), handouts.NotToday(h)} {
		if text != "" {
			c.Rules = append(c.Rules, text)
		}
	}
	for _, r := range h.Reference.Repairs {
		c.repairs[r.Code+r.Letters] = r
	}
	c.Groups = groups(l)
	for _, g := range c.Groups {
		for _, t := range g.Tests {
			c.tests[t.ID] = t
		}
	}
	return c
}

func ownSheet(w handout.Worksheet) sheet {
	return sheet{Code: w.Code, Person: handouts.Person(w), Complaint: w.Complaint, Odometer: handouts.Odometer(w),
		Vehicle: w.Vehicle, Known: w.Known}
}

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
