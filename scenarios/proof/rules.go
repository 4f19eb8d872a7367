package proof

import (
	"slices"
	"strings"

	"nospark/scenarios/lab"
	"nospark/scenarios/pack"
	"nospark/scenarios/pack/cards"
	"nospark/scenarios/vehicle"
)

// part gives the checks of one part that the fault of a row changes.
func (f *finder) part(row *vehicle.Row, part int) []Check {
	kind := f.p.Parts[part].Kind.Behaves()
	switch {
	case slices.Contains(paths, kind):
		return f.path(row, part)
	case slices.Contains(highTension, kind):
		return []Check{{What: "own test", Part: part, Point: -1, Tests: f.own(row, part)}}
	}
	channel := failing(f.p.Faults[row.Fault], row.Severity, f.p, part)
	list := f.needs(row, part, channel)
	if row.Complaint >= 0 && f.announced(&f.p.Complaints[row.Complaint], part) {
		return list
	}
	return append(list, f.output(row, part, channel))
}

// highTension are the kinds that only lead high voltage on: a spark tester beyond them shows the whole way to it, so
// they are tested on their own or exchanged.
var highTension = []string{"plug", "lead", "distributor"}

// failing is the one channel of a part that a fault silences, from 1; 0 when it concerns the whole part.
func failing(fault pack.Fault, severity float64, p *pack.Pack, part int) int {
	for _, s := range fault.Set {
		if s.Part != part {
			continue
		}
		if name := p.Parts[part].Kind.Params[s.Param].Name; strings.HasSuffix(name, "_output") ||
			name == "silent_command" {
			return int(s.At(severity))
		}
	}
	return 0
}

// ofOtherChannel tells whether a pin belongs to a channel that works: commands and outputs are counted in their order.
func ofOtherChannel(k *cards.Kind, i, channel int) bool {
	for _, series := range []string{"command", "out"} {
		if channel == 0 || i >= len(k.Pins) || !strings.HasPrefix(k.Pins[i], series) {
			continue
		}
		n := 0
		for _, name := range k.Pins[:i+1] {
			if strings.HasPrefix(name, series) {
				n++
			}
		}
		return n != channel
	}
	return false
}

// needs gives the checks of a part's own feed, ground and inputs, each proven by a normal reading. What the fault
// itself takes away, a feed whose fuse a burnt driver has blown, or a signal that hangs on the pull-up of a dead
// controller, is not in question. What a controller hears of its temperatures is no matter of its life.
func (f *finder) needs(row *vehicle.Row, part, channel int) []Check {
	var list []Check
	pt := &f.p.Parts[part]
	for i, node := range pt.Pins {
		what := lab.Brings(f.p, pt, i)
		aside := pt.Kind.Behaves() == "controller" && what == "input" && !strings.HasPrefix(pt.Kind.Pins[i], "sync")
		if what == "" || aside || ofOtherChannel(pt.Kind, i, channel) {
			continue
		}
		here := f.here(row, node, part)
		if what == "feed" || what == "reference voltage" {
			here = slices.DeleteFunc(here, f.keyOff)
		}
		good := slices.DeleteFunc(slices.Clone(here), func(t int) bool { return f.abnormal(row, t) })
		if len(here) > 0 && len(good) == 0 {
			continue
		}
		list = append(list, Check{What: what, Part: part, Point: f.point(node), Tests: f.felt(row, pin{part, i}, good)})
	}
	return list
}

// keyOff tells whether a test is made with the key off, where no reading proves a feed.
func (f *finder) keyOff(t int) bool {
	return f.p.Conditions[f.p.Tests[t].Condition].Key == cards.KeyOff
}

// output gives the check of what a part puts out: abnormal readings at the pins that bring it nothing, or of its own
// test.
func (f *finder) output(row *vehicle.Row, part, channel int) Check {
	pt := &f.p.Parts[part]
	c := Check{What: "output", Part: part, Point: -1}
	for i, node := range pt.Pins {
		if lab.Brings(f.p, pt, i) != "" || ofOtherChannel(pt.Kind, i, channel) {
			continue
		}
		tests := f.wrong(row, f.here(row, node, part))
		if len(tests) > 0 && c.Tests == nil {
			c.Point = f.point(node)
		}
		c.Tests = union(c.Tests, tests)
	}
	if len(c.Tests) == 0 {
		c.What = "own test"
	}
	c.Tests = union(c.Tests, f.own(row, part))
	return c
}

// outputs of parts that a customer notices by themselves: a complaint that names one of these values is that check
// already.
var noticed = map[string]pack.Observation{
	"starter":     {Name: "cranks", Values: []string{"slow", "no"}},
	"controller":  {Name: "scan", Values: []string{"no link"}},
	"coil":        {Name: "spark_cranking", Values: []string{"weak", "no"}},
	"pencil-coil": {Name: "spark_cranking", Values: []string{"weak", "no"}},
}

// announced tells whether the complaint is the missing output of a part. With several coils no complaint says which of
// them is silent.
func (f *finder) announced(c *pack.Complaint, part int) bool {
	kind := f.p.Parts[part].Kind.Behaves()
	want, known := noticed[kind]
	alike := 0
	for _, other := range f.p.Parts {
		if other.Kind.Behaves() == kind {
			alike++
		}
	}
	return known && alike == 1 && slices.ContainsFunc(c.When, func(o pack.Observation) bool {
		other := func(v string) bool { return !slices.Contains(want.Values, v) }
		return o.Name == want.Name && !slices.ContainsFunc(o.Values, other)
	})
}
