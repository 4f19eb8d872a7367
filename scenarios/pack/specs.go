package pack

import (
	"fmt"
	"slices"
	"strings"

	"nospark/scenarios/pack/cards"
	"nospark/scenarios/strict"
)

// spec is one [[spec]]: the bands of sweep tests at points of some roles. Nothing of it is left in a Pack: each
// test carries its own bands, so that grading and printing never have to know which spec a test came from.
type spec struct {
	name       string // for messages and warnings: "ground.voltmeter"
	roles      []Role
	points     []int
	sweeps     []int // nil for all
	instrument *cards.Instrument
	conditions []int // nil for all
	compare    int   // point, -1 for none
	bands      []Band
	competency string
	line       int
	used       bool
}

// fits tells whether the spec covers a point in a condition of a sweep. The first spec that fits wins, so that a
// pack writes the exception first and the rule after it.
func (s *spec) fits(sweep int, in *cards.Instrument, node Node, point, condition int) bool {
	return s.instrument == in &&
		(s.roles == nil || slices.Contains(s.roles, node.Role)) &&
		(s.points == nil || slices.Contains(s.points, point)) &&
		(s.sweeps == nil || slices.Contains(s.sweeps, sweep)) &&
		(s.conditions == nil || slices.Contains(s.conditions, condition))
}

// readSpecs reads the specifications. Their sweeps are named only: they are declared further on.
func (r *reader) readSpecs(top *strict.Table) []*spec {
	var specs []*spec
	for _, t := range r.list(top, "spec", 0, 200) {
		s := &spec{compare: -1, line: t.Line("")}
		s.roles = readRoles(t)
		s.points = r.nodes.refs(t, "points")
		meter, _ := t.Value("instrument") // Choice below reports what is wrong with it
		word, _ := meter.(string)
		s.name = strings.Trim(s.title(r.pack)+"."+word, ".")
		t.Who = fmt.Sprintf("spec %q", s.name)
		for _, p := range s.points {
			r.reachable(t, "points", p)
		}
		s.sweeps = r.sweeps.refs(t, "sweeps")
		s.conditions = r.conditions.refs(t, "conditions")
		if !t.Has("role") && !t.Has("roles") && !t.Has("points") {
			t.Fail("role", "", "key %q is missing, or points", "role")
		}
		if t.Has("compare") {
			s.compare = r.point(t, "compare")
		}
		s.competency = t.TextOr("competency", "")
		if s.instrument = cards.InstrumentByID(t.Choice("instrument", cards.InstrumentIDs())); s.instrument != nil {
			s.bands = readBands(t, s.instrument)
			if s.instrument.Phrases != nil && t.Has("compare") {
				t.Fail("compare", "", "a %s shows no numbers to compare", s.instrument.Label)
				s.compare = -1
			}
			t.Finish()
		}
		specs = append(specs, s)
	}
	return specs
}

// title says what a spec is for. Specs have no id, because nothing but messages refers to them.
func (s *spec) title(p *Pack) string {
	switch {
	case len(s.roles) > 0:
		return string(s.roles[0])
	case len(s.points) > 0:
		return p.Nodes[s.points[0]].ID
	}
	return ""
}
