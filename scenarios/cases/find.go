package cases

import (
	"fmt"
	"math"
	"slices"

	"nospark/scenarios/isolation"
	"nospark/scenarios/lab"
)

// These bound the proof of best play, in states compared and in memory. A lab whose optimum is not proven within them
// is refused: marks never rest on an estimate. The built-in packs need far less; a pack that needs more would keep an
// instructor waiting for minutes.
const (
	mostNodes = 3_000_000
	mostBytes = 2 << 30
)

// Find works out the cases of a complaint. The error says why there is nothing to hide, or that best play could not be
// proven.
func Find(l *lab.Lab, complaint int, r Request) (*Found, error) {
	world, err := l.World(complaint, nil, nil)
	if err != nil {
		return nil, err
	}
	id := l.Complaints[complaint].ID
	if world.Suspects.Empty() {
		return nil, fmt.Errorf("complaint %q: no fault of pack %q gives it", id, l.Pack.Name)
	}
	solver, err := isolation.New(world.Problem, isolation.Limits{Nodes: mostNodes, Bytes: mostBytes})
	if err != nil {
		return nil, err
	}
	value := solver.Value(world.Suspects)
	weight := float64(solver.Weight(world.Suspects))
	switch {
	case !value.Proven():
		return nil, fmt.Errorf("complaint %q: best play among %d suspects and %d tests could not be proven (between "+
			"%.2f and %.2f minutes); allow fewer instruments or conditions", id, world.Suspects.Len(), len(l.Tests),
			float64(value.Low)/weight/10, float64(value.High)/weight/10)
	case solver.Done(world.Suspects):
		return nil, fmt.Errorf("complaint %q: nothing needs testing, the allowed tests cannot narrow down its %d "+
			"suspects; allow more instruments or conditions",
			id, world.Rows(world.Suspects).Len())
	}
	f := &Found{World: world, Solver: solver, Reference: float64(value.Low) / weight}
	s := &search{lab: l, request: r, found: f, values: map[isolation.Set]float64{}, best: map[isolation.Set]int{}}
	s.prepare()
	var usable []Case
	if r.Known > 0 {
		usable = s.even(s.states())
	}
	f.Cases = s.enough(usable)
	if len(f.Cases) == 0 {
		if f.Cases, err = s.start(); err != nil {
			return nil, err
		}
	}
	f.Reach = s.reach(f.Cases)
	return f, nil
}

// DifficultyError tells that no case of a complaint lies within the asked difficulty.
type DifficultyError struct {
	Complaint string  // id
	Reference float64 // V of the empty-handed start, tenths
}

// Error says what there is instead.
func (e *DifficultyError) Error() string {
	return fmt.Sprintf("complaint %q: no case is as difficult as asked for; best play takes %.1f minutes from the "+
		"complaint alone, and where something is known already it is looked for between %.1f and %.1f", e.Complaint,
		e.Reference/10, leastValue*e.Reference/10, mostValue*e.Reference/10)
}

func (s *search) prepare() {
	s.rows = s.found.World.Rows(s.found.World.Suspects)
	s.repairs = len(s.repairsOf(s.rows))
	s.faults = len(s.hidden(s.rows))
	s.chart = newChart(s.found)
}

// start is the empty-handed start as the only case.
func (s *search) start() ([]Case, error) {
	c := Case{Case: lab.Case{Complaint: s.found.World.Complaint, Known: []lab.Known{}, Reference: s.found.Reference},
		Set: s.found.World.Suspects}
	id := s.lab.Complaints[c.Complaint].ID
	if s.faults == 0 {
		return nil, fmt.Errorf("complaint %q: no fault is left to hide", id)
	}
	if d := s.request.Difficulty; d[1] > 0 && (c.Reference < float64(d[0]) || c.Reference > float64(d[1])) {
		return nil, &DifficultyError{Complaint: id, Reference: c.Reference}
	}
	c.Walk = s.walk(c.Set, c.Reference)
	return []Case{c}, nil
}

