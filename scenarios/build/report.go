package build

import (
	"cmp"
	"maps"
	"nospark/scenarios/lab"
	"slices"
)

// Report tells how a build went. All minutes are tenths. Refusals say something about the pack: how often a vehicle within its tolerances
// would have been judged wrongly.
type Report struct {
	Complaints []ComplaintReport `json:"complaints"`
	Low        int64             `json:"low"` // difficulty over all sheets of the lab
	High       int64             `json:"high"`
	Mean       float64           `json:"mean"`       // of the difficulty
	Fair       bool              `json:"fair"`       // High is at most one and a half times Low
	Walk       [2]float64        `json:"walk"`       // shortest and longest mean minutes, over the sheets, of somebody who tests point after point
	WalkMarks  [2]float64        `json:"walk_marks"` // lowest and highest mean mark, over the sheets, of such a walk
	Even       bool              `json:"even"`       // High and Low are at most 15 % of their mean apart, and WalkMarks at most 4.5
	Faults     []FaultReport     `json:"faults"`
	Draws      int               `json:"draws"` // vehicles drawn for the new sheets
	Refusals   []Refusal         `json:"refusals"`
	Kept       int               `json:"kept"` // sheets that were there before
	Added      int               `json:"added"`
	Clashes    int               `json:"clashes"` // pairs of neighbours who have the same fault
	Notes      []string          `json:"notes"`   // for the instructor to read
}

// ComplaintReport is one complaint of the lab.
type ComplaintReport struct {
	ID         string  `json:"id"`
	Reference  float64 `json:"reference"` // V of all its suspects: the expected minutes of best play
	Hypotheses int     `json:"hypotheses"`
	Faults     int     `json:"faults"` // different ones among them
}

// FaultReport is one fault that the lab hides.
type FaultReport struct {
	ID      string `json:"id"`
	Label   string `json:"label"`
	Low     int64  `json:"low"` // difficulty of its hypotheses inside the window
	High    int64  `json:"high"`
	Sheets  int    `json:"sheets"`
	Draws   int    `json:"draws"`   // vehicles drawn for it in this build
	Refused int    `json:"refused"` // of these
	Tight   int    `json:"tight"`   // of these, because a reading left its band
}

// Refusal is a reason for which drawn vehicles of a fault were refused.
type Refusal struct {
	Fault string `json:"fault"` // id
	Test  string `json:"test"`  // id; "" when not a band but the complaint or the difficulty did not fit
	Band  string `json:"band"`  // that no row of the fault has there, or what did not fit
	Times int    `json:"times"`
}

// fairShare is how much longer than the easiest sheet the hardest one may take before the report says that the lab is not fair.
const fairShare = 1.5

// newReport describes the lab as it is now.
func newReport(l *lab.Lab, grounds []solvedComplaint, chosen []candidate) *Report {
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
	r.walks(l, grounds)
	return r
}

// walks fills in how even the sheets are on a walk.
func (r *Report) walks(l *lab.Lab, grounds []solvedComplaint) {
	walk := walked(l, grounds)
	r.Walk = [2]float64{walk[0].minutes, walk[1].minutes}
	r.WalkMarks = [2]float64{walk[0].mark, walk[1].mark}
	r.Even = spread(r.Low, r.High) <= alike && walk[0] != walkTo{} && walk[1].mark-walk[0].mark <= looseMarks
}

// walked gives the least and the most that walks to what the sheets hide take and bring. Other faults than now may have been asked for when
// a sheet was made, so it is not looked for among the candidates.
func walked(l *lab.Lab, grounds []solvedComplaint) [2]walkTo {
	var all []walkTo
	for _, s := range l.Sheets {
		for _, g := range grounds {
			if g.complaint == s.Complaint {
				all = append(all, g.walks[s.Truth])
			}
		}
	}
	if len(all) == 0 {
		return [2]walkTo{}
	}
	ends := [2]walkTo{all[0], all[0]}
	for _, w := range all {
		ends[0] = walkTo{min(ends[0].minutes, w.minutes), min(ends[0].mark, w.mark)}
		ends[1] = walkTo{max(ends[1].minutes, w.minutes), max(ends[1].mark, w.mark)}
	}
	return ends
}

// count adds the tallies, by fault of the lab.
func (r *Report) count(l *lab.Lab, tallies []*tally) {
	for fault, t := range tallies {
		if t == nil {
			continue
		}
		tight := 0
		id := l.Faults[fault].ID
		for _, key := range slices.SortedFunc(maps.Keys(t.band), func(a, b [2]int) int { return cmp.Or(a[0]-b[0], a[1]-b[1]) }) {
			n := t.band[key]
			tight += n
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
				r.Faults[i].Draws, r.Faults[i].Tight, r.Faults[i].Refused = t.draws, tight, tight+t.complaint+t.elsewhere
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
