// Package players simulates students of different skill, for demonstrations and for tests of the marks.
//
// Start at New and Class.Play. A player sees what a student sees: the matrix that the class reference describes, the complaint, and the
// readings of its own sheet that it asks for. It never looks at a sheet's hidden fault. What it hands in is a row as read from an entry
// form. The package grades nothing.
package players

import (
	"cmp"
	"fmt"
	"slices"

	"nospark/grading"
	"nospark/grading/submission"
	"nospark/scenarios/isolation"
	"nospark/scenarios/lab"
)

// Skill is the way a player goes about it. No skill has a liking for a place in the circuit or for a common fault: one that begins at the
// battery, or names the commonest repair when in doubt, would find some faults sooner than others by its habit, and how equally hard the
// faults of a lab are could not be seen from its marks.
type Skill string

// The skills, best first.
const (
	Expert  Skill = "expert"  // best play, judged rightly, concluded when proven
	Careful Skill = "careful" // mostly near best play, with a slip now and then
	Walker  Skill = "walker"  // round the diagram, point after point, until proven
	Guesser Skill = "guesser" // no test or one that tells nothing, then any repair
)

// Skills lists them in that order.
func Skills() []Skill { return []Skill{Expert, Careful, Walker, Guesser} }

// Class is a lab with what its players know in common.
type Class struct {
	lab      *lab.Lab
	suspects *grading.Suspects
}

// New prepares a lab. It fails where grading would.
func New(lab *lab.Lab) (*Class, error) {
	s, err := grading.NewSuspects(lab)
	if err != nil {
		return nil, err
	}
	return &Class{lab: lab, suspects: s}, nil
}

// player is one student at work.
type player struct {
	c     *Class
	sheet *lab.Sheet // of which only ask may look at the lines
	set   isolation.Set
	taken []bool
	row   submission.Row
	draw  func(n int) int
}

// Play lets a player of that skill work on a sheet. draw(n) gives a number from 0 to n-1; the same draws give the same row.
func (c *Class) Play(sheet int, skill Skill, draw func(n int) int) submission.Row {
	s := &c.lab.Sheets[sheet]
	p := &player{c: c, sheet: s, set: c.suspects.Start(s.Complaint), taken: make([]bool, len(c.lab.Tests)), draw: draw}
	p.row = submission.Row{Place: "sheet " + s.Code, Student: s.Student, Name: s.Name, Sheet: s.Code, Reasoning: -1, Safe: -1}
	switch skill {
	case Expert:
		p.expert()
	case Careful:
		p.careful()
	case Walker:
		p.walker()
	case Guesser:
		p.guesser()
	default:
		panic(fmt.Sprintf("players: no skill %q", skill))
	}
	return p.row
}

// ask reads a line, writes the step with the verdict that the specification calls for, and rules out what does not fit. wrong turns
// the verdict round.
func (p *player) ask(test int, wrong bool) {
	line := p.sheet.Lines[test]
	band := p.c.lab.Tests[test].Bands[line.Band]
	judged := ""
	switch {
	case band.Silent:
	case band.Normal != wrong:
		judged = "+"
	default:
		judged = "-"
	}
	n := len(p.row.Steps) + 1
	p.row.Steps = append(p.row.Steps, submission.Step{
		Place: fmt.Sprintf("%s, step %d", p.row.Place, n), Text: fmt.Sprintf("%03d%s%s", line.Number, line.Letters, judged),
		Line: line.Number, Letters: line.Letters, Judged: judged,
	})
	p.taken[test] = true
	p.set = p.c.suspects.After(p.set, test, line.Band)
}

// full tells that the record table has no line left.
func (p *player) full() bool { return p.c.lab.Rows > 0 && len(p.row.Steps) >= p.c.lab.Rows }

// conclude writes a repair.
func (p *player) conclude(repair int) {
	r := p.c.lab.Repairs[repair]
	p.row.Repair = r.Code + r.Letters
}

