package pack

import (
	"fmt"
	"math"
	"slices"

	"nospark/scenarios/spelling"
)

// reserved are ids that the matrix and a lab use for the vehicle without a fault.
var reserved = []string{"none", "nothing-wrong"}

func (r *reader) readRepairs(top *table) {
	for _, t := range r.list(top, "repair", 1, MaxRepairs) {
		v := Repair{ID: r.repairs.id(t), Label: t.text("label"), Minutes: t.tenths("minutes", 0, 6000, true), Line: t.place.Line}
		t.finish()
		r.pack.Repairs = append(r.pack.Repairs, v)
	}
}

// heaviest is the greatest weight of a fault: small enough that sums of weights times minutes stay exact.
const heaviest = 1_000_000

// maxSettings is the greatest number of changes of a fault.
const maxSettings = 20

func (r *reader) readFaults(top *table) {
	for _, t := range r.list(top, "fault", 1, MaxFaults) {
		f := Fault{ID: r.faults.id(t), Line: t.place.Line}
		if slices.Contains(reserved, f.ID) {
			t.fail("id", "take another", "id %q stands for the vehicle without a fault", f.ID)
		}
		f.Label = t.text("label")
		f.Weight = t.whole("weight", 1, heaviest)
		f.Note = t.textOr("note", "")
		f.Repair = r.repair(t)
		if !t.has("set") {
			t.missing("set")
		}
		sets := t.tables("set")
		if len(sets) > maxSettings {
			t.fail("set", "", "set has %d entries, at most %d are allowed", len(sets), maxSettings)
			sets = nil
		}
		for _, set := range sets {
			r.settings(set, &f)
		}
		t.finish()
		r.changes(t, &f)
		r.pack.Faults = append(r.pack.Faults, f)
	}
}

// repair reads the repair that a fault or a conclusion needs. It is required: without one nobody could conclude.
func (r *reader) repair(t *table) int {
	if !t.has("repair") {
		t.missing("repair")
	}
	return t.ref("repair", &r.repairs)
}

// settings reads { part = "x", parameter = value, ... }. The order of settings is that of the card, not of the file: they do not depend
// on each other.
func (r *reader) settings(t *table, f *Fault) {
	if !t.has("part") {
		t.missing("part")
		return
	}
	k := t.ref("part", &r.parts)
	if k < 0 || r.pack.Parts[k].Kind == nil {
		return
	}
	part := &r.pack.Parts[k]
	for i := range part.Kind.Params {
		p := &part.Kind.Params[i]
		if !t.has(p.Name) {
			continue
		}
		low, high, ok := t.parameter(p, true)
		if !ok {
			continue
		}
		if slices.ContainsFunc(f.Set, func(s Setting) bool { return s.Part == k && s.Param == i }) {
			t.fail(p.Name, "", "%s of %q is set twice", p.Name, part.ID)
		}
		r.effective(t, part, p)
		r.terminal(t, part, p, high)
		// Log travel needs two positive ends; a range from 0 is travelled evenly.
		f.Set = append(f.Set, Setting{Part: k, Param: i, Low: low, High: high, Log: low > 0 && low < high})
	}
	if len(t.values) == 1 {
		t.fail("part", fmt.Sprintf("a %s has %s", part.Kind.Name, spelling.Enumerate(paramNames(part.Kind))), "nothing of %q is set", part.ID)
	}
	t.finish()
}

func paramNames(k *Kind) []string {
	list := make([]string, len(k.Params))
	for i, p := range k.Params {
		list[i] = p.Name
	}
	return list
}

// effective refuses parameters that the part does not use because others take their place.
func (r *reader) effective(t *table, part *Part, p *Param) {
	switch {
	case part.Kind.Name == "wire" && p.Name != "resistance_ohms":
		t.fail(p.Name, "set resistance_ohms", "a fault cannot change the %s of a wire", p.Name)
	case p.Name == "charge_percent" && r.declared[part.ID+".emf_volts"]:
		t.fail(p.Name, "set emf_volts, or give the part charge_percent instead", "%q has emf_volts, so its charge does nothing", part.ID)
	}
}

// mostParts is how many parts one fault may change: a worn set of plugs for eight cylinders.
const mostParts = 8

// changes checks that a fault changes something, in few parts. Only what can be seen without simulation is checked here: a change
// that no test can see is found by the matrix.
func (r *reader) changes(t *table, f *Fault) {
	var parts []int
	same := 0
	for _, s := range f.Set {
		if !slices.Contains(parts, s.Part) {
			parts = append(parts, s.Part)
		}
		if healthy := r.pack.Parts[s.Part].Values[s.Param]; s.Low == healthy && s.High == healthy {
			same++
		}
	}
	switch {
	case len(parts) > mostParts:
		t.fail("set", "", "a fault changes at most %d parts, not %d", mostParts, len(parts))
	case isEmpty(t.values["set"]):
		t.fail("set", "", "set is empty")
	case same > 0 && same == len(f.Set):
		s := f.Set[0]
		part := &r.pack.Parts[s.Part]
		t.fail("set", "", "nothing changes: %s of %q is %s in the healthy vehicle already", part.Kind.Params[s.Param].Name, part.ID, quantity(s.Low))
	case same > 0:
		r.warn(f.Line, "setting-same", f.ID, "take it out", "fault %q sets a parameter to the value it has already", f.ID)
	}
}

func isEmpty(value any) bool {
	list, ok := value.([]any)
	return ok && len(list) == 0
}

// quantity writes a value of a card.
func quantity(x float64) string {
	if math.IsInf(x, 1) {
		return "open"
	}
	return digits(x)
}

func (r *reader) readNothing(top *table) {
	t := top.below("nothing_found", "nothing_found")
	if t == nil {
		return
	}
	n := Nothing{Label: t.textOr("label", "Nothing wrong found"), Weight: t.whole("weight", 1, heaviest), Line: t.place.Line}
	n.Repair = r.repair(t)
	t.finish()
	r.pack.Nothing = &n
}
