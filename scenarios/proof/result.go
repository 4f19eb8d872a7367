package proof

import (
	"slices"

	"nospark/scenarios/pack"
	"nospark/scenarios/pack/cards"
	"nospark/scenarios/vehicle"
)

// good are the values of observables with which nobody comes to the shop.
var good = map[string]string{"cranks": "normal", "spark_cranking": "yes", "starts": "true", "misfires": "no",
	"timing": "normal", "scan": "normal", "comes_when": "always", "any_abnormal": "false"}

// results gives the checks of the vehicle with nothing wrong: for each complaint a normal test of everything that it
// says is missing.
func (f *finder) results(row *vehicle.Row) []Check {
	var list []Check
	for i, c := range f.p.Complaints {
		for _, o := range c.When {
			if slices.Contains(o.Values, good[o.Name]) {
				continue
			}
			for _, check := range f.result(row, o) {
				check.What, check.Point, check.Under = "result", -1, []int{i}
				same := slices.IndexFunc(list, func(k Check) bool {
					return k.Part == check.Part && slices.Equal(k.Tests, check.Tests)
				})
				if same < 0 {
					list = append(list, check)
				} else if !slices.Contains(list[same].Under, i) {
					list[same].Under = append(list[same].Under, i)
				}
			}
		}
	}
	return list
}

// result gives one check for each thing that an observation is made of. That some test reads abnormal is made of no
// thing in particular.
func (f *finder) result(row *vehicle.Row, o pack.Observation) []Check {
	whole := func(part int, fits func(t *pack.Test, c pack.Condition) bool) []Check {
		return []Check{{Part: part, Tests: f.sound(row, fits)}}
	}
	instrument := func(ids ...string) func(*pack.Test, pack.Condition) bool {
		return func(t *pack.Test, _ pack.Condition) bool { return slices.Contains(ids, t.Instrument.ID) }
	}
	switch o.Name {
	case "cranks":
		return whole(f.kind("starter"), func(t *pack.Test, c pack.Condition) bool {
			atPost := slices.ContainsFunc(f.measured(t), func(n int) bool { return f.post[n] })
			return c.Cranking() && (atPost || t.Instrument.ID == "scan-speed")
		})
	case "spark_cranking", "starts":
		return whole(-1, func(t *pack.Test, c pack.Condition) bool {
			return c.Cranking() && t.Instrument.Leads == cards.OnePoint
		})
	case "comes_when":
		return whole(-1, func(_ *pack.Test, c pack.Condition) bool { return slices.Contains(o.Values, c.Provoke) })
	case "misfires":
		return f.cylinders(row, !slices.Contains(o.Values, "always"))
	case "timing":
		return whole(f.kind("controller"), instrument("timing-light"))
	case "scan":
		control := f.kind("controller")
		if !slices.Contains(o.Values, "abnormal") {
			return whole(control, instrument("scan-speed", "scan-ect", "scan-iat", "scan-misfire"))
		}
		both := append(whole(control, instrument("scan-ect")), whole(control, instrument("scan-iat"))...)
		return slices.DeleteFunc(both, func(c Check) bool { return len(c.Tests) == 0 })
	}
	return nil
}

// cylinders is one check where a scan tool counts misfires, else one for each plug: its voltage while the engine runs.
// What shows under load alone is looked for there, as far as the pack has a test for it.
func (f *finder) cylinders(row *vehicle.Row, loaded bool) []Check {
	idle := f.idle()
	where := func(c int) bool {
		return f.p.Conditions[c].Provoke == "" && f.p.Conditions[c].Running() && (c == idle) != loaded
	}
	counted := f.sound(row, func(t *pack.Test, c pack.Condition) bool {
		return t.Instrument.ID == "scan-misfire" && t.Swap == nil && where(t.Condition)
	})
	if len(counted) > 0 {
		return []Check{{Part: -1, Tests: counted}}
	}
	var list []Check
	for i, part := range f.p.Parts {
		if part.Kind.Behaves() != "plug" {
			continue
		}
		at := func(where func(int) bool) []int {
			return f.sound(row, func(t *pack.Test, _ pack.Condition) bool {
				return t.Instrument.Leads == cards.OnePoint && t.Red == part.Pins[0] && where(t.Condition)
			})
		}
		tests := at(where)
		if len(tests) == 0 {
			tests = at(func(c int) bool { return f.p.Conditions[c].Running() })
		}
		list = append(list, Check{Part: i, Tests: tests})
	}
	return list
}

// sound lists the tests that fit and read normal in a row.
func (f *finder) sound(row *vehicle.Row, fits func(*pack.Test, pack.Condition) bool) []int {
	var list []int
	for t := range f.p.Tests {
		test, band := &f.p.Tests[t], f.band(row, t)
		if band.Normal && !band.Silent && fits(test, f.p.Conditions[test.Condition]) {
			list = append(list, t)
		}
	}
	return list
}

// idle is the running condition of lowest speed, -1 for none.
func (f *finder) idle() int {
	least := -1
	for i, c := range f.p.Conditions {
		if c.Provoke == "" && c.Running() && (least < 0 || c.SpeedRPM < f.p.Conditions[least].SpeedRPM) {
			least = i
		}
	}
	return least
}

// kind finds the first part of a kind, -1 for none.
func (f *finder) kind(name string) int {
	return slices.IndexFunc(f.p.Parts, func(part pack.Part) bool { return part.Kind.Behaves() == name })
}
