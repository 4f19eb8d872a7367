package proof

import (
	"slices"

	"nospark/scenarios/pack"
	"nospark/scenarios/vehicle"
)

// declared applies what the pack says about the proof of a repair. An output or own test that it names takes the place
// of one that nothing in the wiring makes.
func (f *finder) declared(row *vehicle.Row, list []Check, proofs []pack.Proof) []Check {
	for _, p := range proofs {
		if p.Because != "" {
			list = slices.DeleteFunc(list, func(c Check) bool {
				return c.What == p.What &&
					(p.Part < 0 || p.Part == c.Part)
			})
			continue
		}
		added := Check{What: p.What, Part: p.Part, Point: -1}
		if added.Part < 0 && row.Fault >= 0 {
			added.Part = f.p.Faults[row.Fault].Set[0].Part
		}
		added.Tests = slices.DeleteFunc(slices.Clone(p.Tests), func(t int) bool { return !f.counts(row, t, added) })
		list = slices.DeleteFunc(list, func(c Check) bool {
			return ofTheFault(added.What) && ofTheFault(c.What) && c.Part == added.Part && len(c.Tests) == 0
		})
		list = append(list, added)
	}
	return list
}

// counts tells whether a test that the pack names makes its check in a row: a silent one makes none, and that of an
// output or of the part itself only where it shows what is wrong.
func (f *finder) counts(row *vehicle.Row, t int, c Check) bool {
	switch {
	case f.band(row, t).Silent:
		return false
	case !ofTheFault(c.What), f.abnormal(row, t):
		return true
	}
	return slices.Contains(f.p.Tests[t].Unplug, c.Part) && f.recovers(row, t, c.Part)
}

// ofTheFault tells whether a check asks for a reading that the fault itself makes abnormal.
func ofTheFault(what string) bool { return what == "output" || what == "own test" || what == "path" }
