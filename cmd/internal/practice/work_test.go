package practice

import (
	"encoding/json"
	"errors"
	"strings"
	"testing"

	"nospark/cmd/internal/web"
)

// reopened is the same file opened again with what p kept.
func reopened(t *testing.T, p *player, seed string) *player {
	t.Helper()
	shelves, err := shelvesOnce()
	if err != nil {
		t.Fatal(err)
	}
	return resumed(t, seed, p.kept, p.vehicle, shelves)
}

// TestVehicleInHandIsKept: a page that is loaded again goes on with the same vehicle, at the same step, at the same
// level, with the same readings, and then the same mark.
func TestVehicleInHandIsKept(t *testing.T) {
	p := newPlayer(t, "kept", "")
	p.do("POST", "/vehicle", "level", "guided", "stage", "horn silent")
	p.commit(3, p.right(3))
	p.commit(7, "no")
	sheet := p.do("GET", "/sheet")
	q := reopened(t, p, "other")
	q.want(q.do("GET", "/"), "Go on with vehicle "+p.g.now.Code)
	if q.g.before == nil {
		t.Error("fetched before it was asked for: the start would take longer")
	}
	if again := q.do("GET", "/sheet"); again != sheet {
		t.Errorf("the sheet after loading is not the one before:\n%s\n\nbefore:\n%s", again, sheet)
	}
	q.commit(0, q.right(0))
	r := reopened(t, q, "third") // and once more
	debrief := r.do("POST", "/conclusion", "key", "end", "repair", p.truth())
	r.want(debrief, "What was wrong")
	if n := len(r.g.log); n != 1 {
		t.Errorf("%d vehicles in the log, want 1", n)
	}
	s := reopened(t, r, "fourth")
	if strings.Contains(s.do("GET", "/"), "Go on with vehicle") {
		t.Error("a concluded vehicle is offered to go on with")
	}
	if again := s.do("GET", "/debrief"); again != debrief || len(s.g.log) != 1 {
		t.Errorf("the debrief after loading is not the one before, or was counted twice (%d):\n%s", len(s.g.log), again)
	}
	s.do("POST", "/leave")
	if s.vehicle != "" {
		t.Errorf("left, and still kept: %s", s.vehicle)
	}
}

// TestSameFaultIsKept: the fault that was asked for once more comes again too.
func TestSameFaultIsKept(t *testing.T) {
	p := newPlayer(t, "kept same", "")
	p.do("POST", "/vehicle", "level", "open", "stage", "horn silent")
	p.do("POST", "/conclusion", "key", "end", "repair", p.truth())
	p.do("POST", "/vehicle", "next", "same")
	q := reopened(t, p, "kept same too")
	q.do("GET", "/sheet")
	if q.g.now == nil || q.g.now.lab.Sheets[0].Truth != p.g.now.lab.Sheets[0].Truth || q.g.now.Sum != p.g.now.Sum {
		t.Error("another vehicle")
	}
}

// TestWhatIsKeptNamesNoFault: neither the fault nor its repair stands in what is kept, and not
// the number of its row.
func TestWhatIsKeptNamesNoFault(t *testing.T) {
	p := newPlayer(t, "plain view", "")
	for range 20 {
		p.do("POST", "/vehicle", "level", "open", "stage", "horn silent")
		p.commit(2, p.right(2))
		l := p.g.now.lab
		f := l.Faults[l.Hypotheses[l.Sheets[0].Truth].Fault]
		for _, word := range []string{f.ID, f.Label, l.Repairs[f.Repair].Label, p.truth()} {
			if strings.Contains(p.vehicle, word) {
				t.Errorf("%q stands in %s", word, p.vehicle)
			}
		}
		if !strings.Contains(p.vehicle, `"row":-1,`) {
			t.Errorf("a row stands in %s", p.vehicle)
		}
	}
}

// TestLoadedAgainInAnExam: loading the page again is no way out of an exam.
func TestLoadedAgainInAnExam(t *testing.T) {
	p := newPlayer(t, "kept exam", "")
	p.do("POST", "/vehicle", "level", "exam", "stage", "horn silent")
	p.commit(2, p.right(2))
	q := reopened(t, p, "a way out")
	q.do("POST", "/vehicle", "level", "exam", "stage", "horn silent")
	if len(q.g.log) != 1 || q.g.log[0].Proven || q.g.now.Code == p.g.now.Code {
		t.Errorf("log %v", q.g.log)
	}
}

