package proof

import (
	"slices"

	"nospark/scenarios/pack"
	"nospark/scenarios/vehicle"
)

// paths are the kinds that lead on what they get.
var paths = []string{"wire", "connector", "fuse", "switch", "diode", "leak"}

// path gives the checks of a part that leads from one end to the other: both ends, and an abnormal reading on it. An
// abnormal reading at an end is that end's too, and one across the part is its whole proof. Nobody needs to measure a
// battery's post, and where a wire has chafed through to ground, that ground is not in question. A place where wires
// have chafed through has no terminals that one could lose.
func (f *finder) path(row *vehicle.Row, part int) []Check {
	pins, chafed := f.p.Parts[part].Pins, f.p.Parts[part].Kind.Name == "leak"
	whole := f.across(row, part)
	all := union(whole, f.own(row, part))
	var list []Check
	for i, node := range pins {
		here := f.here(row, node, part)
		wrong := f.wrong(row, here)
		all = union(all, wrong)
		if f.post[node] || chafed && f.p.Nodes[node].Role == pack.RoleGround {
			continue
		}
		end := Check{What: "end", Part: part, Point: f.point(node), Tests: union(wrong, whole)}
		if !chafed {
			end.Tests = union(end.Tests, f.felt(row, pin{part, i}, here))
		}
		list = append(list, end)
	}
	return append(list, Check{What: "path", Part: part, Point: -1, Tests: all})
}

// across lists the abnormal tests between the two ends of a part, on the vehicle or taken off.
func (f *finder) across(row *vehicle.Row, part int) []int {
	pins := f.p.Parts[part].Pins
	var list []int
	for t := range f.p.Tests {
		test := &f.p.Tests[t]
		between := slices.Contains(pins, test.Red) && slices.Contains(pins, test.Black)
		on := !takesOff(test, part) || test.Isolate && test.Part == part
		if between && on && f.abnormal(row, t) {
			list = append(list, t)
		}
	}
	return list
}

// own lists the tests of a part itself that show in a row that something is wrong with it: its own tests that read
// abnormal, exchanges with its like that do, what comes right as soon as it is taken off, and a scan tool that a
// controller does not answer.
func (f *finder) own(row *vehicle.Row, part int) []int {
	var list []int
	for t := range f.p.Tests {
		test := &f.p.Tests[t]
		mute := f.band(row, t).Name == pack.NoLink && f.p.Parts[part].Kind.Behaves() == "controller"
		switch {
		case f.band(row, t).Silent:
		case mute:
			list = append(list, t)
		case test.Part != part && !slices.Contains(test.Swap, part):
		case f.abnormal(row, t), slices.Contains(test.Unplug, part) && f.recovers(row, t, part):
			list = append(list, t)
		}
	}
	return list
}
