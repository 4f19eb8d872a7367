package pack

import (
	"fmt"
	"slices"
	"strings"

	"nospark/scenarios/spelling"
)

// spec is one [[spec]]: the bands of sweep tests at points of some roles. Nothing of it is left in a Pack: each test carries its own
// bands, so that grading and printing never have to know which spec a test came from.
type spec struct {
	name       string // for messages and warnings: "ground.voltmeter"
	roles      []Role
	points     []int
	sweeps     []int // nil for all
	instrument *Instrument
	conditions []int // nil for all
	compare    int   // point, -1 for none
	bands      []Band
	competency string
	line       int
	used       bool
}

// fits tells whether the spec covers a point in a condition of a sweep. The first spec that fits wins, so that a pack writes the
// exception first and the rule after it.
func (s *spec) fits(sweep int, in *Instrument, node Node, point, condition int) bool {
	return s.instrument == in &&
		(s.roles == nil || slices.Contains(s.roles, node.Role)) &&
		(s.points == nil || slices.Contains(s.points, point)) &&
		(s.sweeps == nil || slices.Contains(s.sweeps, sweep)) &&
		(s.conditions == nil || slices.Contains(s.conditions, condition))
}

func instrumentIDs() []string {
	list := make([]string, len(Instruments))
	for i := range Instruments {
		list[i] = Instruments[i].ID
	}
	return list
}

// roles reads role = "x" or roles = ["x", "y"].
func (t *table) roles() []Role {
	var list []Role
	if t.has("role") {
		if role := t.oneOf("role", roleNames()); role != "" {
			list = append(list, Role(role))
		}
		if t.has("roles") {
			t.fail("roles", "give one of them", "role is given too")
		}
		return list
	}
	names, at := t.texts("roles")
	for i, name := range names {
		if !slices.Contains(roleNames(), name) {
			t.r.fail(at[i], spelling.Suggest(name, roleNames()), "%s: unknown role %q", t.who, name)
			continue
		}
		list = append(list, Role(name))
	}
	if names != nil && len(at) == 0 {
		t.fail("roles", "", "roles is empty")
	}
	return list
}

// readSpecs reads the specifications. Their sweeps are named only: they are declared further on.
func (r *reader) readSpecs(top *table) {
	r.swept = r.list(top, "sweep", 0, 60)
	for _, t := range r.swept { // the ids alone, so that a spec can name a sweep
		r.sweeps.id(t)
	}
	for _, t := range r.list(top, "spec", 0, 200) {
		s := spec{compare: -1, line: t.place.Line}
		s.roles = t.roles()
		s.points = t.refs("points", &r.nodes)
		meter, _ := t.values["instrument"].(string) // oneOf below reports what is wrong with it
		s.name = strings.Trim(s.title(r)+"."+meter, ".")
		t.who = fmt.Sprintf("spec %q", s.name)
		for _, p := range s.points {
			r.reachable(t, "points", p)
		}
		s.sweeps = t.refs("sweeps", &r.sweeps)
		s.conditions = t.refs("conditions", &r.conditions)
		if !t.has("role") && !t.has("roles") && !t.has("points") {
			t.fail("role", "", "key %q is missing, or points", "role")
		}
		if t.has("compare") {
			s.compare = r.pointRef(t, "compare")
		}
		s.competency = t.textOr("competency", "")
		if s.instrument = InstrumentByID(t.oneOf("instrument", instrumentIDs())); s.instrument != nil {
			s.bands = t.bands(s.instrument)
			if s.instrument.Phrases != nil && t.has("compare") {
				t.fail("compare", "", "a %s shows no numbers to compare", s.instrument.Label)
				s.compare = -1
			}
			t.finish()
		}
		r.specs = append(r.specs, s)
	}
}

// title says what a spec is for. Specs have no id, because nothing but messages refers to them.
func (s *spec) title(r *reader) string {
	switch {
	case len(s.roles) > 0:
		return string(s.roles[0])
	case len(s.points) > 0:
		return r.pack.Nodes[s.points[0]].ID
	}
	return ""
}
