// Package chances tells what a lab gives opportunities for before anybody has worked on it: which kinds of test best
// play needs from a case to each row that may hide behind it, and how often each case shall come.
//
// Start at Of. What counts as an opportunity is said in package grading/evidence; this is the same rule, looked at from
// the side of a lab. Nothing here knows which row a sheet hides, and nothing here chooses one: history and what a plan
// asks for choose the case alone.
package chances

import (
	"fmt"
	"slices"

	"nospark/scenarios/isolation"
	"nospark/scenarios/lab"
)

// Row is a row that a case may hide.
type Row struct {
	Weight int64    // how often, against the others of the case
	Fault  int      // of the lab
	Repair string   // id
	Kinds  []string // of the tests that best play needs, ascending, each once; nil where nobody asked for them
}

// Of lists, for every case of a lab, the rows that may be hidden behind it, in the order of the lab. With kinds, best
// play to each of them is worked out. The error is about a lab that the solver refuses.
func Of(l *lab.Lab, hide func(fault int) bool, kinds bool) ([][]Row, error) {
	type begin struct {
		world  *lab.World
		solver *isolation.Solver
	}
	begins := map[int]begin{}
	all := make([][]Row, len(l.Cases))
	for i, c := range l.Cases {
		b, known := begins[c.Complaint]
		if !known {
			var err error
			if b.world, err = l.World(c.Complaint, nil, nil); err != nil {
				return nil, fmt.Errorf("lab %s: %w", l.Name, err)
			}
			if kinds {
				if b.solver, err = isolation.New(b.world.Problem, isolation.Limits{}); err != nil {
					return nil, fmt.Errorf("lab %s: %w", l.Name, err)
				}
			}
			begins[c.Complaint] = b
		}
		start := b.world.Start(c.Known)
		for h := range b.world.Rows(start).All() {
			h0 := l.Hypotheses[h]
			if !hide(h0.Fault) {
				continue
			}
			row := Row{Weight: h0.Weight, Fault: h0.Fault, Repair: l.Repairs[l.Faults[h0.Fault].Repair].ID}
			if kinds {
				row.Kinds = kindsOf(l, b.solver.Path(start, h))
			}
			all[i] = append(all[i], row)
		}
	}
	return all, nil
}

// kindsOf are the competencies of tests, ascending.
func kindsOf(l *lab.Lab, tests []int) []string {
	var kinds []string
	for _, t := range tests {
		if kind := l.Tests[t].Competency; kind != "" && !slices.Contains(kinds, kind) {
			kinds = append(kinds, kind)
		}
	}
	slices.Sort(kinds)
	return kinds
}

// Share is the share of rows, by weight, that need a test of a kind: 0 to 1.
func Share(rows []Row, kind string) float64 {
	var some, all int64
	for _, r := range rows {
		all += r.Weight
		if slices.Contains(r.Kinds, kind) {
			some += r.Weight
		}
	}
	if all == 0 {
		return 0
	}
	return float64(some) / float64(all)
}

// How much more often a case comes that could bring only repairs which the student has not met, than one that could
// bring none of them; and one that surely gives an opportunity which the plan asks for, than one that surely does not.
const (
	metWeight   = 1
	newWeight   = 4
	askedWeight = 1000
)

// Weight is the weight of a case for somebody, above 0: in thousandths, metWeight to newWeight by the share of rows
// whose repair is new, times up to askedWeight for each kind of test that the plan asks for and that the student's
// other vehicles in the lab, given as the rows of their cases, do not bring already.
func Weight(rows []Row, met func(repair string) bool, asked []string, others [][]Row) int64 {
	var fresh, all int64
	for _, r := range rows {
		all += r.Weight
		if !met(r.Repair) {
			fresh += r.Weight
		}
	}
	w := 1000*metWeight + 1000*(newWeight-metWeight)*fresh/all
	if len(asked) == 0 {
		return w
	}
	gain := Gain(rows, asked, others)
	return int64(float64(w) * (1 + (askedWeight-1)*gain*gain)) // twice as good is wanted more than twice as much
}

// Gain is how many of the kinds that are asked for a case can be expected to bring beside the student's other vehicles.
func Gain(rows []Row, asked []string, others [][]Row) float64 {
	gain := 0.0
	for _, kind := range asked {
		open := 1.0 // the chance that none of the others brings it
		for _, o := range others {
			open *= 1 - Share(o, kind)
		}
		gain += open * Share(rows, kind)
	}
	return gain
}
