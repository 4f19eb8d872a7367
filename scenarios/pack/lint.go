package pack

import (
	"slices"

	"nospark/scenarios/pack/cards"
)

// lint looks for likely mistakes that need no simulation. It runs on a pack without errors. The codes of its warnings:
//
//	repair-unused      no fault needs the repair
//	condition-unused   no test is done in the condition, and no complaint depends on it
//	spec-unused        no test of a sweep takes the specification
//	sweep-gap          a sweep names a point for which no specification fits
//	complaint-shadowed an earlier complaint fits whenever this one does
//	floating           nodes that no part joins with the reference
//	lead-in-air        a lead of the test is on a point where the unplugged parts leave nothing
//	spark-at-rest      a spark is looked for while the engine stands
//	scan-key-off       a scan tool with the key off reads nothing
//	meter-on-spark     a meter or lamp is held on high tension while the engine turns
//	no-gas             a condition that sparks gives no pressure in the cylinder
//	no-place           a node without a place among nodes that have one
//	setting-same       a fault sets a parameter to the value it has already
func (r *reader) lint(specs []*spec, named [][]int) {
	r.lintUnused(specs)
	r.lintSweeps(named)
	r.lintComplaints()
	r.lintCircuit()
	for i := range r.pack.Tests {
		r.lintTest(&r.pack.Tests[i])
	}
}

func (r *reader) lintUnused(specs []*spec) {
	p := r.pack
	for i, v := range p.Repairs {
		if !slices.ContainsFunc(p.Faults, func(f Fault) bool { return f.Repair == i }) &&
			(p.Nothing == nil || p.Nothing.Repair != i) {
			r.found.Warn(v.Line, "repair-unused", v.ID, "give it a fault or take it out",
				"repair %q: no fault needs it", v.ID)
		}
	}
	for i, c := range p.Conditions {
		used := slices.ContainsFunc(p.Tests, func(t Test) bool { return t.Condition == i })
		if !used && !c.Running() && !c.Cranking() { // those make the complaints even without a test
			r.found.Warn(c.Line, "condition-unused", c.ID, "take it out", "condition %q: no test is done in it", c.ID)
		}
	}
	for _, s := range specs {
		if !s.used {
			r.found.Warn(s.line, "spec-unused", s.name, "an earlier spec may cover the same points",
				"spec %q: no test of a sweep takes it", s.name)
		}
	}
}

func (r *reader) lintSweeps(named [][]int) {
	for i, s := range r.pack.Sweeps {
		for _, point := range named[i] {
			here := func(t Test) bool { return t.Sweep == i && t.Point(r.pack) == point }
			if point == s.Fixed || slices.ContainsFunc(r.pack.Tests, here) {
				continue
			}
			id := r.pack.Nodes[point].ID
			r.found.Warn(s.Line, "sweep-gap", s.ID+"."+id, "write a [[spec]] for it",
				"sweep %q: no spec fits point %q, which it names", s.ID, id)
		}
	}
}

func (r *reader) lintComplaints() {
	all := r.pack.Complaints
	for i, c := range all {
		for _, earlier := range all[:i] {
			if implies(c.When, earlier.When) {
				r.found.Warn(c.Line, "complaint-shadowed", c.ID, "put the narrower rule first",
					"complaint %q never comes up: %q before it fits whenever it does", c.ID, earlier.ID)
				break
			}
		}
	}
}

// implies tells whether every vehicle that meets one rule meets the other as well.
func implies(rule, other []Observation) bool {
	return !slices.ContainsFunc(other, func(o Observation) bool {
		return !slices.ContainsFunc(rule, func(c Observation) bool {
			return c.Name == o.Name &&
				!slices.ContainsFunc(c.Values, func(v string) bool { return !slices.Contains(o.Values, v) })
		})
	})
}

func (r *reader) lintCircuit() {
	p := r.pack
	group := p.groups(nil)
	warned := map[int]bool{}
	placed := slices.ContainsFunc(p.Nodes, func(n Node) bool { return n.HasAt })
	for i, n := range p.Nodes {
		if g := group[i]; g != group[p.Reference] && !warned[g] {
			warned[g] = true
			r.found.Warn(n.Line, "floating", n.ID, "connect it",
				"%s %q and what hangs on it: no part joins them with the reference %q",
				r.kindOf(i), n.ID, p.Nodes[p.Reference].ID)
		}
		if placed && !n.HasAt {
			r.found.Warn(n.Line, "no-place", n.ID, "give it at = [x, y]", "%s %q has no place on the diagram",
				r.kindOf(i), n.ID)
		}
	}
	plugs := slices.ContainsFunc(p.Parts, func(part Part) bool { return part.Kind.Name == "plug" })
	for _, c := range p.Conditions {
		if plugs && (c.Running() || c.Cranking()) && c.PressureBar == shopBar {
			r.found.Warn(c.Line, "no-gas", c.ID, "give pressure_bar and temperature_kelvin at the moment of the spark",
				"condition %q: its plugs spark in open air", c.ID)
		}
	}
}

// lintTest warns of tests that can be done but tell nothing or harm the meter.
func (r *reader) lintTest(t *Test) {
	c := r.pack.Conditions[t.Condition]
	turning := c.Running() || c.Cranking()
	switch in := t.Instrument; {
	case in.Leads == cards.OnePoint && !turning:
		r.found.Warn(t.Line, "spark-at-rest", t.ID, "", "test %q: nothing sparks in condition %q", t.ID, c.ID)
	case in.Scan() && c.Key == cards.KeyOff:
		r.found.Warn(t.Line, "scan-key-off", t.ID, "", "test %q: a scan tool reads nothing with the key off", t.ID)
	case in.Leads == cards.TwoLeads && turning && (r.pack.highTension(t.Red) || r.pack.highTension(t.Black)):
		r.found.Warn(t.Line, "meter-on-spark", t.ID, "leave the point out", "test %q: high tension would destroy a %s",
			t.ID,
			in.Label)
	}
	if t.Isolate || len(t.Unplug) == 0 {
		return
	}
	for _, node := range []int{t.Red, t.Black} {
		if node >= 0 && !r.pack.joined(node, t.Unplug) {
			r.found.Warn(t.Line, "lead-in-air", t.ID, "unplug fewer parts", "test %q: nothing is left on %q", t.ID,
				r.pack.Nodes[node].ID)
		}
	}
}
