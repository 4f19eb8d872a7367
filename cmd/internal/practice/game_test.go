package practice

import (
	"context"
	"crypto/sha256"
	"errors"
	"fmt"
	"math/rand/v2"
	"net/url"
	"slices"
	"strings"
	"sync"
	"testing"

	"nospark/cmd/internal/web"
	"nospark/cmd/internal/web/http"
	"nospark/grading/bestplay"
	"nospark/scenarios/lab"
	"nospark/scenarios/pack"
)

// shelvesOnce are small packs that several tests share.
var shelvesOnce = sync.OnceValues(func() ([]*Shelf, error) {
	var all []*Shelf
	for _, name := range []string{"lamp", "horn"} {
		text, err := pack.Source(name)
		if err != nil {
			return nil, err
		}
		s, err := NewShelf(context.Background(), name+".toml", text, func(int, int) {})
		if err != nil {
			return nil, err
		}
		all = append(all, s)
	}
	return all, nil
})

// stream gives random bytes that are the same in every run.
func stream(seed string) *rand.ChaCha8 { return rand.NewChaCha8(sha256.Sum256([]byte(seed))) }

// player plays a game by its pages.
type player struct {
	t             *testing.T
	g             *Game
	kept, vehicle string
	fail          error
	record        *record // nil for none
}

func newPlayer(t *testing.T, seed, log string) *player {
	t.Helper()
	shelves, err := shelvesOnce()
	if err != nil {
		t.Fatal(err)
	}
	return resumed(t, seed, log, "", shelves)
}

// resumed is a player with what was kept.
func resumed(t *testing.T, seed, log, vehicle string, shelves []*Shelf) *player {
	t.Helper()
	p := &player{t: t}
	c := Config{Random: stream(seed), Log: log, Vehicle: vehicle,
		KeepLog:     func(text string) error { p.kept = text; return p.fail },
		KeepVehicle: func(text string) error { p.vehicle = text; return p.fail }}
	for _, s := range shelves {
		c.Offers = append(c.Offers, s.Offer)
	}
	c.Load = func(i int) (*Shelf, error) {
		data, err := shelves[i].Encode()
		if err != nil {
			return nil, err
		}
		return Decode(data)
	}
	var err error
	if p.g, err = New(c); err != nil {
		t.Fatal(err)
	}
	return p
}

// do sends a request and follows to the page; form are names and values in turn.
func (p *player) do(method, path string, form ...string) string {
	p.t.Helper()
	values := url.Values{}
	for i := 0; i < len(form); i += 2 {
		values.Set(form[i], form[i+1])
	}
	a := p.ask(method, path, values)
	for n := 0; a.Status == http.StatusSeeOther; n++ {
		if n > 3 {
			p.t.Fatalf("%s %s: goes round in circles at %s", method, path, a.Location)
		}
		to, _, _ := strings.Cut(a.Location, "#")
		a = p.ask("GET", to, url.Values{})
	}
	return string(a.Body)
}

// ask is one request.
func (p *player) ask(method, path string, form url.Values) web.Answer {
	a := p.g.Do(web.Request{Method: method, Path: path, Form: form, At: 1_800_000_000}) // 2027-01-15
	if p.record != nil {
		p.record.note(method, path, form, a)
	}
	return a
}

// commit makes a step with a verdict, by index of the test.
func (p *player) commit(test int, good string) string {
	p.t.Helper()
	l := p.g.now.lab
	n := len(p.g.now.bench.Attempt(l.Sheets[0].Code).Steps) + 1
	page := p.do("POST", "/steps", "key", fmt.Sprint("k", n), "test", l.Tests[test].ID, "expect", "?")
	if good == "" {
		return page
	}
	return p.do("POST", fmt.Sprintf("/steps/%d/verdict", n), "good", good)
}

// right is the true verdict on a test.
func (p *player) right(test int) string {
	l := p.g.now.lab
	band := l.Tests[test].Bands[l.Sheets[0].Lines[test].Band]
	switch {
	case band.Silent:
		return "none"
	case band.Normal:
		return "yes"
	}
	return "no"
}

// best plays on to the proof and gives the code of the right repair.
func (p *player) best() string {
	p.t.Helper()
	l := p.g.now.lab
	s, err := bestplay.NewSuspects(l, l.Sheets[0].Complaint, nil, nil)
	if err != nil {
		p.t.Fatal(err)
	}
	for set := s.Start(&l.Sheets[0]); ; {
		test, more := s.Best(set)
		if !more {
			break
		}
		p.commit(test, p.right(test))
		set = s.After(set, test, l.Sheets[0].Lines[test].Band)
	}
	return p.truth()
}

// truth is the code of the right repair.
func (p *player) truth() string {
	l := p.g.now.lab
	r := l.Repairs[l.Faults[l.Hypotheses[l.Sheets[0].Truth].Fault].Repair]
	return r.Code + r.Letters
}

