package build

import (
	"cmp"
	"maps"
	"math"
	"slices"

	"nospark/scenarios/cases"
	"nospark/scenarios/isolation"
	"nospark/scenarios/lab"
)

// Report tells how a build went. All minutes are tenths. Refusals say something about the pack: how often a vehicle
// within its tolerances would have been judged wrongly.
type Report struct {
	Complaints []ComplaintReport `json:"complaints"`
	Low        float64           `json:"low"` // V over the sheets of the lab
	High       float64           `json:"high"`
	Mean       float64           `json:"mean"`
	Faults     []FaultReport     `json:"faults"`
	Learned    Learned           `json:"learned"`
	// mean mark of somebody who knows the list and the weights and proves nothing; 0: not asked for
	List     float64   `json:"list"`
	Draws    int       `json:"draws"` // vehicles drawn for the new sheets
	Refusals []Refusal `json:"refusals"`
	Kept     int       `json:"kept"` // sheets that were there before
	Added    int       `json:"added"`
	Same     int       `json:"same"`  // pairs of neighbors whose sheets begin alike
	Notes    []string  `json:"notes"` // for the instructor to read
	Paper    Paper     `json:"paper"` // that printing the lab takes; the program that prints fills it in
}

// Paper counts sheets of paper, printed on both sides where that is possible.
type Paper struct {
	Sheets     int `json:"sheets"` // all of them
	Worksheets int `json:"worksheets"`
	Readings   int `json:"readings"` // on one side
	Booklets   int `json:"booklets"` // one booklet for two students
	// how to run the lab, and who holds whose readings; key and chart are read on a screen
	Instructor int    `json:"instructor"`
	BookletOf  string `json:"booklet_of"` // name of the lab with which the booklet was printed; "": with this one
}

// ComplaintReport is one complaint of the lab.
type ComplaintReport struct {
	ID string `json:"id"`
	// V of all its suspects: the expected minutes of best play from the complaint alone
	Reference  float64 `json:"reference"`
	Hypotheses int     `json:"hypotheses"` // rows of the matrix
	Faults     int     `json:"faults"`     // different ones among them
	Repairs    int     `json:"repairs"`    // different ones among them
	Checks     int     `json:"checks"`     // that some repair needs
	Cases      int     `json:"cases"`      // in which a sheet may begin
	// share of its faults that may be hidden which some case can hide; 0 when sheets were added
	Reach float64 `json:"reach"`
	// least share of V that following the chart of the empty-handed start loses
	Chart float64 `json:"chart"`
	// lowest and highest mean mark, over the cases, of somebody who tests point after point
	WalkMarks [2]float64 `json:"walk_marks"`
}

// FaultReport is one fault that the lab may hide.
type FaultReport struct {
	ID      string  `json:"id"`
	Label   string  `json:"label"`
	Share   float64 `json:"share"`   // of the sheets, that is to be expected
	Sheets  int     `json:"sheets"`  // that hide it
	Draws   int     `json:"draws"`   // vehicles drawn for it in this build
	Refused int     `json:"refused"` // of these
	Tight   int     `json:"tight"`   // of these, because a reading left its band
}

// Learned is what somebody can know about a sheet who knows the list, the weights and all cases. Given its case a
// sheet's row is drawn by the weights and by nothing else, so neither neighbors nor all debriefs nor the own history
// add anything: their part is 0 bits.
type Learned struct {
	Bits   float64 `json:"bits"`   // mean uncertainty about the repair that a case leaves
	Others float64 `json:"others"` // bits about it that all other sheets and the own history tell
	First  float64 `json:"first"`  // mean probability that the first guess of a repair is right
	Most   float64 `json:"most"`   // the highest over the sheets
}

// Refusal is a reason for which drawn vehicles of a fault were refused.
type Refusal struct {
	Fault string `json:"fault"` // id
	Test  string `json:"test"`  // id; "" when not a band but the complaint did not fit
	Band  string `json:"band"`  // that the row does not have there, or what did not fit
	Times int    `json:"times"`
}

// newReport describes the complaints of a new lab.
func newReport(l *lab.Lab, found []*cases.Found, notes []string) *Report {
	r := &Report{Notes: notes, Refusals: []Refusal{}}
	for _, f := range found {
		c := complaintReport(l, f.World)
		c.Reference, c.Cases, c.Reach, c.Chart = f.Reference, len(f.Cases), f.Reach, f.Chart
		c.WalkMarks = [2]float64{math.Inf(1), math.Inf(-1)}
		for _, k := range f.Cases {
			c.WalkMarks = [2]float64{min(c.WalkMarks[0], k.Walk.Mean), max(c.WalkMarks[1], k.Walk.Mean)}
		}
		r.Complaints = append(r.Complaints, c)
	}
	return r
}

