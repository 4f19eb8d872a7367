package proof

import (
	"math"
	"slices"

	"nospark/scenarios/pack"
	"nospark/scenarios/pack/cards"
	"nospark/scenarios/vehicle"
	"nospark/scenarios/vehicle/meter"
)

// A test proves a pin when its band would be another one, had the pin lost its connection or got a bad one. To find
// out, the pin is moved to a node of its own behind a joint, the leads with it, so that they stay on the part's side;
// then the vehicle with the row's own fault is read with the joint cut and with badOhms in it. Fuses that the fault has
// blown stay blown: a place that carries no current now is not tested by the current that once blew the fuse.

// badOhms is a bad connection: too much for a feed or a ground under load. Common practice, no source.
const badOhms = 3

// cut is a pack changed for such a question. Its further tests stand behind those of the pack.
type cut struct {
	p       pack.Pack
	healthy *vehicle.Vehicle
	place   map[int]int // test of the pack -> its further test
	joint   int         // part; -1 for none
}

// felt keeps the tests at a pin that would show in a row that it is cut off or badly connected.
func (f *finder) felt(row *vehicle.Row, at pin, tests []int) []int {
	var list []int
	for _, ohms := range []float64{math.Inf(1), badOhms} {
		left := slices.DeleteFunc(slices.Clone(tests), func(t int) bool { return slices.Contains(list, t) })
		if len(left) == 0 {
			break
		}
		c := f.cutAt(at)
		v := c.vehicle(f.p.Faults[row.Fault], row.Severity, ohms)
		v.WithFuses(f.blown(row))
		for _, t := range left {
			if c.read(v, t) != row.Bands[t] {
				list = append(list, t)
			}
		}
	}
	slices.Sort(list)
	return list
}

// blown tells which fuses the fault of a row has blown.
func (f *finder) blown(row *vehicle.Row) []bool {
	list, known := f.fuses[row]
	if !known {
		v := f.healthy.Clone()
		v.Apply(f.p.Faults[row.Fault], row.Severity)
		list = v.Blown()
		f.fuses[row] = list
	}
	return list
}

// cutAt is the pack with a joint at a pin.
func (f *finder) cutAt(at pin) *cut {
	if c, known := f.cuts[at]; known {
		return c
	}
	const name = "cut off" // no id of a pack has a space
	c := &cut{p: *f.p, place: map[int]int{}, joint: len(f.p.Parts)}
	node, side := f.p.Parts[at.part].Pins[at.index], len(f.p.Nodes)
	c.p.Nodes = append(slices.Clone(f.p.Nodes), pack.Node{ID: name, Label: name})
	c.p.Parts = append(slices.Clone(f.p.Parts), pack.Part{ID: name, Label: name, Kind: cards.KindByName("connector"),
		Pins: []int{node, side}, Values: []float64{0}})
	part := &c.p.Parts[at.part]
	part.Pins = slices.Clone(part.Pins)
	part.Pins[at.index] = side
	c.p.Tests = slices.Clone(f.p.Tests)
	for _, t := range f.at[node] {
		test := f.p.Tests[t]
		if test.Red == node {
			test.Red = side
		}
		if test.Black == node {
			test.Black = side
		}
		c.add(t, test)
	}
	c.healthy = vehicle.Healthy(&c.p)
	f.cuts[at] = c
	return c
}

// recovers tells whether a test that takes a part off reads otherwise than it would with the part left on: what was
// wrong is gone with it.
func (f *finder) recovers(row *vehicle.Row, t, part int) bool {
	c, known := f.kept[t]
	if !known {
		c = &cut{p: *f.p, place: map[int]int{}, joint: -1}
		c.p.Tests = slices.Clone(f.p.Tests)
		test := f.p.Tests[t]
		test.Unplug = slices.DeleteFunc(slices.Clone(test.Unplug), func(p int) bool { return p == part })
		c.add(t, test)
		c.healthy = vehicle.Healthy(&c.p)
		f.kept[t] = c
	}
	return c.read(c.vehicle(f.p.Faults[row.Fault], row.Severity, 0), t) != row.Bands[t]
}

func (c *cut) add(t int, test pack.Test) {
	c.place[t] = len(c.p.Tests)
	c.p.Tests = append(c.p.Tests, test)
}

// vehicle is one with a fault and with ohms in the joint.
func (c *cut) vehicle(fault pack.Fault, severity, ohms float64) *vehicle.Vehicle {
	if c.joint >= 0 {
		fault.Set = append(slices.Clone(fault.Set), pack.Setting{Part: c.joint, Low: ohms, High: ohms, Only: onlyWhen(fault)})
	}
	v := c.healthy.Clone()
	v.Apply(fault, severity)
	return v
}

// onlyWhen is what provokes the joint in a vehicle with a fault. A contact that is good while nobody moves it proves
// nothing about one that is lost when it is moved. What comes with heat or water is held against a joint that is always
// there, for few places can be read in both states.
func onlyWhen(fault pack.Fault) string {
	if slices.ContainsFunc(fault.Set, func(s pack.Setting) bool { return s.Only != pack.Shaken }) {
		return ""
	}
	return pack.Shaken
}

// read gives the band of the further test that stands for a test of the pack. What it is compared with is read where it
// always is.
func (c *cut) read(v *vehicle.Vehicle, t int) uint8 {
	test := &c.p.Tests[c.place[t]]
	shown := meter.Show(test.Instrument, v.Read(c.place[t]), meter.Error{})
	var beside meter.Shown
	if test.Compare >= 0 {
		beside = meter.Show(test.Instrument, v.Read(test.Compare), meter.Error{})
	}
	return meter.BandOf(test, shown, beside)
}
