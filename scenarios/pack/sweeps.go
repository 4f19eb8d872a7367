package pack

import (
	"fmt"
	"slices"

	"nospark/scenarios/pack/cards"
	"nospark/scenarios/strict"
)

// readSweeps reads the sweeps and expands each into tests: condition by condition, points in the order of the file,
// so that a column of the grid is one run of tests. It gives the points that each sweep names one by one.
func (r *reader) readSweeps(tables []*strict.Table, specs []*spec) (named [][]int) {
	for i, t := range tables {
		wrong := r.found.Errors()
		s := Sweep{ID: r.sweeps.ids[i], Fixed: -1, Ground: -1, Line: t.Line("")}
		s.Label = t.Text("label")
		s.Conditions = r.conditions.refs(t, "conditions")
		if !t.Has("conditions") {
			t.Missing("conditions")
		}
		s.Minutes = t.Minutes("minutes", 0.1, 600)
		unplug := r.parts.refs(t, "unplug")
		roles := readRoles(t)
		points := r.nodes.refs(t, "points")
		for _, p := range points {
			r.reachable(t, "points", p)
		}
		if s.Instrument = cards.InstrumentByID(t.Choice("instrument", cards.InstrumentIDs())); s.Instrument != nil {
			r.fixedLead(t, &s)
			t.Finish()
		}
		r.pack.Sweeps = append(r.pack.Sweeps, s)
		named = append(named, points)
		if s.Instrument == nil || s.Instrument.Leads != cards.OnePoint && s.Fixed < 0 {
			continue
		}
		before := len(r.pack.Tests)
		over := r.sweptPoints(&s, roles, points)
		for _, c := range s.Conditions {
			for _, p := range over {
				r.expand(t, specs, i, p, c, unplug)
			}
		}
		if len(r.pack.Tests) == before && r.found.Errors() == wrong {
			t.Fail("id", "write a [[spec]] for the roles of its points",
				"no spec fits any of its points, so it has no tests")
		}
		r.compareSwept(specs, before)
	}
	return named
}

// sweptPoints gives the points that the moving lead of a sweep goes over: those named or of a role named, or all.
func (r *reader) sweptPoints(s *Sweep, roles []Role, points []int) []int {
	var over []int
	all := roles == nil && points == nil
	for p := range r.pack.Nodes[:r.pack.Points] {
		if p != s.Fixed && p != s.Ground &&
			(all || slices.Contains(points, p) || slices.Contains(roles, r.pack.Nodes[p].Role)) {
			over = append(over, p)
		}
	}
	return over
}

// fixedLead reads the lead of a sweep that stays where it is.
func (r *reader) fixedLead(t *strict.Table, s *Sweep) {
	red, black := t.Has("red"), t.Has("black")
	switch in := s.Instrument; {
	case in.Leads == cards.OnPart || in.Leads == cards.NoLeads:
		t.Fail("instrument", "write a [[test]]", "a %s goes over no points", in.Label)
	case in.Leads == cards.OnePoint && (red || black):
		t.Fail(leadKey(red), "take it out", "a %s has one lead, the one that moves", in.Label)
	case in.Leads == cards.TwoLeads && red && black:
		s.FixedIsRed = true
		s.Fixed, s.Ground = r.point(t, "red"), r.point(t, "black")
	case in.Leads == cards.TwoLeads && !red && !black:
		t.Fail("instrument", `give red or black, the other lead moves`, "a sweep with a %s wants one fixed lead",
			in.Label)
	case in.Leads == cards.TwoLeads:
		s.FixedIsRed = red
		s.Fixed = r.point(t, leadKey(red))
	}
}

func leadKey(red bool) string {
	if red {
		return "red"
	}
	return "black"
}

// expand adds the test of a sweep at a point, when a spec covers it.
func (r *reader) expand(from *strict.Table, specs []*spec, sweep, point, condition int, unplug []int) {
	s, node := &r.pack.Sweeps[sweep], r.pack.Nodes[point]
	k := slices.IndexFunc(specs, func(c *spec) bool { return c.fits(sweep, s.Instrument, node, point, condition) })
	if k < 0 {
		return
	}
	c := specs[k]
	c.used = true
	t := Test{
		ID:    s.ID + "." + node.ID + "." + r.pack.Conditions[condition].ID,
		Label: fmt.Sprintf("%s at %s, %s", s.Label, node.Label, r.pack.Conditions[condition].Label),
		Sweep: sweep, Instrument: s.Instrument, Red: point, Black: s.Fixed, Part: -1, Unplug: unplug,
		Condition: condition,
		Minutes:   s.Minutes + node.Access, Compare: -1, Bands: slices.Clone(c.bands), Competency: c.competency,
		Line: s.Line,
	}
	if s.FixedIsRed {
		t.Red, t.Black = s.Fixed, point
	}
	if s.Ground >= 0 && node.Role == "ground" {
		t.Red, t.Black = point, s.Ground
	}
	if c.compare >= 0 {
		// the spec, kept here until compareSwept knows the whole sweep: the other point may come later
		t.Compare = -2 - k
	}
	r.addTest(from, t)
}

// compareSwept finds the tests that the tests from an index on are compared with: the same sweep and condition, the
// spec's point.
func (r *reader) compareSwept(specs []*spec, from int) {
	tests := r.pack.Tests
	for i := from; i < len(tests); i++ {
		t := &tests[i]
		if t.Compare >= -1 {
			continue
		}
		c := specs[-2-t.Compare]
		with := r.pack.Nodes[c.compare]
		t.Compare = slices.IndexFunc(tests, func(o Test) bool {
			return o.Sweep == t.Sweep && o.Condition == t.Condition && o.Point(r.pack) == c.compare
		})
		switch condition := r.pack.Conditions[t.Condition].ID; {
		case t.Compare < 0:
			r.found.Fail(c.line, "add the point to the sweep and give it a spec without compare",
				"spec %q compares with point %q, where sweep %q has no test in condition %q",
				c.name, with.ID, r.pack.Sweeps[t.Sweep].ID, condition)
		case t.Compare == i:
			r.found.Fail(c.line, "write a spec for that point before this one",
				"spec %q compares point %q with itself", c.name, with.ID)
		}
	}
}
