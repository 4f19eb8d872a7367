package scenarios

import (
	"math"
	"testing"

	"nospark/grading/isolation"
	"nospark/scenarios/draw"
)

// Three suspects with three repairs and two tests at one point, by hand: A (1 minute) tells the first from the others, B (2 minutes) the last
// from the others. A walk begins with either. With A the first is proven after 1 minute, the others after 3; with B the last after 2, the
// others after 3. So the means are 2.0, 3.0 and 2.5 minutes, and of a table of one line half of the walks to the first and the last outrun
// it and all of those to the second.
func TestWalkByHand(t *testing.T) {
	l := &Lab{Rows: 1, Points: []Point{{Number: 1}}, Tests: []Test{{ID: "a", Minutes: 10}, {ID: "b", Minutes: 20}},
		Hypotheses: []Hypothesis{{}, {}, {}}}
	p := isolation.Problem{Weight: []int64{1, 1, 1}, Repair: []int{0, 1, 2}, Minutes: []int64{10, 20}, Band: [][]uint8{{0, 1, 1}, {0, 0, 1}}}
	s, err := isolation.New(p, isolation.Limits{})
	if err != nil {
		t.Fatal(err)
	}
	got := l.walk(s, p, s.All())
	for h, want := range []walkTo{{20, 0.5}, {30, 1}, {25, 0.5}} {
		// The mean of 200 draws of one of two values 10 to 20 apart is within 4 standard errors of the true one: 4 x 10 / sqrt(200) < 3.
		if math.Abs(got[h].minutes-want.minutes) > 3 || math.Abs(got[h].outrun-want.outrun) > 0.15 {
			t.Errorf("walk to %d: %+v, want about %+v", h, got[h], want)
		}
	}
	// Where nothing is to be told apart a walk is over before it begins.
	p.Repair = []int{7, 7, 7}
	if s, err = isolation.New(p, isolation.Limits{}); err != nil {
		t.Fatal(err)
	}
	for h, w := range l.walk(s, p, s.All()) {
		if w != (walkTo{}) {
			t.Errorf("walk to %d: %+v, want nothing", h, w)
		}
	}
}

// TestEvenOnAWalk: among faults that best play finds in the same time those are chosen that a walk finds in about the same time.
func TestEvenOnAWalk(t *testing.T) {
	list := func(walks ...walkTo) []candidate {
		var all []candidate
		for i, w := range walks {
			all = append(all, candidate{hypothesis: i, fault: i, repair: i, minutes: 50, walk: w})
		}
		return all
	}
	check := func(name string, all []candidate, want ...int) {
		t.Helper()
		seen := map[int]bool{}
		for key := range 20 {
			for _, c := range fairest(all, 24, 50, draw.New([]byte{byte(key)}, "test")) {
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
	near, far := walkTo{100, 0}, walkTo{200, 0}
	check("four that are even", list(near, near, near, near, far, far), 0, 1, 2, 3)
	check("two groups", list(near, near, near, near, far, far, far, far), 0, 1, 2, 3, 4, 5, 6, 7)
	check("two fifths more", list(near, walkTo{120, 0}, walkTo{140, 0}, walkTo{130, 0}, walkTo{141, 0}), 0, 1, 2, 3, 4)
	check("a full record table", list(near, near, near, near, walkTo{100, 0.3}), 0, 1, 2, 3)
	check("twice as long rather than thrice", list(near, near, far, far, walkTo{300, 0}), 0, 1, 2, 3)
	check("no choice", list(near, near, far, walkTo{500, 0}), 0, 1, 2, 3)
	// Two windows of four in the last but one: with at least one of the second group the first group's repairs would not do.
	few := list(near, near, near, near, near, far)
	for i := range few {
		few[i].repair = i % 2
	}
	few[5].repair = 2
	check("repairs enough, if only loosely even", few, 0, 1, 2, 3, 4, 5)
}
