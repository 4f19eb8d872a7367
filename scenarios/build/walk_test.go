package build

import (
	"math"
	"slices"
	"testing"

	"nospark/scenarios/draw"
	"nospark/scenarios/isolation"
	"nospark/scenarios/lab"
	"nospark/scenarios/term"
)

// Three suspects with repairs of 1, 2 and 4 minutes, and two tests, by hand: A (1 minute) at a point tells the first from the others, B
// (2 minutes) outside the grid the last from the others. Best play takes A first, 7/3 minutes on average, and needs one step for the first
// suspect and two for the others. A walk begins with A or with B, which loses 1/3 minute.
//
// With two lines in the record table, of 15 + 40 + 30 + 15 points: after A all lose only an eighth of the verdicts, 15/8. After B all have
// 30 x 7/3 / (7/3 + 1/3) = 26.25 for efficiency; the second and the last lose an eighth of the verdicts, the first has made two steps where
// one was needed, and of two verdicts none may be wrong: 15 x 49/64.
//
// With one line A proves the first and B the last as before. The others have half of the evidence, 40 x (1/2 + 1/2 x 1/4) for one of two
// repairs, and of the verdicts 15 x 7/8 for the half of the two steps they have done, the first nothing for none of one. Best play would
// still take 2 minutes after A and 1 after B, and every other time the other repair is written, which costs its minutes: the efficiency of
// the second after A is the mean of 30/2 x 7 / (7 + 6) and 30/2 x 7 / (7 + 6 + 3 x 4), and so on.
func TestWalkByHand(t *testing.T) {
	two := []lab.Band{{}, {}}
	l := &lab.Lab{Points: []lab.Point{{Number: 1}}, Tests: []lab.Test{{ID: "a", Minutes: 10, Bands: two}, {ID: "b", Minutes: 20, Point: -1, Bands: two}},
		Hypotheses: []lab.Hypothesis{{Weight: 1, Bands: "00"}, {Fault: 1, Weight: 1, Bands: "10"}, {Fault: 2, Weight: 1, Bands: "11"}},
		Faults:     []lab.Fault{{Repair: 0}, {Repair: 1}, {Repair: 2}},
		Repairs:    []lab.Repair{{Minutes: 10}, {Minutes: 20}, {Minutes: 40}}, Rubric: term.DefaultRubric()}
	const proven = 100 - 15.0/8
	open, done := 7.5+25, 15*7.0/8
	lost := func(thirds, wrong float64) float64 { return (105/(7+thirds) + 105/(7+thirds+3*wrong)) / 2 }
	for _, c := range []struct {
		rows int
		a, b []walkTo // of each suspect, beginning with A and with B
	}{
		{2, []walkTo{{10, proven}, {30, proven}, {30, proven}}, []walkTo{{30, 55 + 26.25 + 15*49.0/64}, {30, 55 + 26.25 + done}, {20, 55 + 26.25 + done}}},
		{1, []walkTo{{10, proven}, {10, open + lost(6, 4) + done/2}, {10, open + lost(6, 2) + done/2}},
			[]walkTo{{20, open + lost(4, 2)}, {20, open + lost(4, 1) + done/2}, {20, 55 + 26.25 + done}}},
	} {
		l.Rows = c.rows
		walks, err := walk(l, 0, 70.0/3, 70.0/3)
		if err != nil {
			t.Fatal(err)
		}
		for h, got := range walks {
			// About half of the walks begin with A: of 4,000 draws the share lies within four standard errors of that, 4 x 0.5 / sqrt(4000) < 0.04.
			a, b := c.a[h], c.b[h]
			if math.Abs(got.minutes-(a.minutes+b.minutes)/2) > 0.04*math.Abs(a.minutes-b.minutes)+1e-9 ||
				math.Abs(got.mark-(a.mark+b.mark)/2) > 0.04*math.Abs(a.mark-b.mark)+1e-9 {
				t.Errorf("%d lines, walk to %d: %+v, want about the mean of %+v and %+v", c.rows, h, got, a, b)
			}
		}
	}
	// Where nothing is to be told apart a walk is over before it begins.
	for f := range l.Faults {
		l.Faults[f].Repair = 1
	}
	walks, err := walk(l, 0, 0, 0)
	if err != nil {
		t.Fatal(err)
	}
	for h, w := range walks {
		if w != (walkTo{0, 100}) {
			t.Errorf("walk to %d: %+v, want nothing to do", h, w)
		}
	}
}

