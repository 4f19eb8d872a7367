package vehicle

import (
	"math"
	"slices"

	"nospark/scenarios/pack"
	"nospark/scenarios/vehicle/meter"
)

// A fault that comes and goes is two vehicles: one without it, which is what the shop sees as long as nothing is done,
// and one with it. Conditions say what brings it on; the readings there are those of the second vehicle. While harness
// and connectors are moved by hand the two take turns within a moment, so a hold function keeps the worse of both.

// under is the vehicle as it is under a provocation; the vehicle itself when that brings nothing on.
func (v *Vehicle) under(when string) *Vehicle {
	if !slices.ContainsFunc(v.passing, func(s passing) bool { return s.when == when }) {
		return v
	}
	if v.provoked == nil {
		v.provoked = map[string]*variant{}
	}
	w := v.provoked[when]
	if w == nil {
		w = &variant{Vehicle: v.Clone(), after: -1}
		w.passing, w.pool = nil, v.pool
		v.provoked[when] = w
	}
	if w.after != v.changes {
		w.after = v.changes
		w.take(func(part int) []float64 {
			row := v.values[part]
			for _, s := range v.passing {
				if s.part == part && s.when == when {
					if &row[0] == &v.values[part][0] {
						row = slices.Clone(row)
					}
					row[s.param] = s.value
				}
			}
			return row
		})
	}
	return w.Vehicle
}

// provocation is what a condition does to bring a fault on.
func (v *Vehicle) provocation(condition int) string { return v.l.p.Conditions[condition].Provoke }

// measure reads a test on the vehicle as it stands.
func (v *Vehicle) measure(test int) meter.Value {
	t := &v.l.p.Tests[test]
	w := v.under(v.provocation(t.Condition))
	x := w.steady(test)
	if w.err != nil && v.err == nil {
		v.err = w.err
	}
	if w == v || !v.takesTurns(t) || x.Phrase != "" {
		return x
	}
	y := v.steady(test)
	if t.Instrument.ID == "max-hold" {
		return meter.Value{Number: math.Max(x.Number, y.Number)}
	}
	return meter.Value{Number: math.Min(x.Number, y.Number)}
}

// takesTurns reports whether a test sees both vehicles of a fault that comes and goes.
func (v *Vehicle) takesTurns(t *pack.Test) bool {
	return v.provocation(t.Condition) == pack.Shaken && (t.Instrument.ID == "max-hold" || t.Instrument.ID == "min-hold")
}

// worksOtherwise reports whether a part that the pack's complaints name does something else than in another vehicle.
func (v *Vehicle) worksOtherwise(other *Vehicle) bool {
	for _, c := range v.l.p.Complaints {
		for _, o := range c.When {
			if part := v.l.partNamed(o.Name); part >= 0 && v.works(part) != other.works(part) {
				return true
			}
		}
	}
	return false
}

// Read gives the true value of a test of the pack.
func (v *Vehicle) Read(test int) meter.Value {
	t := &v.l.p.Tests[test]
	if t.Swap != nil {
		other := v.exchanged(t.Swap[0], t.Swap[1])
		x := other.measure(test)
		if v.err == nil {
			v.err = other.err
		}
		return x
	}
	return v.measure(test)
}
