package isolation

import "testing"

// Whatever the limit, brackets hold the true value, best play can go on to the end, and enough is enough.
func TestBracketsAreHonest(t *testing.T) {
	open := 0
	for seed := range uint64(2) {
		p := circuit(seed, 36, 100)
		sure := solver(t, p, Limits{})
		check := func(limits Limits) {
			t.Helper()
			s := solver(t, p, limits)
			s.leafRows = 6
			for test := -1; test < len(p.Minutes); test += 20 {
				want, got := sure.Value(sure.All()), s.Value(s.All())
				if test >= 0 {
					want, got = sure.Cost(sure.All(), test), s.Cost(s.All(), test)
				}
				if !want.Proven() || got.Low > want.Low || got.High < want.High {
					t.Fatalf("seed %d, limits %+v, test %d: bracket %v, true value %v", seed, limits, test, got, want)
				}
				if !got.Proven() {
					open++
				}
			}
			for h := 0; h < len(p.Weight); h += 9 {
				set := s.All()
				for steps := 0; ; steps++ {
					test, more := s.Best(set)
					if !more {
						break
					}
					if !s.Splits(set, test) {
						t.Fatalf("seed %d, limits %+v: best test %d tells nothing on %v", seed, limits, test, set)
					}
					set = s.After(set, test, p.Band[test][h])
				}
				if !s.Done(set) {
					t.Fatalf("seed %d, limits %+v: stops at %v", seed, limits, set)
				}
			}
		}
		for _, nodes := range []int64{1, 20, 400} {
			check(Limits{Nodes: nodes})
		}
		check(Limits{Bytes: 1})
		check(Limits{Bytes: 200_000})
		check(Limits{Nodes: 300, Bytes: 100_000})
		if got := solver(t, p, Limits{Nodes: 1 << 40,
			Bytes: 1 << 40}).Value(sure.All()); got != sure.Value(sure.All()) {
			t.Errorf("seed %d: value %v within ample limits", seed, got)
		}
	}
	if open == 0 {
		t.Error("no limit was ever reached")
	}
}

// A question that ran out of nodes leaves what it learned: asking again gets there in the end.
func TestAskingAgainGoesOn(t *testing.T) {
	p := circuit(2, 40, 150)
	want := solver(t, p, Limits{})
	s := solver(t, p, Limits{Nodes: 50})
	rounds := 1
	for ; !s.Value(s.All()).Proven(); rounds++ {
		if rounds == 1000 {
			t.Fatal("no proof in 1000 rounds of 50 nodes")
		}
	}
	if rounds == 1 {
		t.Error("50 nodes were enough at once")
	}
	if got := s.Value(s.All()); got != want.Value(want.All()) {
		t.Errorf("value %v, want %v", got, want.Value(want.All()))
	}
}
