package bestplay

import (
	"fmt"
	"math"
	"slices"

	"nospark/scenarios/isolation"
	"nospark/scenarios/lab"
)

// Suspects knows best play from any state of the diagnosis of one complaint. One serves a whole class: what it has
// worked out for one student it remembers for the next. Sets hold suspects as lab.World counts them: rows of the lab,
// and behind them the gaps that stand for checks still owed. Whatever is counted for people is rows. Times are tenths
// of a minute. It is not safe for use by several goroutines at once.
type Suspects struct {
	lab    *lab.Lab
	world  *lab.World
	solver *isolation.Solver

	values map[isolation.Set]int64
	costs  map[move]int64
	best   map[isolation.Set]int // -1: nothing is left to test
}

type move struct {
	set  isolation.Set
	test int
}

// NewSuspects prepares the diagnosis of a complaint. Tests with an instrument that the plan forbids, and those in shut,
// are no evidence: best play does not use them. The checks in waived need not be made. It fails on a lab that the
// solver refuses.
func NewSuspects(l *lab.Lab, complaint int, shut, waived []int) (*Suspects, error) {
	world, err := l.World(complaint, shut, waived)
	if err != nil {
		return nil, fmt.Errorf("lab %s: %w", l.Name, err)
	}
	solver, err := isolation.New(world.Problem, isolation.Limits{})
	if err != nil {
		return nil, fmt.Errorf("lab %s: %w", l.Name, err)
	}
	return &Suspects{lab: l, world: world, solver: solver,
		values: map[isolation.Set]int64{}, costs: map[move]int64{}, best: map[isolation.Set]int{}}, nil
}

// All returns what somebody starts from who knows no more than the complaint.
func (s *Suspects) All() isolation.Set { return s.world.Suspects }

// Start returns what a sheet starts from: what fits the readings that its case gives.
func (s *Suspects) Start(sheet *lab.Sheet) isolation.Set { return s.world.Start(Known(s.lab, sheet)) }

// Known are the readings that a sheet's work order gives. Before labs had cases there were none.
func Known(l *lab.Lab, sheet *lab.Sheet) []lab.Known {
	if l.Format < lab.FirstWithCases || sheet.Case >= len(l.Cases) {
		return nil
	}
	return l.Cases[sheet.Case].Known
}

// Open tells whether the reading of a test is evidence.
func (s *Suspects) Open(test int) bool { return s.world.Open(test) }

// After returns the suspects that remain when test shows band.
func (s *Suspects) After(set isolation.Set, test int, band uint8) isolation.Set {
	if !s.world.Open(test) {
		return set
	}
	return s.solver.After(set, test, band)
}

// Proven tells that no test could change what is to be concluded: nothing else fits, and no check is owed.
func (s *Suspects) Proven(set isolation.Set) bool { return s.value(set) == 0 }

// Best returns the test with which best play goes on; ok is false when nothing is left to test.
func (s *Suspects) Best(set isolation.Set) (test int, ok bool) {
	t, known := s.best[set]
	if !known {
		var more bool
		if t, more = s.solver.Best(set); !more {
			t = -1
		}
		s.best[set] = t
	}
	return t, t >= 0
}

// Value returns V(S), the expected time of best play from here.
func (s *Suspects) Value(set isolation.Set) float64 { return s.perWeight(set, s.value(set)) }

// Reference is V(S) as it is printed: whole tenths of a minute, at least one, so that a mark can be recomputed on
// paper.
func (s *Suspects) Reference(set isolation.Set) int64 { return WholeTenths(s.Value(set)) }

func WholeTenths(v float64) int64 { return max(1, int64(math.Round(v))) }

// Lost returns Q(S,t) - V(S), by how much a test lengthens the expected diagnosis against best play: from 0 for a best
// test to the test's own minutes for one that tells nothing.
func (s *Suspects) Lost(set isolation.Set, test int) float64 {
	return s.perWeight(set, s.cost(set, test)-s.value(set))
}

// Rows are the suspects of a set that are rows.
func (s *Suspects) Rows(set isolation.Set) isolation.Set { return s.world.Rows(set) }

// Count is the number of suspects for people: those on the list.
func (s *Suspects) Count(set isolation.Set) int { return s.Rows(set).Len() }

// Weight is the prior weight of a set, gaps included.
func (s *Suspects) Weight(set isolation.Set) int64 { return s.solver.Weight(set) }

// Gaps counts the causes of a set that checks of one row stand for, and gives their prior weight.
func (s *Suspects) Gaps(set isolation.Set, row int) (n int, weight int64) {
	for i, g := range s.world.Gaps {
		if at := len(s.lab.Hypotheses) + i; g.Row == row && set.Has(at) {
			n, weight = n+1, weight+s.world.Problem.Weight[at]
		}
	}
	return n, weight
}

// Repairs returns the repairs of a set, ascending.
func (s *Suspects) Repairs(set isolation.Set) []int { return s.solver.Repairs(s.Rows(set)) }

// Needing returns the rows of a set for which one of the repairs is right.
func (s *Suspects) Needing(set isolation.Set, repairs ...int) isolation.Set {
	var some isolation.Set
	for h := range s.Rows(set).All() {
		if slices.Contains(repairs, RepairOf(s.lab, h)) {
			some = some.With(h)
		}
	}
	return some
}

