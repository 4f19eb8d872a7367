package pack

import (
	"fmt"
	"slices"
	"strings"

	"nospark/scenarios/spelling"
)

// readTests reads the single tests, which follow those of the sweeps. Comparisons wait to the end, because a test may be compared with
// one further down.
func (r *reader) readTests(top *table) {
	single := len(r.pack.Tests)
	var with []comparison
	for _, t := range r.list(top, "test", 0, MaxTests) {
		id := r.tests.id(t)
		v := Test{ID: id, Sweep: -1, Red: -1, Black: -1, Part: -1, Compare: -1, Line: t.place.Line}
		v.Label = t.text("label")
		conditions := r.testConditions(t)
		v.Minutes = t.tenths("minutes", 0.1, 600, true)
		v.Unplug = t.refs("unplug", &r.parts)
		v.Swap = r.swap(t)
		v.Competency = t.textOr("competency", "")
		v.Group = t.textOr("group", "")
		compare := ""
		if t.has("compare") {
			compare = t.textOr("compare", "")
		}
		if v.Instrument = InstrumentByID(t.oneOf("instrument", instrumentIDs())); v.Instrument == nil {
			continue
		}
		r.connect(t, &v)
		v.Bands = t.bands(v.Instrument)
		if v.Group == "" {
			v.Group = group(&v)
		}
		t.finish()
		if compare != "" && v.Instrument.Phrases != nil {
			t.fail("compare", "", "a %s shows no numbers to compare", v.Instrument.Label)
			compare = ""
		}
		for _, c := range conditions {
			one := v
			one.Condition = c
			if t.has("conditions") {
				one.ID += "." + r.pack.Conditions[c].ID
				one.Label += ", " + r.pack.Conditions[c].Label
			}
			one.Bands = slices.Clone(v.Bands)
			r.addTest(t, one)
			if compare != "" {
				with = append(with, comparison{t, len(r.pack.Tests) - 1, compare})
			}
		}
	}
	if len(r.pack.Tests) == 0 && single == 0 && !top.has("test") && !top.has("sweep") {
		top.fail("test", "add a [[test]] or a [[sweep]]", "there is no test")
	}
	for _, c := range with {
		r.compareSingle(c)
	}
}

// comparison is a test's wish to be compared, which waits until all tests are known.
type comparison struct {
	t    *table
	test int
	with string
}

// swap reads swap = ["a", "b"], two parts that the mechanic lets change places to see whether the trouble moves along.
func (r *reader) swap(t *table) []int {
	wrong := len(r.errors)
	parts := t.refs("swap", &r.parts)
	if parts == nil || len(r.errors) > wrong {
		return nil
	}
	if len(parts) != 2 {
		t.fail("swap", `write ["one", "other"]`, "swap names %d parts, want 2", len(parts))
		return nil
	}
	a, b := &r.pack.Parts[parts[0]], &r.pack.Parts[parts[1]]
	if a.Kind != b.Kind {
		t.fail("swap", "swap parts of one kind", "%q and %q are not of one kind", a.ID, b.ID)
		return nil
	}
	return parts
}

// testConditions reads condition = "x" or conditions = ["x", "y"].
func (r *reader) testConditions(t *table) []int {
	one, many := t.has("condition"), t.has("conditions")
	switch {
	case one && many:
		t.fail("condition", "give one of them", "conditions is given too")
	case many:
		return t.refs("conditions", &r.conditions)
	case one:
		if c := t.ref("condition", &r.conditions); c >= 0 {
			return []int{c}
		}
	default:
		t.missing("condition")
	}
	return nil
}

// addTest puts a test behind the others, with the bands that its instrument and condition add. The limit is reported once, not for each
// of the hundreds of tests that a sweep may have beyond it.
func (r *reader) addTest(from *table, t Test) {
	if len(r.pack.Tests) >= MaxTests {
		if len(r.pack.Tests) == MaxTests && !r.full {
			from.fail("id", "name fewer points or conditions", "the pack has more than %d tests", MaxTests)
		}
		r.full = true
		return
	}
	r.performable(from, &t)
	if len(r.errors) == 0 {
		r.complete(&t)
	}
	r.pack.Tests = append(r.pack.Tests, t)
}

// compareSingle finds the test to compare with: by its id, or by its id in the same condition, so that two tests over the same
// conditions are compared pair by pair. A difference means something only between readings of one state of the vehicle in one unit.
func (r *reader) compareSingle(c comparison) {
	if c.test >= len(r.pack.Tests) {
		return
	}
	t := &r.pack.Tests[c.test]
	known := make([]string, len(r.pack.Tests))
	for i := range r.pack.Tests {
		known[i] = r.pack.Tests[i].ID
	}
	k := slices.Index(known, c.with)
	if k < 0 {
		k = slices.Index(known, c.with+"."+r.pack.Conditions[t.Condition].ID)
	}
	if k < 0 && len(r.errors) > 0 && strings.Contains(c.with, ".") {
		return // it may belong to a sweep that could not be expanded
	}
	if k < 0 {
		c.t.fail("compare", spelling.Suggest(c.with, known), "compare = %q is no test", c.with)
		return
	}
	o := &r.pack.Tests[k]
	switch {
	case k == c.test:
		c.t.fail("compare", "", "test %q is compared with itself", t.ID)
	case o.Condition != t.Condition:
		c.t.fail("compare", "compare readings of one condition", "test %q is in condition %q, the compared test %q in %q",
			t.ID, r.pack.Conditions[t.Condition].ID, o.ID, r.pack.Conditions[o.Condition].ID)
	case o.Instrument.Unit != t.Instrument.Unit || o.Instrument.Phrases != nil:
		c.t.fail("compare", "", "test %q is in %q, the compared test %q in %q", t.ID, t.Instrument.Unit, o.ID, unit(o.Instrument))
	}
	t.Compare = k
}

// unit is the unit of an instrument for messages.
func unit(in *Instrument) string {
	if in.Phrases != nil {
		return "words"
	}
	return in.Unit
}

// group gives the plain heading under which a single test stands when the pack names none.
func group(t *Test) string {
	switch id := t.Instrument.ID; {
	case t.Isolate || id == "gap-gauge":
		return "component"
	case id == "spark-tester" || strings.HasPrefix(id, "kv-"):
		return "spark"
	case t.Instrument.scan():
		return "scan"
	case id == "timing-light":
		return "timing"
	case id == "ammeter":
		return "current"
	case id == "frequency" || id == "duty":
		return "signal"
	case id == "ohmmeter":
		return "resistance"
	case t.Instrument.Phrases != nil:
		return "lamp"
	}
	return "voltage"
}

// pointRef reads a key that names a point a lead can reach; -1 when it does not.
func (r *reader) pointRef(t *table, key string) int {
	p := t.ref(key, &r.nodes)
	if p >= 0 && !r.reachable(t, key, p) {
		return -1
	}
	return p
}

func (r *reader) reachable(t *table, key string, node int) bool {
	if node < r.pack.Points {
		return true
	}
	t.fail(key, "declare it as a [[point]]", "no lead reaches node %q", r.pack.Nodes[node].ID)
	return false
}

// pinNames lists the nodes of a part's pins for messages.
func (r *reader) pinNames(p *Part) string {
	list := make([]string, len(p.Pins))
	for i, pin := range p.Pins {
		list[i] = fmt.Sprintf("%q", r.pack.Nodes[pin].ID)
	}
	return strings.Join(list, ", ")
}