// value is V of a state, tenths; ok is false where it could not be proven.
func (s *search) value(set isolation.Set) (v float64, ok bool) {
	b := s.found.Solver.Value(set)
	return float64(b.Low) / float64(s.found.Solver.Weight(set)), b.Proven()
}

// states lists the states that are fair problems by themselves, none much like another.
func (s *search) states() []Case {
	var kept []Case
	var seen []isolation.Set // kept, or too short or long for best play
	reached := map[int]bool{}
	for _, c := range s.outcomes() {
		rows := s.found.World.Rows(c.Set)
		if len(kept) >= mostStates && !s.brings(rows, reached) {
			continue
		}
		if slices.ContainsFunc(seen, func(o isolation.Set) bool { return overlap(rows, o) > mostOverlap }) {
			continue
		}
		seen = append(seen, rows)
		v, ok := s.value(c.Set)
		c.Reference = v
		if d := s.request.Difficulty; !ok || d[1] > 0 && (v < float64(d[0]) || v > float64(d[1])) ||
			v < leastValue*s.found.Reference || v > mostValue*s.found.Reference {
			continue
		}
		kept = append(kept, c)
		for f := range s.hidden(rows) {
			reached[f] = true
		}
	}
	return kept
}

// brings tells whether some fault among rows may be hidden and is not reached yet.
func (s *search) brings(rows isolation.Set, reached map[int]bool) bool {
	for f := range s.hidden(rows) {
		if !reached[f] {
			return true
		}
	}
	return false
}

// overlap is the Jaccard index of two sets.
func overlap(a, b isolation.Set) float64 {
	return float64(a.Intersect(b).Len()) / float64(a.Union(b).Len())
}

// even keeps the states that are about equally hard on a walk, whatever they hide.
func (s *search) even(states []Case) []Case {
	var kept []Case
	for _, c := range states {
		c.Walk = s.walk(c.Set, c.Reference)
		if c.Walk.Spread() <= mostSpread {
			kept = append(kept, c)
		}
	}
	if len(kept) == 0 {
		return nil
	}
	var means []float64
	for _, c := range kept {
		means = append(means, c.Walk.Mean)
	}
	slices.Sort(means)
	median := (means[(len(means)-1)/2] + means[len(means)/2]) / 2
	return slices.DeleteFunc(kept, func(c Case) bool { return math.Abs(c.Walk.Mean-median) > mostApart })
}

// enough keeps the states in which following the chart of the empty-handed start loses most, as long as they are many
// and varied enough.
func (s *search) enough(states []Case) []Case {
	for i := range states {
		states[i].Chart = s.chart.loses(states[i])
	}
	for tenths := int(wantChart * 10); tenths >= 0; tenths-- {
		s.found.Chart = float64(tenths) / 10
		kept := slices.DeleteFunc(slices.Clone(states), func(c Case) bool { return c.Chart < s.found.Chart-1e-9 })
		if tenths == 0 || len(kept) >= wantCases && s.reach(kept) >= wantReach && s.variety(kept) >= s.wanted() {
			return kept
		}
	}
	return nil
}

// reach is the share of the faults to hide that some case can hide.
func (s *search) reach(list []Case) float64 {
	seen := map[int]bool{}
	for _, c := range list {
		for f := range s.hidden(s.found.World.Rows(c.Set)) {
			seen[f] = true
		}
	}
	return float64(len(seen)) / float64(max(s.faults, 1))
}

// wanted is how many different faults a class of sheets should hide.
func (s *search) wanted() float64 {
	if s.faults < largeFaults {
		return 0
	}
	return wantFaults
}

// variety is the expected number of different faults on a class of sheets: cases are drawn evenly, rows by their
// weights.
func (s *search) variety(list []Case) float64 {
	share := make([]float64, len(s.lab.Faults))
	for _, c := range list {
		weight := s.hidden(s.found.World.Rows(c.Set))
		var total int64
		for _, w := range weight {
			total += w
		}
		for f, w := range weight {
			share[f] += float64(w) / float64(total) / float64(len(list))
		}
	}
	expected := 0.0
	for _, p := range share {
		expected += 1 - math.Pow(1-p, classSheets)
	}
	return expected
}
