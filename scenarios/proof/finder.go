package proof

import (
	"slices"

	"nospark/scenarios/pack"
	"nospark/scenarios/vehicle"
)

// Check is something about a part that must have been looked at.
type Check struct {
	What string // of pack.Whats
	Part int    // index into the pack's Parts; -1: of the vehicle as a whole
	// index into the pack's Nodes of a test point; -1 where the check is not about one, or no lead reaches it
	Point int
	Under []int // indexes into the pack's Complaints under which alone it is owed; nil: under all
	Tests []int // indexes into the pack's Tests, ascending: any one of them makes the check; none: it cannot be made
}

// finder looks for the tests of one pack.
type finder struct {
	p *pack.Pack
	// by node: a battery's post or the reference, where a lead is only clipped so that the other can measure
	post []bool
	at   [][]int // by node: the tests that measure there, ascending
	cuts map[pin]*cut
	kept map[int]*cut // by test: the test with the part left on that it takes off

	healthy *vehicle.Vehicle
	fuses   map[*vehicle.Row][]bool // those that have blown, by part
}

// pin is one terminal of a part.
type pin struct{ part, index int }

func newFinder(p *pack.Pack) *finder {
	f := &finder{p: p, post: make([]bool, len(p.Nodes)), at: make([][]int, len(p.Nodes))}
	f.cuts, f.kept = map[pin]*cut{}, map[int]*cut{}
	f.healthy, f.fuses = vehicle.Healthy(p), map[*vehicle.Row][]bool{}
	f.post[p.Reference] = true
	for _, part := range p.Parts {
		if part.Kind.Name == "battery" {
			for _, node := range part.Pins {
				f.post[node] = true
			}
		}
	}
	for t := range p.Tests {
		for _, node := range f.measured(&p.Tests[t]) {
			f.at[node] = append(f.at[node], t)
		}
	}
	return f
}

// measured lists the nodes that a test is about: the lead that moves, else both. A lead on a battery's post measures
// there only when the other one is on a post as well. What is measured off the circuit is about no node.
func (f *finder) measured(t *pack.Test) []int {
	leads := []int{t.Red, t.Black}
	if t.Sweep >= 0 {
		leads = []int{t.Point(f.p)}
	}
	leads = slices.DeleteFunc(leads, func(n int) bool { return n < 0 || t.Isolate })
	if away := slices.DeleteFunc(slices.Clone(leads), func(n int) bool { return f.post[n] }); len(away) > 0 {
		return away
	}
	return leads
}

// band is what a test shows in a row.
func (f *finder) band(row *vehicle.Row, t int) pack.Band { return f.p.Tests[t].Bands[row.Bands[t]] }

func (f *finder) abnormal(row *vehicle.Row, t int) bool {
	b := f.band(row, t)
	return !b.Normal && !b.Silent
}

// point gives a node as the point of a check.
func (f *finder) point(node int) int {
	if node < f.p.Points {
		return node
	}
	return -1
}

// takesOff tells whether a part is off the circuit for a test.
func takesOff(t *pack.Test, part int) bool { return t.Isolate || slices.Contains(t.Unplug, part) }

// here lists the tests at a node that leave a part on the circuit and are not silent in a row.
func (f *finder) here(row *vehicle.Row, node, part int) []int {
	var list []int
	for _, t := range f.at[node] {
		if !takesOff(&f.p.Tests[t], part) && !f.band(row, t).Silent {
			list = append(list, t)
		}
	}
	return list
}

// wrong keeps the tests that read abnormal in a row.
func (f *finder) wrong(row *vehicle.Row, tests []int) []int {
	return slices.DeleteFunc(slices.Clone(tests), func(t int) bool { return !f.abnormal(row, t) })
}

// union merges lists of tests.
func union(lists ...[]int) []int {
	all := slices.Concat(lists...)
	slices.Sort(all)
	return slices.Compact(all)
}