// Owed lists the checks that the repairs of a set still owe, ascending.
func (s *Suspects) Owed(set isolation.Set) []int { return s.world.Owed(set) }

// OwedBy lists the checks that one repair still owes.
func (s *Suspects) OwedBy(set isolation.Set, repair int) []int {
	for i, g := range s.world.Gaps {
		if RepairOf(s.lab, g.Row) != repair {
			set = set.Without(len(s.lab.Hypotheses) + i)
		}
	}
	return s.world.Owed(set)
}

// Made lists the checks that a reading made: before were the suspects, after it those that are left. A check is made
// where a suspect that is left owed it before.
func (s *Suspects) Made(before, after isolation.Set) []int {
	made := before.Minus(after)
	for i, g := range s.world.Gaps {
		if !after.Has(g.Row) {
			made = made.Without(len(s.lab.Hypotheses) + i)
		}
	}
	return s.world.Owed(made)
}

// Own tells whether a test belongs to the proof of a repair that is still possible: its own feed, ground, input or
// output. Looking there is never a mistake, made already or not.
func (s *Suspects) Own(set isolation.Set, test int) bool {
	for h := range s.Rows(set).All() {
		for _, c := range s.lab.Hypotheses[h].Checks {
			if slices.Contains(s.lab.Checks[c].Tests, test) {
				return true
			}
		}
	}
	return false
}

// Inseparable returns the suspects that no open test can tell from row h, itself included.
func (s *Suspects) Inseparable(start isolation.Set, h int) isolation.Set {
	return s.solver.Group(start, h)
}

// Tells tells whether a test can show something new: a band that not every suspect has, or a cause that is not on the
// list.
func (s *Suspects) Tells(set isolation.Set, test int) bool { return s.solver.Splits(set, test) }

// Split returns how many suspects each reading of a test would leave, largest first.
func (s *Suspects) Split(set isolation.Set, test int) []int {
	var sizes []int
	for _, w := range s.Ways(set, test) {
		sizes = append(sizes, s.Count(w.Left))
	}
	slices.Sort(sizes)
	slices.Reverse(sizes)
	return sizes
}

// Way is what remains after one reading of a test.
type Way struct {
	Band uint8
	Left isolation.Set
}

// Ways lists what each reading that a suspect on the list would give leaves, in the order of the bands. A test that is
// no evidence leaves everything.
func (s *Suspects) Ways(set isolation.Set, test int) []Way {
	if !s.Open(test) {
		return []Way{{0, set}}
	}
	var ways []Way
	for band := range s.lab.Tests[test].Bands {
		if left := s.solver.After(set, test, uint8(band)); !left.Empty() {
			ways = append(ways, Way{uint8(band), left})
		}
	}
	return ways
}

// PathStep is one step of best play to the hidden fault.
type PathStep struct {
	Test    int    `json:"test"`
	Reading string `json:"reading"`
	Normal  bool   `json:"normal"`
	Minutes int64  `json:"minutes"`
	Before  int    `json:"before"`
	After   int    `json:"after"`
	Checks  []int  `json:"checks"` // checks that it makes, of repairs that stay possible
}

// Path is best play on a sheet from what is left, by somebody who knows no more than a student.
func (s *Suspects) Path(sheet *lab.Sheet, set isolation.Set) []PathStep {
	var path []PathStep
	for {
		t, more := s.Best(set)
		if !more {
			return path
		}
		line := sheet.Lines[t]
		next := s.After(set, t, line.Band)
		path = append(path, PathStep{
			Test: t, Reading: Shown(line), Normal: s.lab.Tests[t].Bands[line.Band].Normal,
			Minutes: s.lab.Tests[t].Minutes,
			Before:  s.Count(set), After: s.Count(next), Checks: s.Made(set, next),
		})
		set = next
	}
}

// Shown is a reading with what is printed beside it.
func Shown(line lab.Line) string {
	if line.Beside == "" {
		return line.Reading
	}
	return line.Reading + ", " + line.Beside
}

// RepairOf is the repair that a row needs.
func RepairOf(lab *lab.Lab, h int) int { return lab.Faults[lab.Hypotheses[h].Fault].Repair }

// Abnormal tells whether a test reads outside its specification under a row. A reading of which no verdict is asked is
// neither.
func Abnormal(lab *lab.Lab, test, row int) bool {
	band := lab.Tests[test].Bands[lab.Hypotheses[row].Band(test)]
	return !band.Normal && !band.Silent
}

// value is W(S) = w(S) V(S). The solver has no limits, so its brackets are single numbers.
func (s *Suspects) value(set isolation.Set) int64 {
	w, known := s.values[set]
	if !known {
		w = s.solver.Value(set).High
		s.values[set] = w
	}
	return w
}

func (s *Suspects) cost(set isolation.Set, test int) int64 {
	at := move{set, test}
	w, known := s.costs[at]
	if !known {
		w = s.solver.Cost(set, test).High
		s.costs[at] = w
	}
	return w
}

// perWeight turns the solver's scale into tenths of a minute. An integer 0 stays exactly 0.
func (s *Suspects) perWeight(set isolation.Set, w int64) float64 {
	if w == 0 {
		return 0
	}
	return float64(w) / float64(s.solver.Weight(set))
}
