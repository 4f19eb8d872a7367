package attempt

import (
	"errors"
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"
)

// worked applies events to a room and wants each to be news.
func worked(t *testing.T, events ...Event) *Room {
	t.Helper()
	r, err := After(events)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func commit(key, test string) Event {
	return Event{Kind: Commit, Sheet: "A", Key: key, Test: test, Expect: "12 V"}
}

func verdict(step int, good Verdict) Event {
	return Event{Kind: Judge, Sheet: "A", Step: step, Good: good}
}

func conclusion(key, repair string) Event {
	return Event{Kind: Conclude, Sheet: "A", Key: key, Repair: repair, Reason: "why not"}
}

func TestWhatMayHappen(t *testing.T) {
	yes := func(string) bool { return true }
	no := func(string) bool { return false }
	check := func(before []Event, e Event, asks Asks, news bool, why Why) {
		t.Helper()
		got, err := worked(t, before...).Of("A").Check(e, asks)
		var refusal *Refusal
		switch {
		case why == "" && err != nil:
			t.Errorf("%+v: %v", e, err)
		case why != "" && (!errors.As(err, &refusal) || refusal.Why != why):
			t.Errorf("%+v: error %v, want %q", e, err, why)
		case got != news:
			t.Errorf("%+v: news %v", e, got)
		}
	}
	one := []Event{commit("k1", "a")}
	judged := append(one, verdict(1, Good))
	two := append(judged, commit("k2", "b"))
	done := append(two, conclusion("c", "12HM"))
	void := func(step int) Event { return Event{Kind: Void, Sheet: "A", Step: step, Reason: "wrong lead"} }

	check(nil, commit("k1", "a"), yes, true, "")
	check(one, commit("k1", "a"), yes, false, "")       // the same again
	check(one, commit("k1", "b"), yes, false, KeyUsed)  // a form that was used
	check(one, commit("k2", "b"), yes, false, Unjudged) // the reading waits
	check(one, commit("k2", "b"), no, true, "")         // nothing to judge
	check(append(one, void(1)), commit("k2", "b"), yes, true, "")
	check(append(one, verdict(1, Neither)), commit("k2", "b"), yes, true, "")
	check(judged, commit("k2", "a"), yes, true, "") // a test made before is an ordinary step
	check(judged, verdict(1, Bad), yes, true, "")   // changed while nothing followed
	check(judged, verdict(1, Good), yes, false, "")
	check(two, verdict(1, Bad), yes, false, Settled)
	check(two, verdict(1, Good), yes, false, "") // as it is recorded: the request came twice
	check(two, verdict(3, Good), yes, false, NoStep)
	check(two, verdict(0, Good), yes, false, NoStep)
	check(done, verdict(2, Good), yes, false, Settled)
	check(done, commit("k3", "c"), yes, false, Concluded)
	check(done, commit("k2", "b"), yes, false, "")
	check(done, commit("c", "b"), yes, false, KeyUsed)
	check(done, conclusion("c", "12HM"), yes, false, "")
	check(done, conclusion("c", "13JN"), yes, false, KeyUsed)
	check(done, conclusion("c2", "12HM"), yes, false, Concluded)
	check(two, conclusion("k1", "12HM"), yes, false, KeyUsed)
	reopened := append(done, void(0))
	check(reopened, commit("k3", "c"), no, true, "")
	check(reopened, conclusion("c", "12HM"), yes, false, "") // the old request came again: it stays taken back
	check(reopened, conclusion("c2", "13JN"), yes, true, "")
	check(nil, void(0), nil, false, NoStep)
	check(nil, void(1), nil, false, NoStep)
	check(append(one, void(1)), void(1), nil, false, "")

	check(nil, Event{Kind: Commit, Key: "k", Test: "a"}, yes, false, Wrong) // nothing expected
	check(nil, Event{Kind: Commit, Key: "k", Test: "a", Expect: strings.Repeat("é", 40)}, yes, true, "")
	check(nil, Event{Kind: Commit, Key: "k", Test: "a", Expect: strings.Repeat("é", 41)}, yes, false, Wrong)
	check(nil, Event{Kind: Commit, Test: "a", Expect: "x"}, yes, false, Wrong) // no key
	check(one, Event{Kind: Judge, Step: 1, Good: "maybe"}, yes, false, Wrong)
	check(one, Event{Kind: Judge, Step: 1}, yes, false, Wrong)
}

func TestVoidConclusionReopens(t *testing.T) {
	r := worked(t, commit("k1", "a"), conclusion("c", "12HM"), Event{Kind: Void, Sheet: "A",
		Reason: "slip of the finger"})
	a := r.Of("A")
	if a.Conclusion.Made() || len(a.Void) != 1 || a.Void[0].Void != "slip of the finger" || a.Void[0].Repair != "12HM" {
		t.Errorf("%+v", a)
	}
}

func TestNothingFollowsTheClose(t *testing.T) {
	r := worked(t, commit("k1", "a"), Event{Kind: Close})
	if err := r.Apply(verdict(1, Good)); err == nil {
		t.Error("a verdict after the close")
	}
	if err := NewRoom().Apply(Event{Kind: "dance"}); err == nil {
		t.Error("an event of no kind was taken")
	}
}

// TestPausesTakeNoTime: 100 seconds of the clock, of which 30 and 10 were pauses.
func TestPausesTakeNoTime(t *testing.T) {
	r := worked(t, Event{Kind: Start, At: 1000}, Event{Kind: Pause, At: 1020}, Event{Kind: Resume, At: 1050},
		Event{Kind: Pause, At: 1090}, Event{Kind: Pause, At: 1095})
	if r.Started != 1000 || r.Stopped != 30 || r.Paused != 1090 {
		t.Errorf("%+v", r)
	}
}

func TestDevices(t *testing.T) {
	in, out := Event{Kind: Claim, Sheet: "A"}, func(n int) Event { return Event{Kind: Leave, Sheet: "A", Device: n} }
	a := worked(t, in, in, out(1)).Of("A")
	if a.Active(1) || !a.Active(2) || a.Active(3) || a.Active(0) || a.Signed() != 1 {
		t.Errorf("%+v", a.Devices)
	}
	if news, _ := a.Check(out(1), nil); news {
		t.Error("a device that has left leaves again")
	}
}

// TestCopyStands: what happens later does not change a copy.
func TestCopyStands(t *testing.T) {
	r := worked(t, commit("k1", "a"))
	before := r.Of("A").Copy()
	if err := r.Apply(verdict(1, Bad)); err != nil {
		t.Fatal(err)
	}
	if before.Steps[0].Good != Unsaid || r.Of("A").Steps[0].Good != Bad {
		t.Error("the copy changed")
	}
}

func TestTidy(t *testing.T) {
	for text, want := range map[string]string{" 12 V ": "12 V", "a\nb\tc": "a b c", "\xff": "\uFFFD", "\u2028x": "x",
		"": ""} {
		if got := Tidy(text); got != want {
			t.Errorf("%q becomes %q, want %q", text, got, want)
		}
	}
}

// TestChecksAgreeWithEvents: whatever random events come, one that Check calls news is applied, any other is refused by
// Apply and changes nothing.
func TestChecksAgreeWithEvents(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	for range 300 {
		room := NewRoom()
		for range 40 {
			e := Event{Kind: []Kind{Commit, Commit, Judge, Judge, Conclude, Void, Claim, Leave}[r.IntN(8)], Sheet: "A",
				Key: fmt.Sprint(r.IntN(9)), Test: fmt.Sprint(r.IntN(3)), Expect: "x", Step: r.IntN(5),
				Device: r.IntN(4),
				Good:   []Verdict{Good, Bad, Neither}[r.IntN(3)], Repair: fmt.Sprint(r.IntN(2)), Reason: "y"}
			before := fmt.Sprintf("%+v", *room.Of("A"))
			news, err := room.Of("A").Check(e, nil)
			applied := room.Apply(e)
			if want := err == nil && news; (applied == nil) != want {
				t.Fatalf("%+v: check says %v, %v, apply says %v", e, news, err, applied)
			}
			if applied != nil && fmt.Sprintf("%+v", *room.Of("A")) != before {
				t.Fatalf("%+v was refused and changed the attempt", e)
			}
		}
	}
}
