package proof

import (
	"slices"

	"nospark/scenarios/pack"
	"nospark/scenarios/vehicle"
)

// Of gives the checks of each row of the matrix of a pack, in the order of its parts and their pins.
func Of(p *pack.Pack, m *vehicle.Matrix) [][]Check {
	f := newFinder(p)
	all := make([][]Check, len(m.Rows))
	for i := range m.Rows {
		row := &m.Rows[i]
		repair := 0
		if row.Fault < 0 {
			all[i], repair = f.results(row), p.Nothing.Repair
		} else {
			for _, part := range partsOf(p.Faults[row.Fault]) {
				all[i] = append(all[i], f.part(row, part)...)
			}
			all[i] = f.sets(all[i])
			repair = p.Faults[row.Fault].Repair
		}
		all[i] = f.declared(row, all[i], p.Repairs[repair].Proof)
	}
	return all
}

// partsOf lists the parts that a fault changes, in its order.
func partsOf(f pack.Fault) []int {
	var parts []int
	for _, s := range f.Set {
		if !slices.Contains(parts, s.Part) {
			parts = append(parts, s.Part)
		}
	}
	return parts
}

// sets makes one check of the own tests of parts of one kind that lead high voltage: plugs wear together and are
// replaced together, so any of them that reads abnormal is enough.
func (f *finder) sets(list []Check) []Check {
	var merged []Check
	for _, c := range list {
		i := slices.IndexFunc(merged, func(other Check) bool { return f.alike(other.Part, c.Part) })
		if i < 0 {
			merged = append(merged, c)
			continue
		}
		merged[i].Tests = union(merged[i].Tests, c.Tests)
	}
	return merged
}

// alike tells whether two parts are of one kind that leads high voltage.
func (f *finder) alike(a, b int) bool {
	kind := f.p.Parts[a].Kind.Behaves()
	return slices.Contains(highTension, kind) && f.p.Parts[b].Kind.Behaves() == kind
}
