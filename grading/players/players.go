// Package players simulates students of different skill, for demonstrations and for tests of the marks.
//
// Start at New and Class.Play. A player sees what a student sees: the matrix that the booklet describes, the
// complaint with what the work order gives, and the readings of its own sheet that it asks for. Some have heard
// something besides, which the skill names. What a player hands in is a row as read from an entry form. The package
// grades nothing.
package players

import (
	"fmt"
	"slices"

	"nospark/grading"
	"nospark/grading/bestplay"
	"nospark/grading/submission"
	"nospark/scenarios/isolation"
	"nospark/scenarios/lab"
)

// Skill is the way a player goes about it.
type Skill string

// The skills that know what a student is given and no more, best first. None of them has a liking for a place in the
// circuit or for a common fault: one that begins at the battery, or names the commonest repair when in doubt, would
// find some faults sooner than others by its habit, and how equally hard the faults of a lab are could not be seen from
// its marks.
const (
	Expert  Skill = "expert"  // best play, judged rightly, concluded when proven
	Careful Skill = "careful" // mostly near best play, with a slip now and then
	Walker  Skill = "walker"  // round the diagram, point after point, until proven
	Guesser Skill = "guesser" // no test or one that tells nothing, then any repair
)

// The skills that go about it in ways that a school wants to know the worth of.
const (
	// output missing? then feed, ground and inputs of that part, and so on backwards
	Technician   Skill = "technician"
	Chart        Skill = "chart"         // best play of another lab, or of this one from nothing, step by step
	List         Skill = "list"          // knows which faults there are and how common they are, and proves nothing
	Told         Skill = "told"          // a neighbor has whispered the fault; one test to confirm it
	PartsChanger Skill = "parts changer" // replaces the commonest part still possible
)

// Skills lists the first four.
func Skills() []Skill { return []Skill{Expert, Careful, Walker, Guesser} }

// All lists all nine.
func All() []Skill { return append(Skills(), Technician, Chart, List, Told, PartsChanger) }

// Class is a lab with what its players know in common.
type Class struct {
	lab      *lab.Lab
	suspects map[int]*bestplay.Suspects // by complaint
	closed   map[int]*bestplay.Suspects // the same for somebody who makes no checks
	chart    *lab.Lab
	charts   map[int]*bestplay.Suspects // of the lab whose chart goes round
	pool     []int                      // faults that are said to be hidden; nil: all on the list
	memory   *grading.Memory            // of what is graded to measure
}

// New prepares a lab. It fails where grading would.
func New(lab *lab.Lab) (*Class, error) {
	c := &Class{lab: lab, memory: grading.NewMemory(lab.Detail)}
	var err error
	if c.suspects, err = suspectsOf(lab, nil); err != nil {
		return nil, err
	}
	all := make([]int, len(lab.Checks))
	for i := range all {
		all[i] = i
	}
	if c.closed, err = suspectsOf(lab, all); err != nil {
		return nil, err
	}
	c.chart, c.charts = lab, c.suspects
	return c, nil
}

// suspectsOf prepares the complaints of a lab's sheets.
func suspectsOf(lab *lab.Lab, waived []int) (map[int]*bestplay.Suspects, error) {
	of := map[int]*bestplay.Suspects{}
	for i := range lab.Sheets {
		complaint := lab.Sheets[i].Complaint
		if of[complaint] != nil {
			continue
		}
		s, err := bestplay.NewSuspects(lab, complaint, nil, waived)
		if err != nil {
			return nil, err
		}
		of[complaint] = s
	}
	return of, nil
}

// player is one student at work.
type player struct {
	c     *Class
	s     *bestplay.Suspects // of the sheet's complaint
	sheet *lab.Sheet         // of which only ask may look at the lines
	set   isolation.Set
	taken []bool
	row   submission.Row
	draw  func(n int) int
}

// ask reads a line, writes the step with the verdict that the specification calls for, rules out what does not fit and
// gives the band. wrong turns the verdict round.
func (p *player) ask(test int, wrong bool) (band uint8) {
	line := p.sheet.Lines[test]
	shown := p.c.lab.Tests[test].Bands[line.Band]
	judged := ""
	switch {
	case shown.Silent:
	case shown.Normal != wrong:
		judged = "+"
	default:
		judged = "-"
	}
	n := len(p.row.Steps) + 1
	p.row.Steps = append(p.row.Steps, submission.Step{
		Place: fmt.Sprintf("%s, step %d", p.row.Place, n),
		Text:  fmt.Sprintf("%03d%s%s", line.Number, line.Letters, judged),
		Line:  line.Number, Letters: line.Letters, Judged: judged,
	})
	p.taken[test] = true
	p.set = p.s.After(p.set, test, line.Band)
	return line.Band
}

// full tells that the record table has no line left.
func (p *player) full() bool { return p.c.lab.Rows > 0 && len(p.row.Steps) >= p.c.lab.Rows }

// conclude writes a repair.
func (p *player) conclude(repair int) {
	r := p.c.lab.Repairs[repair]
	p.row.Repair = r.Code + r.Letters
}

// commonest writes the repair of a set that has most weight; of several that have, any.
func (p *player) commonest(set isolation.Set) {
	weight := make([]int64, len(p.c.lab.Repairs))
	for h := range p.s.Rows(set).All() {
		weight[p.c.lab.Faults[p.c.lab.Hypotheses[h].Fault].Repair] += p.c.lab.Hypotheses[h].Weight
	}
	var most []int
	for r, w := range weight {
		if w == slices.Max(weight) {
			most = append(most, r)
		}
	}
	if len(most) == 1 {
		p.conclude(most[0])
		return
	}
	p.conclude(most[p.draw(len(most))])
}

// any writes one of the repairs that are left.
func (p *player) any() {
	repairs := p.s.Repairs(p.set)
	p.conclude(repairs[p.draw(len(repairs))])
}

// open lists the tests that may be made and were not, by index.
func (p *player) open() []int {
	var tests []int
	for t := range p.taken {
		if !p.taken[t] && p.s.Open(t) {
			tests = append(tests, t)
		}
	}
	return tests
}
