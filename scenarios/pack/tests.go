package pack

import (
	"slices"
	"strings"

	"nospark/scenarios/pack/cards"
	"nospark/scenarios/spelling"
	"nospark/scenarios/strict"
)

// readTests reads the single tests, which follow those of the sweeps. Comparisons wait to the end, because a test
// may be compared with one further down.
func (r *reader) readTests(top *strict.Table) {
	single := len(r.pack.Tests)
	var with []comparison
	for _, t := range r.list(top, "test", 0, MaxTests) {
		id := r.tests.id(t)
		v := Test{ID: id, Sweep: -1, Red: -1, Black: -1, Part: -1, Compare: -1, Line: t.Line("")}
		v.Label = t.Text("label")
		conditions := r.testConditions(t)
		v.Minutes = t.Minutes("minutes", 0.1, 600)
		v.Unplug = r.parts.refs(t, "unplug")
		v.Swap = r.readSwap(t)
		v.Competency = t.TextOr("competency", "")
		v.Group = t.TextOr("group", "")
		compare := t.TextOr("compare", "")
		if v.Instrument = cards.InstrumentByID(t.Choice("instrument", cards.InstrumentIDs())); v.Instrument == nil {
			continue
		}
		r.connect(t, &v)
		v.Bands = readBands(t, v.Instrument)
		if v.Group == "" {
			v.Group = plainHeading(&v)
		}
		t.Finish()
		if compare != "" && v.Instrument.Phrases != nil {
			t.Fail("compare", "", "a %s shows no numbers to compare", v.Instrument.Label)
			compare = ""
		}
		for _, c := range conditions {
			one := v
			one.Condition = c
			if t.Has("conditions") {
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
	if len(r.pack.Tests) == 0 && single == 0 && !top.Has("test") && !top.Has("sweep") {
		top.Fail("test", "add a [[test]] or a [[sweep]]", "there is no test")
	}
	for _, c := range with {
		r.compareSingle(c)
	}
}

// comparison is a test's wish to be compared, which waits until all tests are known.
type comparison struct {
	t    *strict.Table
	test int
	with string
}

// readSwap reads swap = ["a", "b"], two parts that the mechanic lets change places to see whether the trouble moves
// along.
func (r *reader) readSwap(t *strict.Table) []int {
	wrong := r.found.Errors()
	parts := r.parts.refs(t, "swap")
	if parts == nil || r.found.Errors() > wrong {
		return nil
	}
	if len(parts) != 2 {
		t.Fail("swap", `write ["one", "other"]`, "swap names %d parts, want 2", len(parts))
		return nil
	}
	a, b := &r.pack.Parts[parts[0]], &r.pack.Parts[parts[1]]
	if a.Kind != b.Kind {
		t.Fail("swap", "swap parts of one kind", "%q and %q are not of one kind", a.ID, b.ID)
		return nil
	}
	return parts
}

// testConditions reads condition = "x" or conditions = ["x", "y"].
func (r *reader) testConditions(t *strict.Table) []int {
	one, many := t.Has("condition"), t.Has("conditions")
	switch {
	case one && many:
		t.Fail("condition", "give one of them", "conditions is given too")
	case many:
		return r.conditions.refs(t, "conditions")
	case one:
		if c := r.conditions.ref(t, "condition"); c >= 0 {
			return []int{c}
		}
	default:
		t.Missing("condition")
	}
	return nil
}

// addTest puts a test behind the others, with the bands that its instrument and condition add. The limit is
// reported once, not for each of the hundreds of tests that a sweep may have beyond it.
func (r *reader) addTest(from *strict.Table, t Test) {
	if len(r.pack.Tests) >= MaxTests {
		if len(r.pack.Tests) == MaxTests && !r.full {
			from.Fail("id", "name fewer points or conditions", "the pack has more than %d tests", MaxTests)
		}
		r.full = true
		return
	}
	r.performable(from, &t)
	if r.found.Errors() == 0 {
		r.complete(&t)
	}
	r.pack.Tests = append(r.pack.Tests, t)
}

// compareSingle finds the test to compare with: by its id, or by its id in the same condition, so that two tests
// over the same conditions are compared pair by pair. A difference means something only between readings of one
// state of the vehicle in one unit.
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
	if k < 0 && r.found.Errors() > 0 && strings.Contains(c.with, ".") {
		return // it may belong to a sweep that could not be expanded
	}
	if k < 0 {
		c.t.Fail("compare", spelling.Suggest(c.with, known), "compare = %q is no test", c.with)
		return
	}
	o := &r.pack.Tests[k]
	switch {
	case k == c.test:
		c.t.Fail("compare", "", "test %q is compared with itself", t.ID)
	case o.Condition != t.Condition:
		c.t.Fail("compare", "compare readings of one condition",
			"test %q is in condition %q, the compared test %q in %q",
			t.ID, r.pack.Conditions[t.Condition].ID, o.ID, r.pack.Conditions[o.Condition].ID)
	case o.Instrument.Unit != t.Instrument.Unit || o.Instrument.Phrases != nil:
		c.t.Fail("compare", "", "test %q is in %q, the compared test %q in %q", t.ID, t.Instrument.Unit, o.ID,
			unitWord(o.Instrument))
	}
	t.Compare = k
}

// unitWord is the unit of an instrument for messages.
func unitWord(in *cards.Instrument) string {
	if in.Phrases != nil {
		return "words"
	}
	return in.Unit
}

// plainHeading gives the plain heading under which a single test stands when the pack names none.
func plainHeading(t *Test) string {
	switch id := t.Instrument.ID; {
	case t.Isolate || id == "gap-gauge":
		return "component"
	case id == "spark-tester" || strings.HasPrefix(id, "kv-"):
		return "spark"
	case t.Instrument.Scan():
		return "scan"
	case t.Instrument.Scope():
		return "oscilloscope"
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
