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
	"nospark/grading/isolation"
	"nospark/grading/submission"
	"nospark/scenarios"
)

// Skill is the way a player goes about it.
type Skill string

// The skills, best first.
const (
	Expert  Skill = "expert"  // best play, judged rightly, concluded when proven
	Careful Skill = "careful" // mostly near best play, with a slip now and then
	Walker  Skill = "walker"  // from the battery towards the spark plug, point after point, until proven
	Guesser Skill = "guesser" // a test or two at random, then the first repair that comes to mind
)

// Skills lists them in that order.
func Skills() []Skill { return []Skill{Expert, Careful, Walker, Guesser} }

// Class is a lab with what its players know in common.
type Class struct {
	lab      *scenarios.Lab
	suspects *grading.Suspects
}

// New prepares a lab. It fails where grading would.
func New(lab *scenarios.Lab) (*Class, error) {
	s, err := grading.NewSuspects(lab)
	if err != nil {
		return nil, err
	}
	return &Class{lab: lab, suspects: s}, nil
}

// player is one student at work.
type player struct {
	c     *Class
	sheet *scenarios.Sheet // of which only ask may look at the lines
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

// likeliest is the repair with most weight among the suspects that are left, the first of equal ones.
func (p *player) likeliest() int {
	weight := p.weights()
	best := -1
	for r := range weight {
		if weight[r] > 0 && (best < 0 || weight[r] > weight[best]) {
			best = r
		}
	}
	return best
}

// weights is the prior weight of each repair among the suspects that are left.
func (p *player) weights() []int64 {
	weight := make([]int64, len(p.c.lab.Repairs))
	for h := range p.set.All() {
		weight[p.c.lab.Faults[p.c.lab.Hypotheses[h].Fault].Repair] += p.c.lab.Hypotheses[h].Weight
	}
	return weight
}

// byPrior draws a repair with the chances that the suspects give it.
func (p *player) byPrior() int {
	weight := p.weights()
	var total int64
	for _, w := range weight {
		total += w
	}
	at := int64(p.draw(int(total)))
	for r, w := range weight {
		if at -= w; at < 0 {
			return r
		}
	}
	return len(weight) - 1
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
	p.conclude(p.likeliest())
}

// careful takes the best test half of the time and else one of the fifth of all tests that lose least; one verdict in twelve is wrong; one time in six
// the last proof is left out.
func (p *player) careful() {
	next := max(2, len(p.taken)/5)
	hurry := p.draw(6) == 0
	for !p.full() {
		t, more := p.c.suspects.Best(p.set)
		if !more || hurry && len(p.row.Steps) > 0 && p.set.Len() <= 4 {
			break
		}
		if p.draw(2) == 0 {
			tests := p.nearBest(next)
			t = tests[p.draw(len(tests))]
		}
		p.ask(t, p.draw(12) == 0)
	}
	p.conclude(p.likeliest())
}

// nearBest lists the tests that lose least, at most n.
func (p *player) nearBest(n int) []int {
	tests := p.open()
	lost := make(map[int]float64, len(tests))
	for _, t := range tests {
		lost[t] = p.c.suspects.Lost(p.set, t)
	}
	slices.SortStableFunc(tests, func(a, b int) int { return cmp.Compare(lost[a], lost[b]) })
	return tests[:min(n, len(tests))]
}

// walker goes from point to point in the order of the diagram and makes at each the cheapest test that could still show something, round
// after round, until the repair is proven or the record table is full. Nothing is chosen for how much it rules out; a verdict in twenty is
// wrong.
func (p *player) walker() {
	lab := p.c.lab
	order := p.open()
	point := func(t int) int {
		if lab.Tests[t].Point < 0 {
			return len(lab.Points)
		}
		return lab.Tests[t].Point
	}
	slices.SortStableFunc(order, func(a, b int) int {
		return cmp.Or(cmp.Compare(point(a), point(b)), cmp.Compare(lab.Tests[a].Minutes, lab.Tests[b].Minutes))
	})
	for !p.full() && !p.c.suspects.Proven(p.set) {
		visited := make([]bool, len(lab.Points)+1)
		progress := false
		for _, t := range order {
			if p.full() || p.c.suspects.Proven(p.set) {
				break
			}
			at := point(t)
			if p.taken[t] || visited[at] || len(p.c.suspects.Split(p.set, t)) < 2 {
				continue
			}
			visited[at] = at < len(lab.Points) // outside the grid every test is a place of its own
			progress = true
			p.ask(t, p.draw(20) == 0)
		}
		if !progress {
			break
		}
	}
	p.conclude(p.likeliest())
}

// guesser makes up to two tests at random, judges three of four rightly, and names a repair by its prior chance.
func (p *player) guesser() {
	tests := p.open()
	for range p.draw(3) {
		if len(tests) == 0 {
			break
		}
		at := p.draw(len(tests))
		t := tests[at]
		tests = slices.Delete(tests, at, at+1)
		p.ask(t, p.draw(4) == 0)
	}
	p.set = p.c.suspects.Start(p.sheet.Complaint) // does not draw conclusions from what was read
	p.conclude(p.byPrior())
}
