package pack

import (
	"fmt"
	"slices"
	"strconv"

	"nospark/scenarios/spelling"
	"nospark/scenarios/strict"
)

// Observable is something that a customer notices about the simulated vehicle.
type Observable struct {
	Name   string
	Values []string
	Bool   bool // written true or false, without quotes
	Note   string
}

// yesNo are the values of an observable that is written true or false.
var yesNo = []string{"true", "false"}

// Observables is the table of what complaints can ask for.
var Observables = []Observable{
	{Name: "cranks", Values: []string{"normal", "slow", "no"}, Note: "how the starter turns the engine"},
	{Name: "spark_cranking", Values: []string{"yes", "weak", "no"}, Note: "spark at the plugs while cranking"},
	{Name: "starts", Values: yesNo, Bool: true, Note: "the engine runs by itself"},
	{Name: "misfires", Values: []string{"no", "loaded", "always"}, Note: "when sparks are missing"},
	{Name: "timing", Values: []string{"normal", "advanced", "retarded"},
		Note: "spark advance against the healthy vehicle"},
	{Name: "scan", Values: []string{"normal", "abnormal", "no link"},
		Note: "what the controller tells a scan tool; abnormal lights the trouble lamp"},
	{Name: "comes_when", Values: append([]string{"always"}, Provocations...),
		Note: "what brings on a fault that is gone otherwise; always for all other faults and for none"},
	{Name: "any_abnormal", Values: yesNo, Bool: true, Note: "some test of the pack reads outside its normal bands"},
}

// partValues are what can be said of any part, named by its id: its highest current against the healthy vehicle's.
var partValues = []string{"normal", "weak", "none"}

func observableNames() []string {
	list := make([]string, len(Observables))
	for i, o := range Observables {
		list[i] = o.Name
	}
	return list
}

func (r *reader) readComplaints(top *strict.Table) {
	for _, t := range r.list(top, "complaint", 1, 60) {
		c := Complaint{ID: r.complaints.id(t), Label: t.Text("label"), Line: t.Line("")}
		when := t.Table("when")
		switch {
		case when == nil && !t.Has("when"):
			t.Missing("when")
		case when != nil && len(when.Keys()) == 0:
			t.Fail("when", `for any fault write { any_abnormal = true }`, "when is empty")
		case when != nil:
			when.Who = t.Who
			c.When = observations(when, r.parts.ids)
		}
		t.Finish()
		r.pack.Complaints = append(r.pack.Complaints, c)
	}
}

// observations reads { observable = value or [values], ... } in the order of the file. Within a rule all must hold,
// within a list one. What it can name besides the observables are the ids of the parts.
func observations(t *strict.Table, parts []string) []Observation {
	var list []Observation
	for _, key := range t.Keys() {
		var about *Observable
		if i := slices.Index(observableNames(), key); i >= 0 {
			about = &Observables[i]
		} else if slices.Contains(parts, key) {
			about = &Observable{Name: key, Values: partValues}
		} else {
			t.Fail(key, spelling.Suggest(key, observableNames()), "unknown observable %q", key)
			continue
		}
		value, _ := t.Value(key)
		values, ok := value.([]any)
		if !ok {
			values = []any{value}
		}
		o := Observation{Name: key}
		for _, v := range values {
			if s := observed(t, about, v); s != "" {
				if slices.Contains(o.Values, s) {
					t.Fail(key, "", "%s names %s twice", key, strict.Show(v))
				}
				o.Values = append(o.Values, s)
			}
		}
		if len(values) == 0 {
			t.Fail(key, "", "%s is empty", key)
		}
		list = append(list, o)
	}
	return list
}

// observed reads one value of an observable; "" when it has no such value. Yes and no are written true and false,
// as everywhere in TOML.
func observed(t *strict.Table, o *Observable, v any) string {
	if o.Bool {
		b, ok := v.(bool)
		if !ok {
			t.Fail(o.Name, "write true or false without quotes", "%s = %s is neither true nor false", o.Name,
				strict.Show(v))
			return ""
		}
		return strconv.FormatBool(b)
	}
	s, ok := v.(string)
	if !ok || !slices.Contains(o.Values, s) {
		t.Fail(o.Name, spelling.Suggest(fmt.Sprint(v), o.Values), "%s = %s is not known", o.Name, strict.Show(v))
		return ""
	}
	return s
}