func (p *player) want(page string, words ...string) {
	p.t.Helper()
	for _, w := range words {
		if !strings.Contains(page, w) {
			p.t.Errorf("the page does not say %q:\n%s", w, page)
		}
	}
}

func TestGuidedVehicle(t *testing.T) {
	p := newPlayer(t, "guided", "")
	p.want(p.do("GET", "/"), "Practice at home", "no evidence of competence", "The horn does not sound.", "not begun",
		"next")
	page := p.do("POST", "/vehicle", "level", "guided", "stage", "horn silent")
	p.want(page, "Next test", "Leave this vehicle", "rings and watches")
	if strings.Contains(page, "What this step told") || strings.Contains(page, "instructor releases") {
		t.Error("said before anything was done")
	}
	page = p.commit(0, "")
	if strings.Contains(page, "What this step told") && p.right(0) != "none" {
		t.Error("feedback before the verdict gives the verdict away")
	}
	wrong := map[string]string{"yes": "no", "no": "yes", "none": "none"}[p.right(0)]
	page = p.do("POST", "/steps/1/verdict", "good", wrong)
	p.want(page, "What this step told")
	if wrong != "none" {
		p.want(page, "Your verdict is <strong>wrong</strong>", "specification")
	}
	code := p.best()
	p.want(p.do("GET", "/sheet"), "the repair is proven. Conclude.")
	p.want(p.do("POST", "/conclusion", "key", "end", "repair", code, "reason", "because"), "What was wrong",
		"What next?", "right")
	p.want(p.kept, Notice, " horn silent guided ", " proven\n", "2027-01-15")
	if s := p.g.log.standing("horn", p.stage("horn silent")); s.Exams != 0 {
		t.Error("a guided vehicle counts toward mastering")
	}
}

func (p *player) stage(name string) Stage {
	at := p.g.find(name)
	return p.g.c.Offers[at.offer].Stages[at.stage]
}

func TestSameFaultAgain(t *testing.T) {
	p := newPlayer(t, "again", "")
	p.do("POST", "/vehicle", "level", "exam", "stage", "lamp lamp-weak-or-out")
	truth, code := p.g.now.lab.Sheets[0].Truth, p.g.now.lab.Sheets[0].Code
	p.do("POST", "/conclusion", "key", "end", "repair", p.best())
	page := p.do("POST", "/vehicle", "next", "same")
	p.want(page, "Next test")
	if now := p.g.now.lab.Sheets[0]; now.Truth != truth || now.Code == code {
		t.Errorf("the same fault on another vehicle: row %d for %d, sheet %s after %s", now.Truth, truth, now.Code,
			code)
	}
	if p.g.now.Level == Exam {
		t.Error("an exam on a fault that was told")
	}
	p.do("POST", "/conclusion", "key", "end", "repair", p.truth())
	p.do("POST", "/vehicle", "next", "other")
	if p.g.now.result != nil || p.g.number != 3 {
		t.Error("no new vehicle")
	}
}

// TestMastering: four of the last five exams proven on enough faults, by the numbers of the rule of a term
// (scenarios/term).
func TestMastering(t *testing.T) {
	p := newPlayer(t, "master", "")
	stage := p.stage("lamp lamp-weak-or-out")
	for n := 0; !p.g.log.standing("lamp", stage).Mastered; n++ {
		if n > 60 {
			t.Fatalf("60 proven exams and not mastered: %+v", p.g.log.standing("lamp", stage))
		}
		p.do("POST", "/vehicle", "level", "exam", "stage", "lamp lamp-weak-or-out")
		p.do("POST", "/conclusion", "key", "end", "repair", p.best())
	}
	p.want(p.do("GET", "/"), "mastered")
	if n := len(p.g.log); n < Rule().Met {
		t.Errorf("mastered after %d vehicles", n)
	}
	p.do("POST", "/vehicle", "level", "exam", "stage", "lamp lamp-weak-or-out")
	p.do("POST", "/leave") // nothing was done yet
	before := len(p.g.log)
	for range 2 {
		p.do("POST", "/vehicle", "level", "exam", "stage", "lamp lamp-weak-or-out")
		p.commit(0, p.right(0))
		p.do("POST", "/leave")
	}
	if got := p.g.log[before:]; len(got) != 2 || got[0].Proven || got[1].Proven {
		t.Errorf("two exams were left: %v", got)
	}
	if s := p.g.log.standing("lamp", stage); s.Mastered {
		t.Errorf("three of five are mastered: %+v", s)
	}
}

