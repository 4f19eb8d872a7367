package cases

import (
	"cmp"
	"slices"

	"nospark/scenarios/isolation"
	"nospark/scenarios/lab"
)

// Found are the usable cases of one complaint.
type Found struct {
	World     *lab.World
	Solver    *isolation.Solver
	Reference float64 // V of the empty-handed start, tenths
	Cases     []Case
	Reach     float64 // share of the faults that give the complaint and may be hidden, that some case can hide
	// least share of V that following the chart of the empty-handed start loses, as far as there are enough cases
	Chart float64
}

// Case is one usable case with what is known of it.
type Case struct {
	lab.Case
	Set   isolation.Set // its suspects, gaps included
	Walk  Walk          // how a walk from point to point fares
	Chart float64       // share of V that following the chart of the empty-handed start loses
}

// search is the look for the cases of one complaint.
type search struct {
	lab     *lab.Lab
	request Request
	found   *Found
	rows    isolation.Set // of the complaint
	repairs int           // different ones among them
	faults  int           // different ones among them that may be hidden
	chart   *chart

	values map[isolation.Set]float64 // V, tenths; walks from different states meet again and again
	best   map[isolation.Set]int     // first test of best play, -1 for none
}

// remember is V of a state, tenths. Where it cannot be proven within the solver's limits the upper end stands for it.
func (s *search) remember(set isolation.Set) float64 {
	v, known := s.values[set]
	if !known {
		v = float64(s.found.Solver.Value(set).High) / float64(s.found.Solver.Weight(set))
		s.values[set] = v
	}
	return v
}

// first is the test with which best play goes on, -1 where nothing is left to test.
func (s *search) first(set isolation.Set) int {
	t, known := s.best[set]
	if !known {
		var more bool
		if t, more = s.found.Solver.Best(set); !more {
			t = -1
		}
		s.best[set] = t
	}
	return t
}

// offers tells whether a state has enough different repairs, none of them too likely, and enough that may be hidden.
func (s *search) offers(set isolation.Set) bool {
	rows := s.found.World.Rows(set)
	weight := s.repairsOf(rows)
	var total, most int64
	for _, w := range weight {
		total, most = total+w, max(most, w)
	}
	if len(weight) < min(wantRepairs, s.repairs) || float64(most) > mostOfRepair*float64(total) && len(weight) > 2 {
		return false
	}
	hide := map[int]bool{}
	for f := range s.hidden(rows) {
		hide[s.lab.Faults[f].Repair] = true
	}
	if s.request.Named {
		return len(hide) >= 1
	}
	return len(hide) >= 2
}

// byCost orders sets of tests: fewer first, then quicker ones, then as the pack has them.
func (s *search) byCost(a, b []int) int {
	minutes := func(tests []int) (sum int64) {
		for _, t := range tests {
			sum += s.lab.Tests[t].Minutes
		}
		return sum
	}
	return cmp.Or(cmp.Compare(len(a), len(b)), cmp.Compare(minutes(a), minutes(b)), slices.Compare(a, b))
}

// Walk tells how somebody fares from a state who does not choose: from any point round the diagram, at each a test that
// could still show something, any of them, until the repair is proven or the record table is full.
type Walk struct {
	Mean      float64         // mark, by the weights of the rows
	Low, High float64         // least and highest mean mark of a row
	Marks     map[int]float64 // mean mark by row
}

// Spread is how far apart the rows of a state are, in points.
func (w Walk) Spread() float64 { return w.High - w.Low }

// Request says what a plan asks of the cases of one complaint.
type Request struct {
	Hide       func(fault int) bool // may be hidden
	Named      bool                 // the plan names what may be hidden, so one repair among it is enough
	Known      int                  // most readings that may be known when a sheet begins
	Difficulty [2]int64             // bounds of V, tenths of a minute; zero: any
	Sheets     int                  // that the lab will have
}

// Limits of a usable state, as shares of the empty-handed start's V, of weight and of overlap, and in points of a mark.
// They were chosen by trying them on the built-in packs: common practice, no source.
const (
	leastValue   = 0.5
	mostValue    = 1.1
	mostOfRepair = 0.5
	mostOverlap  = 0.9
	mostSpread   = 22.0
	mostApart    = 5.0
	wantRepairs  = 4
	wantChart    = 0.2
	wantCases    = 8
	wantReach    = 0.8
	largeFaults  = 20 // a complaint with as many faults is a large one
	wantFaults   = 11 // different ones on a class of its sheets
	classSheets  = 24
	mostStates   = 60 // that are looked at closely, beside those that bring a further fault into reach
)

// hidden gives the weight of each fault among rows that may be hidden.
func (s *search) hidden(rows isolation.Set) map[int]int64 {
	weight := map[int]int64{}
	for h := range rows.All() {
		if f := s.lab.Hypotheses[h].Fault; s.request.Hide(f) {
			weight[f] += s.lab.Hypotheses[h].Weight
		}
	}
	return weight
}

// repairsOf gives the weight of each repair among rows.
func (s *search) repairsOf(rows isolation.Set) map[int]int64 {
	weight := map[int]int64{}
	for h := range rows.All() {
		weight[s.found.World.Problem.Repair[h]] += s.found.World.Problem.Weight[h]
	}
	return weight
}
