package scenarios

import (
	"math"
	"testing"

	"nospark/grading/isolation"
	"nospark/scenarios/draw"
)

// Three suspects with three repairs and two tests at one point, by hand: A (1 minute) tells the first from the others, B (2 minutes) the last
// from the others. Best play takes A first, 7/3 minutes on average, and needs one step for the first suspect and two for the others. A walk
// begins with A or with B, which loses 1/3 minute.
//
// With two lines in the record table, of 15 + 40 + 30 + 15 points: after A all lose only an eighth of the verdicts, 15/8. After B all have
// 30 x 7/3 / (7/3 + 1/3) = 26.25 for efficiency; the second and the last lose an eighth of the verdicts, the first has made two steps where
// one was needed, and of two verdicts none may be wrong: 15 x 49/64.
//
// With one line A proves the first and B the last as before. The others have half of the evidence, 40 x (1/2 + 1/2 x 1/4) for one of two
// repairs, and of the verdicts 15 x 7/8 for the half of the two steps they have done, the first nothing for none of one. Best play would
// still take 2 minutes after A and 1 after B, and the repair that is written costs a minute where it is wrong, every other time: for
// efficiency there is the mean of 30/2 x 7 / (7 + 6) and 30/2 x 7 / (7 + 6 + 3), or of 30/2 x 7 / (7 + 1 + 3) and 30/2 x 7 / (7 + 1 + 3 + 3).
func TestWalkByHand(t *testing.T) {
	l := &Lab{Points: []Point{{Number: 1}}, Tests: []Test{{ID: "a", Minutes: 10}, {ID: "b", Minutes: 20}},
		Hypotheses: []Hypothesis{{}, {}, {}}, Rubric: DefaultRubric(),
		Repairs: []Repair{{Minutes: 10}, {Minutes: 10}, {Minutes: 10}}}
	p := isolation.Problem{Weight: []int64{1, 1, 1}, Repair: []int{0, 1, 2}, Minutes: []int64{10, 20}, Band: [][]uint8{{0, 1, 1}, {0, 0, 1}}}
	s, err := isolation.New(p, isolation.Limits{})
	if err != nil {
		t.Fatal(err)
	}
	const proven = 100 - 15.0/8
	open, done := 7.5+25, 15*7.0/8
	afterA, afterB := (105.0/13+105.0/16)/2, (105.0/11+105.0/14)/2
	for _, c := range []struct {
		rows int
		a, b []walkTo // of each suspect, beginning with A and with B
	}{
		{2, []walkTo{{10, proven}, {30, proven}, {30, proven}}, []walkTo{{30, 55 + 26.25 + 15*49.0/64}, {30, 55 + 26.25 + done}, {20, 55 + 26.25 + done}}},
		{1, []walkTo{{10, proven}, {10, open + afterA + done/2}, {10, open + afterA + done/2}},
			[]walkTo{{20, open + afterB}, {20, open + afterB + done/2}, {20, 55 + 26.25 + done}}},
	} {
		l.Rows = c.rows
		for h, got := range l.walk(s, p, s.All()) {
			// About half of the walks begin with A: of 4,000 draws the share lies within four standard errors of that, 4 x 0.5 / sqrt(4000) < 0.04.
			a, b := c.a[h], c.b[h]
			if math.Abs(got.minutes-(a.minutes+b.minutes)/2) > 0.04*math.Abs(a.minutes-b.minutes)+1e-9 ||
				math.Abs(got.mark-(a.mark+b.mark)/2) > 0.04*math.Abs(a.mark-b.mark)+1e-9 {
				t.Errorf("%d lines, walk to %d: %+v, want about the mean of %+v and %+v", c.rows, h, got, a, b)
			}
		}
	}
	// Where nothing is to be told apart a walk is over before it begins.
	p.Repair = []int{7, 7, 7}
	if s, err = isolation.New(p, isolation.Limits{}); err != nil {
		t.Fatal(err)
	}
	for h, w := range l.walk(s, p, s.All()) {
		if w != (walkTo{0, 100}) {
			t.Errorf("walk to %d: %+v, want nothing to do", h, w)
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
	check("four and a half points", repairs(list(80, 80, 75.6, 75.6, 75.4), 0, 1, 2, 2, 2), 0, 1, 2, 3)
	check("three that are even", list(80, 80, 76, 70), 0, 1, 2)
	for key := range 20 {
		if got := fairest(list(80, 80, 76, 70), crowd{24, true}, 50, draw.New([]byte{byte(key)}, "test")); len(got) != 4 {
			t.Errorf("on a grid %d faults, neighbours need 4", len(got))
		}
	}
	check("repairs rather than faults", repairs(list(80, 80, 80, 80, 70, 71, 72), 0, 0, 0, 1, 2, 3, 4), 4, 5, 6)
	check("two repairs", repairs(list(80, 80, 80, 80, 70), 0, 0, 0, 1, 2), 0, 1, 2, 3)
	check("seven points rather than ten", repairs(list(80, 80, 73.5, 73.5, 70), 0, 1, 2, 2, 3), 0, 1, 2, 3)
	check("no choice", list(80, 74, 68, 60), 0, 1, 2, 3)
}