func TestStanding(t *testing.T) {
	stage := Stage{Complaint: "c", Faults: 5}
	check := func(log string, want Standing) {
		t.Helper()
		var l Log
		for _, f := range strings.Fields(log) {
			l = append(l, Entry{Pack: "p", Stage: "c", Level: Exam, Fault: strings.ToLower(f),
				Proven: f == strings.ToUpper(f)})
		}
		got := l.standing("p", stage)
		got.Last, want.Needed = nil, 3
		if fmt.Sprint(got) != fmt.Sprint(want) {
			t.Errorf("%q: %+v, want %+v", log, got, want)
		}
	}
	check("", Standing{})
	check("A B C", Standing{Exams: 3, Met: 3, Faults: 3})
	check("A B C A", Standing{Exams: 4, Met: 4, Faults: 3, Mastered: true})
	check("A B A B", Standing{Exams: 4, Met: 4, Faults: 2}) // too few faults
	check("A B x C A", Standing{Exams: 5, Met: 4, Faults: 3, Mastered: true})
	check("A B x C x", Standing{Exams: 5, Met: 3, Faults: 3})
	check("C A B A B A", Standing{Exams: 6, Met: 5, Faults: 2}) // C is too long ago
}

func TestLogThereAndBack(t *testing.T) {
	p := newPlayer(t, "log", "")
	p.do("POST", "/vehicle", "level", "open", "stage", "horn weak")
	p.do("POST", "/conclusion", "key", "end", "repair", p.truth())
	p.want(p.do("GET", "/progress"), Notice, "horn weak open", "not-proven")
	again := newPlayer(t, "other", p.kept)
	if len(again.g.log) != 1 || again.g.log[0] != p.g.log[0] {
		t.Errorf("%v came back as %v", p.g.log, again.g.log)
	}
	p.want(p.do("POST", "/progress", "log", "nothing of this kind"), "Nothing was brought back")
	p.want(p.do("POST", "/progress", "log", p.kept+"junk\n"), "1 vehicle was brought back", "1 line could not be read")
	p.do("POST", "/forget")
	if len(p.g.log) != 0 || strings.Contains(p.kept, "horn") {
		t.Error("not forgotten")
	}
	p.fail = errors.New("no storage")
	p.do("POST", "/vehicle", "level", "open", "stage", "horn weak")
	p.want(p.do("POST", "/conclusion", "key", "end", "repair", p.truth()), "keeps nothing")
	p.want(p.do("GET", "/progress"), "keeps nothing", "horn weak open")
}

func FuzzParseLog(f *testing.F) {
	f.Add("2027-01-15 horn silent exam fuse-open 83.2 proven\n# x\n")
	f.Add("2027-01-15 horn silent exam fuse-open NaN proven")
	f.Fuzz(func(t *testing.T, text string) {
		l, _ := ParseLog(text)
		again, strange := ParseLog(l.Text())
		if strange != 0 || len(again) != len(l) {
			t.Errorf("%q: %v came back as %v", text, l, again)
		}
	})
}

// TestWhatIsNotThere: every request has an answer, whatever was done before.
func TestWhatIsNotThere(t *testing.T) {
	p := newPlayer(t, "strange", "")
	p.want(p.do("GET", "/sheet"), "Practice at home")
	p.want(p.do("POST", "/vehicle", "next", "same"), "Choose what to practice")
	p.want(p.do("POST", "/vehicle", "stage", "nix"), "Choose what to practice")
	p.do("POST", "/vehicle", "stage", "horn silent")
	p.want(p.do("GET", "/debrief"), "not released")
	p.want(p.do("GET", "/nix"), "no such page")
	p.want(p.do("POST", "/steps", "key", "k", "test", "nix", "expect", "?"), "no such test")
	p.want(p.do("GET", "/"), "Go on with vehicle")
}

// TestShelfHoldsNothingOfAClass: no sheet, no student, no seal, the published key and no other term than practice.
func TestShelfHoldsNothingOfAClass(t *testing.T) {
	shelves, err := shelvesOnce()
	if err != nil {
		t.Fatal(err)
	}
	if !testing.Short() {
		large, err := largeOnce()
		if err != nil {
			t.Fatal(err)
		}
		shelves = append(slices.Clone(shelves), large)
	}
	for _, s := range shelves {
		f := s.Frames[0].Lab
		if s.Frames[1] != nil {
			with := s.Frames[1].Lab
			if with.Term != f.Term || with.Program != f.Program || with.Name != f.Name || len(with.Sheets) > 0 ||
				with.Seal != "" {
				t.Errorf("pack %s with the oscilloscope: term %q, lab %q", s.Offer.Pack, with.Term, with.Name)
			}
		}
		if f.Term != "practice" || f.Program != program || f.Name != "practice" || len(f.Sheets) > 0 || f.Seal != "" {
			t.Errorf("pack %s: term %q, program %q, lab %q, %d sheets, seal %q", s.Offer.Pack, f.Term, f.Program,
				f.Name, len(f.Sheets), f.Seal)
		}
		for i := range s.Parts {
			stock, err := s.stock(i)
			if err != nil {
				t.Fatal(err)
			}
			k := key()
			var ids []string
			for _, r := range stock.Lab.Repairs {
				ids = append(ids, r.ID)
			}
			signs := lab.RepairSigns(stock.Lab.Pack.Name, ids, k[:])
			for j, r := range stock.Lab.Repairs {
				if r.Letters != signs[j].Letters {
					t.Errorf("pack %s: repair %s has letters of another key", s.Offer.Pack, r.Code)
				}
			}
		}
	}
}
