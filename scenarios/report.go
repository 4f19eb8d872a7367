package scenarios

import (
	"cmp"
	"maps"
	"slices"
)

// Report tells how a build went. All minutes are tenths. Refusals say something about the pack: how often a vehicle within its tolerances
// would have been judged wrongly.
type Report struct {
	Complaints []ComplaintReport
	Low, High  int64   // difficulty over all sheets of the lab
	Mean       float64 // of the difficulty
	Fair       bool    // High is at most one and a half times Low
	Faults     []FaultReport
	Draws      int // vehicles drawn for the new sheets
	Refusals   []Refusal
	Kept       int // sheets that were there before
	Added      int
	Clashes    int      // pairs of neighbours who have the same fault
	Notes      []string // for the instructor to read
}

// ComplaintReport is one complaint of the lab.
type ComplaintReport struct {
	ID         string
	Reference  float64 // V of all its suspects: the expected minutes of best play
	Hypotheses int
	Faults     int // different ones among them
}

// FaultReport is one fault that the lab hides.
type FaultReport struct {
	ID, Label string
	Low, High int64 // difficulty of its hypotheses inside the window
	Sheets    int
	Draws     int // vehicles drawn for it in this build
	Refused   int // of these
}

// Refusal is a reason for which drawn vehicles of a fault were refused.
type Refusal struct {
	Fault string // id
	Test  string // id; "" when all bands fit and the complaint or the difficulty did not
	Band  string // that no row of the fault has there, or what did not fit
	Times int
}

// fairShare is how much longer than the easiest sheet the hardest one may take before the report says that the lab is not fair.
const fairShare = 1.5

// newReport describes the lab as it is now.
func newReport(l *Lab, grounds []ground, chosen []candidate) *Report {
	r := &Report{}
	for _, g := range grounds {
		faults := map[int]bool{}
		for h := range l.Suspects(g.complaint).All() {
			faults[l.Hypotheses[h].Fault] = true
		}
		r.Complaints = append(r.Complaints, ComplaintReport{l.Complaints[g.complaint].ID, g.reference, g.suspects, len(faults)})
	}
	place := map[int]int{}
	for _, c := range chosen {
		at, known := place[c.fault]
		if !known {
			at = len(r.Faults)
			place[c.fault] = at
			r.Faults = append(r.Faults, FaultReport{ID: l.Faults[c.fault].ID, Label: l.Faults[c.fault].Label, Low: c.minutes, High: c.minutes})
		}
		f := &r.Faults[at]
		f.Low, f.High = min(f.Low, c.minutes), max(f.High, c.minutes)
	}
	for i, s := range l.Sheets {
		if i == 0 {
			r.Low, r.High = s.Minutes, s.Minutes
		}
		r.Low, r.High = min(r.Low, s.Minutes), max(r.High, s.Minutes)
		r.Mean += float64(s.Minutes) / float64(len(l.Sheets))
		if at, known := place[l.Hypotheses[s.Truth].Fault]; known {
			r.Faults[at].Sheets++
		}
	}
	r.Fair = float64(r.High) <= fairShare*float64(r.Low)
	return r
}

// count adds the tallies, by fault of the lab.
func (r *Report) count(l *Lab, tallies []*tally) {
	for fault, t := range tallies {
		if t == nil {
			continue
		}
		refused := t.complaint + t.elsewhere
		id := l.Faults[fault].ID
		for _, key := range slices.SortedFunc(maps.Keys(t.band), func(a, b [2]int) int { return cmp.Or(a[0]-b[0], a[1]-b[1]) }) {
			n := t.band[key]
			refused += n
			r.Refusals = append(r.Refusals, Refusal{id, l.Tests[key[0]].ID, l.Tests[key[0]].Bands[key[1]].Name, n})
		}
		if t.complaint > 0 {
			r.Refusals = append(r.Refusals, Refusal{Fault: id, Band: "another complaint", Times: t.complaint})
		}
		if t.elsewhere > 0 {
			r.Refusals = append(r.Refusals, Refusal{Fault: id, Band: "outside the difficulty", Times: t.elsewhere})
		}
		r.Draws += t.draws
		for i := range r.Faults {
			if r.Faults[i].ID == id {
				r.Faults[i].Draws, r.Faults[i].Refused = t.draws, refused
			}
		}
	}
	slices.SortStableFunc(r.Refusals, func(a, b Refusal) int { return b.Times - a.Times })
}

// add puts the counts of o into t.
func (t *tally) add(o *tally) {
	t.draws += o.draws
	t.complaint += o.complaint
	t.elsewhere += o.elsewhere
	for key, n := range o.band {
		t.band[key] += n
	}
}