// proven writes the repair that is left; of several that no test tells apart the one with most weight.
func (p *player) proven() {
	weight := make([]int64, len(p.c.lab.Repairs))
	for h := range p.set.All() {
		weight[p.c.lab.Faults[p.c.lab.Hypotheses[h].Fault].Repair] += p.c.lab.Hypotheses[h].Weight
	}
	p.conclude(slices.Index(weight, slices.Max(weight)))
}

// any writes one of the repairs that are left.
func (p *player) any() {
	repairs := p.c.suspects.Repairs(p.set)
	p.conclude(repairs[p.draw(len(repairs))])
}

// open lists the tests that may be made and were not, by index.
func (p *player) open() []int {
	var tests []int
	for t := range p.taken {
		if !p.taken[t] && p.c.suspects.Open(t) {
			tests = append(tests, t)
		}
	}
	return tests
}

func (p *player) expert() {
	for {
		t, more := p.c.suspects.Best(p.set)
		if !more {
			break
		}
		p.ask(t, false)
	}
	p.proven()
}

// careful takes the best test two times in three and else one of the ten that lose least among those that tell something; one verdict in
// twelve is wrong; one time in twelve the last proof between two repairs is left out.
func (p *player) careful() {
	hurry := p.draw(12) == 0
	for !p.full() {
		t, more := p.c.suspects.Best(p.set)
		if !more {
			p.proven()
			return
		}
		if hurry && len(p.row.Steps) > 0 && len(p.c.suspects.Repairs(p.set)) == 2 {
			break
		}
		if p.draw(3) == 0 {
			tests := p.nearBest(10)
			t = tests[p.draw(len(tests))]
		}
		p.ask(t, p.draw(12) == 0)
	}
	p.any()
}

// nearBest lists the tests that tell something, those that lose least first, at most n.
func (p *player) nearBest(n int) []int {
	var tests []int
	lost := map[int]float64{}
	for _, t := range p.open() {
		if l := p.c.suspects.Lost(p.set, t); l < float64(p.c.lab.Tests[t].Minutes) {
			tests, lost[t] = append(tests, t), l
		}
	}
	slices.SortStableFunc(tests, func(a, b int) int { return cmp.Compare(lost[a], lost[b]) })
	return tests[:min(n, len(tests))]
}

// walker goes round the diagram point after point, from wherever it begins, and makes at each a test that could still show something, any of
// them, round after round, until the repair is proven or the record table is full. Nothing is chosen for how much it rules out. A verdict
// in eight is wrong.
func (p *player) walker() {
	points := len(p.c.lab.Points)
	at := p.draw(points + 1) // the last stands for the tests outside the grid
	for !p.full() {
		if p.c.suspects.Proven(p.set) {
			p.proven()
			return
		}
		if tests := p.showingAt(at); len(tests) > 0 {
			p.ask(tests[p.draw(len(tests))], p.draw(8) == 0)
		}
		at = (at + 1) % (points + 1)
	}
	p.any()
}

// showingAt lists the tests at a point that the suspects do not all answer alike. While the repair is not proven there is one somewhere.
func (p *player) showingAt(point int) []int {
	return slices.DeleteFunc(p.open(), func(t int) bool {
		at := p.c.lab.Tests[t].Point
		if at < 0 {
			at = len(p.c.lab.Points)
		}
		return at != point || len(p.c.suspects.Split(p.set, t)) < 2
	})
}

// guesser makes up to two tests that can tell nothing, if there are any, judges three of four rightly, and names any repair that the
// complaint allows.
func (p *player) guesser() {
	tests := slices.DeleteFunc(p.open(), func(t int) bool { return len(p.c.suspects.Split(p.set, t)) > 1 })
	for range min(p.draw(3), len(tests)) {
		at := p.draw(len(tests))
		p.ask(tests[at], p.draw(4) == 0)
		tests = slices.Delete(tests, at, at+1)
	}
	p.any()
}
