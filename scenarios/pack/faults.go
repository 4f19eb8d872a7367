package pack

import (
	"fmt"
	"math"
	"slices"

	"nospark/scenarios/pack/cards"
	"nospark/scenarios/spelling"
	"nospark/scenarios/strict"
)

// reserved are ids that the matrix and a lab use for the vehicle without a fault.
var reserved = []string{"none", "nothing-wrong"}

func (r *reader) readRepairs(top *strict.Table) {
	for _, t := range r.list(top, "repair", 1, MaxRepairs) {
		v := Repair{ID: r.repairs.id(t), Label: t.Text("label"), Minutes: t.Minutes("minutes", 0, 6000),
			Line: t.Line("")}
		r.awaitProof(t)
		t.Finish()
		r.pack.Repairs = append(r.pack.Repairs, v)
	}
}

// heaviest is the greatest weight of a fault: small enough that sums of weights times minutes stay exact.
const heaviest = 1_000_000

// maxSettings is the greatest number of changes of a fault.
const maxSettings = 20

func (r *reader) readFaults(top *strict.Table) {
	for _, t := range r.list(top, "fault", 1, MaxFaults) {
		f := Fault{ID: r.faults.id(t), Line: t.Line("")}
		if slices.Contains(reserved, f.ID) {
			t.Fail("id", "take another", "id %q stands for the vehicle without a fault", f.ID)
		}
		f.Label = t.Text("label")
		f.Weight = t.Whole("weight", 1, heaviest)
		f.Note = t.TextOr("note", "")
		f.Repair = r.repairs.need(t, "repair") // without one nobody could conclude
		if !t.Has("set") {
			t.Missing("set")
		}
		sets := t.Tables("set")
		if len(sets) > maxSettings {
			t.Fail("set", "", "set has %d entries, at most %d are allowed", len(sets), maxSettings)
			sets = nil
		}
		for _, set := range sets {
			set.Who = t.Who
			r.settings(set, &f)
		}
		t.Finish()
		if sets != nil && len(sets) == 0 {
			t.Fail("set", "", "set is empty")
		}
		r.changes(t, &f)
		r.pack.Faults = append(r.pack.Faults, f)
	}
}

// settings reads { part = "x", parameter = value, ... }. The order of settings is that of the card, not of the
// file: they do not depend on each other.
func (r *reader) settings(t *strict.Table, f *Fault) {
	k := r.parts.need(t, "part")
	if k < 0 || r.pack.Parts[k].Kind == nil {
		return
	}
	part := &r.pack.Parts[k]
	only := t.ChoiceOr("only", Provocations, "")
	if only != "" && !slices.ContainsFunc(r.pack.Conditions, func(c Condition) bool { return c.Provoke == only }) {
		t.Fail("only", fmt.Sprintf("add a condition with provoke = %q", only),
			"nobody can bring the fault on: no condition has provoke = %q", only)
	}
	for i := range part.Kind.Params {
		p := &part.Kind.Params[i]
		if !t.Has(p.Name) {
			continue
		}
		low, high, ok := readParameter(t, p, true)
		if !ok {
			continue
		}
		if slices.ContainsFunc(f.Set, func(s Setting) bool { return s.Part == k && s.Param == i }) {
			t.Fail(p.Name, "", "%s of %q is set twice", p.Name, part.ID)
		}
		r.effective(t, part, p)
		r.terminal(t, part, p, high)
		// Log travel needs two positive ends; a range from 0 is travelled evenly.
		f.Set = append(f.Set, Setting{Part: k, Param: i, Low: low, High: high, Log: low > 0 && low < high, Only: only})
	}
	if len(t.Keys()) == 1 || len(t.Keys()) == 2 && only != "" {
		has := fmt.Sprintf("a %s has %s", part.Kind.Name, spelling.Enumerate(paramNames(part.Kind)))
		t.Fail("part", has, "nothing of %q is set", part.ID)
	}
	t.Finish()
}

func paramNames(k *cards.Kind) []string {
	list := make([]string, len(k.Params))
	for i, p := range k.Params {
		list[i] = p.Name
	}
	return list
}

// effective refuses parameters that the part does not use because others take their place.
func (r *reader) effective(t *strict.Table, part *Part, p *cards.Param) {
	switch {
	case part.Kind.Name == "wire" && p.Name != "resistance_ohms":
		t.Fail(p.Name, "set resistance_ohms", "a fault cannot change the %s of a wire", p.Name)
	case p.Name == "charge_percent" && r.declared[part.ID+".emf_volts"]:
		t.Fail(p.Name, "set emf_volts, or give the part charge_percent instead",
			"%q has emf_volts, so its charge does nothing", part.ID)
	}
}

// mostParts is how many parts one fault may change: a worn set of plugs for eight cylinders.
const mostParts = 8

// changes checks that a fault changes something, in few parts. Only what can be seen without simulation is
// checked here: a change that no test can see is found by the matrix.
func (r *reader) changes(t *strict.Table, f *Fault) {
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
		t.Fail("set", "", "a fault changes at most %d parts, not %d", mostParts, len(parts))
	case same > 0 && same == len(f.Set):
		s := f.Set[0]
		part := &r.pack.Parts[s.Part]
		t.Fail("set", "", "nothing changes: %s of %q is %s in the healthy vehicle already",
			part.Kind.Params[s.Param].Name, part.ID, quantity(s.Low))
	case same > 0:
		r.found.Warn(f.Line, "setting-same", f.ID, "take it out",
			"fault %q sets a parameter to the value it has already", f.ID)
	}
}

// quantity writes a value of a card.
func quantity(x float64) string {
	if math.IsInf(x, 1) {
		return "open"
	}
	return strict.Digits(x)
}

func (r *reader) readNothing(top *strict.Table) {
	t := top.Table("nothing_found")
	if t == nil {
		return
	}
	n := Nothing{Line: t.Line("")}
	n.Label = t.TextOr("label", "Nothing wrong found")
	n.Weight = t.Whole("weight", 1, heaviest)
	n.Repair = r.repairs.need(t, "repair")
	t.Finish()
	r.pack.Nothing = &n
}