// reportOn describes the complaints of a lab that gets more sheets.
func reportOn(l *lab.Lab, notes []string) (*Report, error) {
	r := &Report{Notes: notes, Refusals: []Refusal{}}
	_, worlds, err := rowsOf(l)
	if err != nil {
		return nil, err
	}
	for _, complaint := range slices.Sorted(maps.Keys(worlds)) {
		c := complaintReport(l, worlds[complaint])
		s, err := isolation.New(worlds[complaint].Problem, isolation.Limits{})
		if err != nil {
			return nil, err
		}
		all := worlds[complaint].Suspects
		c.Reference = float64(s.Value(all).Low) / float64(s.Weight(all))
		for _, k := range l.Cases {
			if k.Complaint == complaint {
				c.Cases++
			}
		}
		r.Complaints = append(r.Complaints, c)
	}
	return r, nil
}

func complaintReport(l *lab.Lab, w *lab.World) ComplaintReport {
	c := ComplaintReport{ID: l.Complaints[w.Complaint].ID}
	faults, repairs := map[int]bool{}, map[int]bool{}
	for h := range w.Rows(w.Suspects).All() {
		c.Hypotheses++
		faults[l.Hypotheses[h].Fault], repairs[l.Faults[l.Hypotheses[h].Fault].Repair] = true, true
	}
	c.Faults, c.Repairs, c.Checks = len(faults), len(repairs), len(w.Owed(w.Suspects))
	return c
}

// learn works out what can be known of the sheets, and gives the share of sheets that each fault is to be expected on.
func (r *Report) learn(l *lab.Lab, sets []isolation.Set, hide []bool) []float64 {
	share := make([]float64, len(l.Faults))
	r.Learned = Learned{}
	for _, s := range l.Sheets {
		repairs := map[int]float64{}
		total := 0.0
		for h := range sets[s.Case].All() {
			row := l.Hypotheses[h]
			if hide[row.Fault] {
				repairs[l.Faults[row.Fault].Repair] += float64(row.Weight)
				total += float64(row.Weight)
			}
		}
		top, bits := 0.0, 0.0
		for _, repair := range slices.Sorted(maps.Keys(repairs)) {
			p := repairs[repair] / total
			top, bits = max(top, p), bits-p*math.Log2(p)
		}
		n := float64(len(l.Sheets))
		r.Learned.Bits, r.Learned.First = r.Learned.Bits+bits/n, r.Learned.First+top/n
		r.Learned.Most = max(r.Learned.Most, top)
		for h := range sets[s.Case].All() {
			if row := l.Hypotheses[h]; hide[row.Fault] {
				share[row.Fault] += float64(row.Weight) / total / n
			}
		}
	}
	return share
}

// alike counts the pairs of neighbors with sheets that begin in the same way.
func alike(l *lab.Lab, m *maker) int {
	begins := map[string][]int{}
	for _, s := range l.Sheets {
		begins[s.Student] = append(begins[s.Student], s.Case)
	}
	pairs := 0
	for i, near := range neighbors(m.people, m.in.Seating) {
		for _, j := range near {
			if j > i && slices.ContainsFunc(begins[m.people[i].id],
				func(c int) bool { return slices.Contains(begins[m.people[j].id], c) }) {
				pairs++
			}
		}
	}
	return pairs
}

// count adds up what drawing the vehicles took.
func (r *Report) count(l *lab.Lab, jobs []job) {
	byFault := map[int]*tally{}
	for _, j := range jobs {
		f := l.Hypotheses[j.row].Fault
		if byFault[f] == nil {
			byFault[f] = newTally()
		}
		byFault[f].add(j.tally)
	}
	for _, fault := range slices.Sorted(maps.Keys(byFault)) {
		t, tight, id := byFault[fault], 0, l.Faults[fault].ID
		for _, key := range slices.SortedFunc(maps.Keys(t.band), func(a, b [2]int) int {
			return cmp.Or(a[0]-b[0],
				a[1]-b[1])
		}) {
			tight += t.band[key]
			r.Refusals = append(r.Refusals, Refusal{id, l.Tests[key[0]].ID, l.Tests[key[0]].Bands[key[1]].Name,
				t.band[key]})
		}
		if t.complaint > 0 {
			r.Refusals = append(r.Refusals, Refusal{Fault: id, Band: "another complaint", Times: t.complaint})
		}
		r.Draws += t.draws
		for i := range r.Faults {
			if r.Faults[i].ID == id {
				r.Faults[i].Draws, r.Faults[i].Tight, r.Faults[i].Refused = t.draws, tight, tight+t.complaint
			}
		}
	}
	slices.SortStableFunc(r.Refusals, func(a, b Refusal) int { return b.Times - a.Times })
}

// add puts the counts of o into t.
func (t *tally) add(o *tally) {
	t.draws += o.draws
	t.complaint += o.complaint
	for key, n := range o.band {
		t.band[key] += n
	}
}
