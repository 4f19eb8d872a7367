package pack

import (
	"fmt"
	"slices"
)

// readSweeps reads the sweeps and expands each into tests: condition by condition, points in the order of the file, so that a column of
// the grid is one run of tests.
func (r *reader) readSweeps() {
	for i, t := range r.swept {
		wrong := len(r.errors)
		s := Sweep{ID: r.sweeps.ids[i], Fixed: -1, Ground: -1, Line: t.place.Line}
		s.Label = t.text("label")
		s.Conditions = t.refs("conditions", &r.conditions)
		if !t.has("conditions") {
			t.missing("conditions")
		}
		s.Minutes = t.tenths("minutes", 0.1, 600, true)
		unplug := t.refs("unplug", &r.parts)
		roles := t.roles()
		points := t.refs("points", &r.nodes)
		for _, p := range points {
			r.reachable(t, "points", p)
		}
		if s.Instrument = InstrumentByID(t.oneOf("instrument", instrumentIDs())); s.Instrument != nil {
			r.fixedLead(t, &s)
			t.finish()
		}
		r.pack.Sweeps = append(r.pack.Sweeps, s)
		r.listed = append(r.listed, points)
		if s.Instrument == nil || s.Instrument.Leads != OnePoint && s.Fixed < 0 {
			continue
		}
		before := len(r.pack.Tests)
		for _, c := range s.Conditions {
			for p := range r.pack.Nodes[:r.pack.Points] {
				all := roles == nil && points == nil
				if p != s.Fixed && p != s.Ground && (all || slices.Contains(points, p) || slices.Contains(roles, r.pack.Nodes[p].Role)) {
					r.expand(t, i, p, c, unplug)
				}
			}
		}
		if len(r.pack.Tests) == before && len(r.errors) == wrong {
			t.fail("id", "write a [[spec]] for the roles of its points", "no spec fits any of its points, so it has no tests")
		}
		r.compareSwept(before)
	}
}

// fixedLead reads the lead of a sweep that stays where it is.
func (r *reader) fixedLead(t *table, s *Sweep) {
	red, black := t.has("red"), t.has("black")
	switch in := s.Instrument; {
	case in.Leads == OnPart || in.Leads == NoLeads:
		t.fail("instrument", "write a [[test]]", "a %s goes over no points", in.Label)
	case in.Leads == OnePoint && (red || black):
		t.fail(lead(red), "take it out", "a %s has one lead, the one that moves", in.Label)
	case in.Leads == TwoLeads && red && black:
		s.FixedIsRed = true
		s.Fixed, s.Ground = r.pointRef(t, "red"), r.pointRef(t, "black")
	case in.Leads == TwoLeads && !red && !black:
		t.fail("instrument", `give red or black, the other lead moves`, "a sweep with a %s wants one fixed lead", in.Label)
	case in.Leads == TwoLeads:
		s.FixedIsRed = red
		s.Fixed = r.pointRef(t, lead(red))
	}
}

func lead(red bool) string {
	if red {
		return "red"
	}
	return "black"
}

// expand adds the test of a sweep at a point, when a spec covers it.
func (r *reader) expand(from *table, sweep, point, condition int, unplug []int) {
	s, node := &r.pack.Sweeps[sweep], r.pack.Nodes[point]
	k := slices.IndexFunc(r.specs, func(c spec) bool { return c.fits(sweep, s.Instrument, node, point, condition) })
	if k < 0 {
		return
	}
	c := &r.specs[k]
	c.used = true
	t := Test{
		ID:    s.ID + "." + node.ID + "." + r.pack.Conditions[condition].ID,
		Label: fmt.Sprintf("%s at %s, %s", s.Label, node.Label, r.pack.Conditions[condition].Label),
		Sweep: sweep, Instrument: s.Instrument, Red: point, Black: s.Fixed, Part: -1, Unplug: unplug, Condition: condition,
		Minutes: s.Minutes + node.Access, Compare: -1, Bands: slices.Clone(c.bands), Competency: c.competency, Line: s.Line,
	}
	if s.FixedIsRed {
		t.Red, t.Black = s.Fixed, point
	}
	if s.Ground >= 0 && node.Role == "ground" {
		t.Red, t.Black = point, s.Ground
	}
	if c.compare >= 0 {
		t.Compare = -2 - k // the spec, kept here until compareSwept knows the whole sweep: the other point may come later
	}
	r.addTest(from, t)
}

// compareSwept finds the tests that the tests from an index on are compared with: the same sweep and condition, the spec's point.
func (r *reader) compareSwept(from int) {
	tests := r.pack.Tests
	for i := from; i < len(tests); i++ {
		t := &tests[i]
		if t.Compare >= -1 {
			continue
		}
		c := &r.specs[-2-t.Compare]
		with := r.pack.Nodes[c.compare]
		t.Compare = slices.IndexFunc(tests, func(o Test) bool {
			return o.Sweep == t.Sweep && o.Condition == t.Condition && o.Point(r.pack) == c.compare
		})
		switch condition := r.pack.Conditions[t.Condition].ID; {
		case t.Compare < 0:
			r.fail(c.line, "add the point to the sweep and give it a spec without compare",
				"spec %q compares with point %q, where sweep %q has no test in condition %q", c.name, with.ID, r.pack.Sweeps[t.Sweep].ID, condition)
		case t.Compare == i:
			r.fail(c.line, "write a spec for that point before this one", "spec %q compares point %q with itself", c.name, with.ID)
		}
	}
}