// TestWalkIsBounded: a lab with as many suspects as can be solved has to do with fewer walks, or, where best play is hard to find, with none.
func TestWalkIsBounded(t *testing.T) {
	const n = isolation.MaxHypotheses
	stream := draw.New([]byte("large"), "test")
	few := func(int, int) int { return max(0, stream.Intn(12)-9) } // stand out in a test
	half := func(h, t int) int { return h >> t & 1 }
	for _, c := range []struct {
		name  string
		tests int
		band  func(h, t int) int
		known bool
	}{{"hard", 80, few, false}, {"easy", 8, half, true}} {
		l := &lab.Lab{Rows: 12, Rubric: term.DefaultRubric()}
		for range c.tests {
			l.Points = append(l.Points, lab.Point{Number: len(l.Points) + 1})
			l.Tests = append(l.Tests, lab.Test{Point: len(l.Tests), Minutes: int64(5 + stream.Intn(40)), Bands: []lab.Band{{}, {}, {}}})
		}
		for h := range n {
			var bands []byte
			for t := range c.tests {
				bands = append(bands, byte('0'+c.band(h, t)))
			}
			l.Hypotheses = append(l.Hypotheses, lab.Hypothesis{Fault: h, Weight: int64(1 + stream.Intn(9)), Bands: string(bands)})
			l.Faults = append(l.Faults, lab.Fault{Repair: h})
			l.Repairs = append(l.Repairs, lab.Repair{Minutes: 100})
		}
		w, err := newWalker(l, 200)
		if err != nil {
			t.Fatal(err)
		}
		walks := w.all(slices.Collect(l.Suspects(0).All()), 200)
		if w.branches > mostBranches+4*n || len(w.values) > mostValues+4*n || w.solver.Work() > mostWalkNodes+2*mostNodesEach {
			t.Errorf("%s: %d branches, %d values, %d states", c.name, w.branches, len(w.values), w.solver.Work())
		}
		for h, got := range walks {
			if known := got != (walkTo{}); known != c.known || known && (got.minutes <= 0 || got.mark <= 40 || got.mark > 100) {
				t.Errorf("%s: walk to %d: %+v", c.name, h, got)
			}
		}
	}
}

// TestEvenOnAWalk: among faults that best play finds in the same time those are chosen for which a walk brings about the same mark.
func TestEvenOnAWalk(t *testing.T) {
	list := func(marks ...float64) []candidate {
		var all []candidate
		for i, m := range marks {
			all = append(all, candidate{hypothesis: i, fault: i, repair: i, minutes: 50, walk: walkTo{mark: m}})
		}
		return all
	}
	check := func(name string, all []candidate, want ...int) {
		t.Helper()
		seen := map[int]bool{}
		for key := range 20 {
			for _, c := range fairest(all, crowd{size: 24}, 50, draw.New([]byte{byte(key)}, "test")) {
				seen[c.fault] = true
			}
		}
		for _, f := range want {
			if !seen[f] {
				t.Errorf("%s: fault %d never comes", name, f)
			}
			delete(seen, f)
		}
		for f := range seen {
			t.Errorf("%s: fault %d comes", name, f)
		}
	}
	repairs := func(all []candidate, repairs ...int) []candidate {
		for i := range all {
			all[i].repair = repairs[i]
		}
		return all
	}
	check("four that are even", list(80, 80, 80, 80, 70, 70), 0, 1, 2, 3)
	check("two groups", list(80, 80, 80, 80, 70, 70, 70, 70), 0, 1, 2, 3, 4, 5, 6, 7)
	check("four points", list(80, 78, 76, 77, 75.9), 0, 1, 2, 3, 4)
	check("six rather than five that lie nearer together", list(80, 80, 80, 80, 80, 76, 90, 90, 90, 90, 90), 0, 1, 2, 3, 4, 5)
	check("five rather than four", list(80, 80, 80, 80, 78, 90, 90, 90, 90), 0, 1, 2, 3, 4)
	check("four and a half points", repairs(list(80, 80, 75.6, 75.6, 75.4), 0, 1, 2, 2, 2), 0, 1, 2, 3)
	check("three that are even", list(80, 80, 76, 70), 0, 1, 2)
	for key := range 20 {
		if got := fairest(list(80, 80, 76, 70), crowd{24, true}, 50, draw.New([]byte{byte(key)}, "test")); len(got) != 4 {
			t.Errorf("on a grid %d faults, neighbours need 4", len(got))
		}
	}
	check("repairs rather than faults", repairs(list(80, 80, 80, 80, 70, 71, 72), 0, 0, 0, 1, 2, 3, 4), 4, 5, 6)
	check("two repairs", repairs(list(80, 80, 80, 80, 70), 0, 0, 0, 1, 2), 0, 1, 2, 3)
	check("four and a half for three", list(80, 78, 75.6, 90, 100), 0, 1, 2)
	check("six of any", list(99, 90, 81, 72, 63, 54), 0, 1, 2, 3, 4, 5)
	check("seven points rather than ten", repairs(list(80, 80, 73.5, 73.5, 70), 0, 1, 2, 2, 3), 0, 1, 2, 3)
	check("no choice", list(80, 74, 68, 60), 0, 1, 2, 3)
}
