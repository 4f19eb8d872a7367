package players

import (
	"cmp"
	"slices"
)

func (p *player) expert() {
	for {
		t, more := p.s.Best(p.set)
		if !more {
			break
		}
		p.ask(t, false)
	}
	p.commonest(p.set)
}

// careful takes the best test two times in three and else one of the ten that lose least among those that tell
// something; one verdict in twelve is wrong; one time in twelve the last proof is left out, between two repairs or of
// one whose checks are owed.
func (p *player) careful() {
	hurry := p.draw(12) == 0
	for !p.full() {
		t, more := p.s.Best(p.set)
		if !more {
			p.commonest(p.set)
			return
		}
		if hurry && len(p.row.Steps) > 0 && p.nearlyProven() {
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

// nearlyProven tells that two things are left to be concluded: two repairs, or one and a cause that is not on the list.
func (p *player) nearlyProven() bool {
	n := len(p.s.Repairs(p.set))
	return n == 2 && len(p.s.Owed(p.set)) == 0 || n == 1
}

// nearBest lists the tests that tell something, those that lose least first, at most n.
func (p *player) nearBest(n int) []int {
	var tests []int
	lost := map[int]float64{}
	for _, t := range p.open() {
		if l := p.s.Lost(p.set, t); l < float64(p.c.lab.Tests[t].Minutes) {
			tests, lost[t] = append(tests, t), l
		}
	}
	slices.SortStableFunc(tests, func(a, b int) int { return cmp.Compare(lost[a], lost[b]) })
	return tests[:min(n, len(tests))]
}

// walker goes round the diagram point after point, from wherever it begins, and makes at each a test that could still
// show something, any of them, round after round, until the repair is proven, its checks included, or the record table
// is full. Nothing is chosen for how much it rules out. A verdict in eight is wrong.
func (p *player) walker() {
	points := len(p.c.lab.Points)
	at := p.draw(points + 1) // the last stands for the tests outside the grid
	for !p.full() {
		if p.s.Proven(p.set) {
			p.commonest(p.set)
			return
		}
		if tests := p.showingAt(at); len(tests) > 0 {
			p.ask(tests[p.draw(len(tests))], p.draw(8) == 0)
		}
		at = (at + 1) % (points + 1)
	}
	p.any()
}

// showingAt lists the tests at a point that could show something: the suspects do not all answer alike, or a check is
// owed there. While the repair is not proven there is one somewhere.
func (p *player) showingAt(point int) []int {
	return slices.DeleteFunc(p.open(), func(t int) bool {
		at := p.c.lab.Tests[t].Point
		if at < 0 {
			at = len(p.c.lab.Points)
		}
		return at != point || !p.s.Tells(p.set, t)
	})
}

// guesser makes up to two tests that can tell nothing, if there are any, judges three of four rightly, and names any
// repair that the complaint allows.
func (p *player) guesser() {
	tests := slices.DeleteFunc(p.open(), func(t int) bool { return p.s.Tells(p.set, t) })
	for range min(p.draw(3), len(tests)) {
		at := p.draw(len(tests))
		p.ask(tests[at], p.draw(4) == 0)
		tests = slices.Delete(tests, at, at+1)
	}
	p.any()
}
