package lab

import (
	"fmt"
	"slices"

	"nospark/scenarios/isolation"
)

// World is everything that a diagnosis of one complaint reckons with: the rows of the matrix that give it, and their
// gaps.
//
// A gap is a row for a cause that is not on the list, at one place: the same as its row, except that every test of one
// check shows a further band, which no vehicle shows. Nobody is ever given one. Only a test of the check rules it out,
// and whatever rules out its row rules out its gaps. So as long as a check of a repair is owed, something else is
// possible, and best play makes the check.
//
// Indexes of suspects are those of Lab.Hypotheses; gaps follow behind all of them.
type World struct {
	Complaint int
	Problem   isolation.Problem // labels are indexes of repairs, those of all gaps Lab.NotListed; minutes are tenths
	Gaps      []Gap             // suspect len(Lab.Hypotheses) + i is Gaps[i]
	Suspects  isolation.Set     // all rows that give the complaint, and their gaps

	rows int    // len(Lab.Hypotheses)
	shut []bool // per test: no evidence here
}

// Gap is a suspect that a check rules out.
type Gap struct {
	Row   int // index into Lab.Hypotheses
	Check int // index into Lab.Checks
}

// gapShare is the part of its row's weight that a gap has.
const gapShare = 5

// NotListed is the label that all gaps share.
func (l *Lab) NotListed() int { return len(l.Repairs) }

// World is what a diagnosis of the complaint reckons with when some tests, beside those with an instrument that the
// plan forbids, are no evidence and some checks are waived. A check none of whose tests is open does not exist, and one
// that another makes in any case is no further one. The error is a world too large for the solver.
func (l *Lab) World(complaint int, shut, waived []int) (*World, error) {
	w := &World{Complaint: complaint, rows: len(l.Hypotheses), shut: make([]bool, len(l.Tests))}
	for t, test := range l.Tests {
		w.shut[t] = slices.Contains(shut, t) || slices.Contains(l.Technique.Forbid, test.Instrument)
	}
	for i, h := range l.Hypotheses {
		w.Problem.Weight = append(w.Problem.Weight, h.Weight)
		w.Problem.Repair = append(w.Problem.Repair, l.Faults[h.Fault].Repair)
		if h.Complaint != complaint && h.Complaint >= 0 {
			continue
		}
		for _, c := range l.owed(h, complaint, waived, w.Open) {
			w.Gaps = append(w.Gaps, Gap{i, c})
		}
	}
	for _, g := range w.Gaps {
		w.Problem.Weight = append(w.Problem.Weight, max(1, l.Hypotheses[g.Row].Weight/gapShare))
		w.Problem.Repair = append(w.Problem.Repair, l.NotListed())
	}
	if n := len(w.Problem.Weight); n > isolation.MaxHypotheses {
		return nil, fmt.Errorf("complaint %q: %d suspects and checks, at most %d can be solved; allow fewer faults "+
			"or name fewer complaints",
			l.Complaints[complaint].ID, n, isolation.MaxHypotheses)
	}
	for t, test := range l.Tests {
		// A test that is no evidence shows the same band under every suspect, so best play has no use for it.
		row := make([]uint8, len(w.Problem.Weight))
		for i := range row {
			if !w.shut[t] {
				row[i] = w.band(l, i, t)
			}
		}
		w.Problem.Minutes = append(w.Problem.Minutes, test.Minutes)
		w.Problem.Band = append(w.Problem.Band, row)
	}
	for i := range w.Problem.Weight {
		if c := l.Hypotheses[w.Row(i)].Complaint; c == complaint || c < 0 {
			w.Suspects = w.Suspects.With(i)
		}
	}
	if n := w.Suspects.Len(); n > isolation.MaxDistinct {
		return nil, fmt.Errorf("complaint %q: %d suspects and checks, at most %d can be told apart; allow fewer faults",
			l.Complaints[complaint].ID, n, isolation.MaxDistinct)
	}
	return w, nil
}

// band is what test t shows under suspect i: under a gap, in a test of its check, a band that no vehicle has.
func (w *World) band(l *Lab, i, t int) uint8 {
	if g, is := w.Gap(i); is && slices.Contains(l.Checks[g.Check].Tests, t) {
		return uint8(len(l.Tests[t].Bands))
	}
	return l.Hypotheses[w.Row(i)].Band(t)
}

// Gap tells whether a suspect is a gap, and which.
func (w *World) Gap(suspect int) (Gap, bool) {
	if suspect < w.rows {
		return Gap{}, false
	}
	return w.Gaps[suspect-w.rows], true
}

// Row is the row of a suspect; that of a gap is the one it belongs to.
func (w *World) Row(suspect int) int {
	if g, is := w.Gap(suspect); is {
		return g.Row
	}
	return suspect
}

// Open tells whether the reading of a test is evidence.
func (w *World) Open(test int) bool { return !w.shut[test] }

// Start is what a diagnosis begins with when some readings are known: the suspects that show them. A reading that is no
// evidence leaves everything possible.
func (w *World) Start(known []Known) isolation.Set {
	set := w.Suspects
	for _, k := range known {
		if w.shut[k.Test] {
			continue
		}
		for i := range set.All() {
			if w.Problem.Band[k.Test][i] != k.Band {
				set = set.Without(i)
			}
		}
	}
	return set
}

// Rows are the suspects of a set that are rows.
func (w *World) Rows(set isolation.Set) isolation.Set {
	for i := range w.Gaps {
		set = set.Without(w.rows + i)
	}
	return set
}

// Owed lists the checks that the suspects of a set still owe, ascending.
func (w *World) Owed(set isolation.Set) []int {
	var owed []int
	for i, g := range w.Gaps {
		if set.Has(w.rows+i) && !slices.Contains(owed, g.Check) {
			owed = append(owed, g.Check)
		}
	}
	slices.Sort(owed)
	return owed
}

// ResultWords says what is looked at where nothing may be wrong: what the complaint says is missing reads good.
const ResultWords = "good test"

// Words names the check for people: "feed of ICM, at 11" or "own test of Coil lead".
func (c Check) Words(l *Lab) string {
	words := c.What + " of " + c.Label
	switch {
	case c.What == "result" && c.Label == "":
		return ResultWords + " of the vehicle"
	case c.What == "result":
		return ResultWords + " of " + c.Label
	case c.Point >= 0:
		words += fmt.Sprintf(", at %d", l.Points[c.Point].Number)
	case c.What == "end": // inside the harness; the other one has a number
		return "inner " + words
	}
	return words
}