// TestKeptByAnother: what another version or another hand wrote ends in words, never in another vehicle.
func TestKeptByAnother(t *testing.T) {
	p := newPlayer(t, "another", "")
	p.do("POST", "/vehicle", "level", "open", "stage", "horn silent")
	p.commit(2, p.right(2))
	good := p.vehicle
	spoil := func(change func(w *work)) string {
		w := new(work)
		if err := json.Unmarshal([]byte(good), w); err != nil {
			t.Fatal(err)
		}
		change(w)
		text, err := json.Marshal(w)
		if err != nil {
			t.Fatal(err)
		}
		return string(text)
	}
	for name, text := range map[string]string{
		"no JSON": "{",
		"stage":   spoil(func(w *work) { w.Stage = "nix nix" }),
		"seed":    spoil(func(w *work) { w.Seed[0]++ }),
		"short":   spoil(func(w *work) { w.Seed = w.Seed[1:] }),
		"sum":     spoil(func(w *work) { w.Sum = "" }),
		"row":     spoil(func(w *work) { w.Row = 4_000 }),
		"level":   spoil(func(w *work) { w.Level = "expert" }),
		"none":    spoil(func(w *work) { w.Level = "" }),
		"kind":    spoil(func(w *work) { w.Events[0].Kind = "release" }),
		"sheet":   spoil(func(w *work) { w.Events[0].Sheet = "x" }),
		"test":    spoil(func(w *work) { w.Events[0].Test = "nix" }),
		"order":   spoil(func(w *work) { w.Events = w.Events[1:] }),
	} {
		p.vehicle = text
		q := reopened(t, p, name)
		if page := q.do("GET", "/sheet"); !strings.Contains(page, "of last time is gone") || q.g.now != nil {
			t.Errorf("%s: went on with it:\n%s", name, page)
		}
		q.want(q.do("POST", "/vehicle", "level", "open", "stage", "horn silent"), "Next test")
	}
	p.vehicle = good
	if q := reopened(t, p, "good"); !strings.Contains(q.do("GET", "/sheet"), "Next test") {
		t.Error("what was not spoiled is gone too")
	}
}

// TestNothingCanBeKept: the sheet says so from its first page on.
func TestNothingCanBeKept(t *testing.T) {
	p := newPlayer(t, "no storage", "")
	p.fail = errors.New("no storage")
	p.want(p.do("POST", "/vehicle", "level", "open", "stage", "horn weak"), "do not load it again")
	p.fail = nil
	if strings.Contains(p.do("POST", "/vehicle", "level", "open", "stage", "horn weak"), "do not load it again") {
		t.Error("said where it is kept")
	}
}

// TestPrepared: pieces of work come to an end, with a vehicle ready of the stage that is chosen, which is the one that
// comes; and the vehicle in hand is left as it is.
func TestPrepared(t *testing.T) {
	p := newPlayer(t, "prepared", "")
	prepare := func(g *Game, stage string) {
		t.Helper()
		for n := 0; g.Prepare(stage); n++ {
			if n > 20 {
				t.Fatal("never done")
			}
		}
	}
	prepare(p.g, "horn silent")
	at := p.g.find("horn silent")
	spare := p.g.spares[at]
	if spare == nil || len(p.g.shelves) != 2 {
		t.Fatalf("spares %v, %d shelves", p.g.spares, len(p.g.shelves))
	}
	p.do("POST", "/vehicle", "level", "exam", "stage", "horn silent")
	if p.g.now != spare || p.g.now.Level != Exam || p.g.spares[at] != nil {
		t.Error("the vehicle that was ready did not come")
	}
	prepare(p.g, "")
	if p.g.now != spare || p.g.spares[at] == nil || p.g.spares[at] == spare {
		t.Error("no next vehicle is ready, or the one in hand was changed")
	}
	p.commit(2, p.right(2))
	q := reopened(t, p, "prepared again")
	prepare(q.g, "lamp lamp-weak-or-out")
	if q.g.before != nil || q.g.now == nil || q.g.now.Code != spare.Code {
		t.Error("the vehicle in hand was not prepared")
	}
	page := string(p.g.Do(web.Request{Method: "GET", Path: "/sheet"}).Body)
	if again := q.do("GET", "/sheet"); again != page {
		t.Error("another sheet after preparing")
	}
}
