package web

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"net/http"
	"net/url"
	"strings"
	"sync"
	"testing"

	"nospark/grading/attempt"
	"nospark/printouts/content"
	"nospark/scenarios/build"
	"nospark/scenarios/lab"
	"nospark/scenarios/pack"
	"nospark/scenarios/pack/packtest"
	"nospark/scenarios/roster"
	"nospark/scenarios/term"
)

// memory is a journal that forgets when the program ends.
type memory struct {
	mu     sync.Mutex
	events []attempt.Event
	fail   error
}

func (m *memory) Append(e attempt.Event) error {
	m.mu.Lock()
	defer m.mu.Unlock()
	if m.fail != nil {
		return m.fail
	}
	m.events = append(m.events, e)
	return nil
}

// builtOnce are labs that several tests share.
var builtOnce = sync.OnceValues(func() (*lab.Lab, error) { return buildLab("lamp", "", 6) })

// buildLab makes a lab of a built-in pack.
func buildLab(name, plan string, students int) (*lab.Lab, error) {
	source, err := pack.Source(name)
	if err != nil {
		return nil, err
	}
	in := build.Input{Key: term.Key{7}, PackFile: name + ".toml", Pack: string(source), Term: term.Term{ID: "web-test",
		Program: "Example", Paper: "letter", Rubric: term.DefaultRubric(), Mastery: term.DefaultMastery()}}
	in.Plan, err = term.ParsePlan("plans/week01.toml",
		fmt.Sprintf("title = \"A lab\"\ndate = 2026-10-05\npack = %q\n%s", name, plan))
	if err != nil {
		return nil, err
	}
	for i := range students {
		in.Students = append(in.Students, roster.Student{ID: fmt.Sprint(1001 + i), Name: fmt.Sprintf("Student %d", i+1),
			Section: "A"})
	}
	l, _, err := build.Lab(context.Background(), in)
	return l, err
}

// bench is one with a journal in memory, and the words that claim its sheets.
func bench(t testing.TB, l *lab.Lab) (*Bench, *memory) {
	t.Helper()
	m := &memory{}
	b, err := New(Config{Lab: l, Journal: m, Word: func(code string) string { return "word" + strings.ToLower(code) }})
	if err != nil {
		t.Fatal(err)
	}
	return b, m
}

func lampLab(t testing.TB) *lab.Lab {
	t.Helper()
	l, err := builtOnce()
	if err != nil {
		t.Fatal(err)
	}
	return l
}

// ask sends a request as a program does; form are names and values in turn.
func ask(b *Bench, sheet, method, path string, form ...string) Answer {
	v := url.Values{}
	for i := 0; i+1 < len(form); i += 2 {
		v.Set(form[i], form[i+1])
	}
	return b.Do(Request{Method: method, Path: path, Sheet: sheet, Form: v, JSON: true, At: 1000})
}

// into reads an answer.
func into[T any](t testing.TB, a Answer) (v T) {
	t.Helper()
	if err := json.Unmarshal(a.Body, &v); err != nil {
		t.Fatalf("%d %s: %v", a.Status, a.Body, err)
	}
	return v
}

func TestCommitThenLook(t *testing.T) {
	l := lampLab(t)
	b, m := bench(t, l)
	s := &l.Sheets[0]
	check := func(a Answer, status int, parts ...string) {
		t.Helper()
		if a.Status != status {
			t.Fatalf("status %d, want %d: %s", a.Status, status, a.Body)
		}
		for _, part := range parts {
			if !strings.Contains(string(a.Body), part) {
				t.Errorf("answer lacks %q: %s", part, a.Body)
			}
		}
	}
	check(ask(b, "", "GET", "/sheet"), http.StatusUnauthorized)
	check(ask(b, "", "POST", "/claim", "sheet", s.Code, "word", "wrong"), http.StatusForbidden)
	a := ask(b, "", "POST", "/claim", "sheet", strings.ToLower(s.Code), "word", "word"+s.Code)
	check(a, http.StatusSeeOther)
	if a.Claim != s.Code || a.Device != 1 || a.Location != "/sheet" {
		t.Fatalf("claim gives %+v", a)
	}
	check(ask(b, s.Code, "POST", "/steps", "key", "a", "test", l.Tests[0].ID, "expect", "12 V"), http.StatusCreated,
		fmt.Sprintf(`"step":1,"test":%q`, l.Tests[0].ID), fmt.Sprintf(`"line":%d,"letters":%q,"reading":%q`,
			s.Lines[0].Number, s.Lines[0].Letters, s.Lines[0].Reading))
	check(ask(b, s.Code, "POST", "/steps", "key", "a", "test", l.Tests[0].ID, "expect", "12 V"), http.StatusOK,
		`"step":1`)
	check(ask(b, s.Code, "POST", "/steps", "key", "a", "test", l.Tests[1].ID, "expect", "12 V"), http.StatusConflict,
		`"recorded":{"step":1`)
	check(ask(b, s.Code, "POST", "/steps", "key", "b", "test", l.Tests[1].ID, "expect", "12 V"), http.StatusConflict,
		"step 1")
	check(ask(b, s.Code, "POST", "/steps/1/verdict", "good", "none"), http.StatusOK, `"good":"none"`)
	check(ask(b, s.Code, "POST", "/steps", "key", "b", "test", l.Tests[1].ID, "expect", "12 V"), http.StatusCreated,
		`"step":2`)
	check(ask(b, s.Code, "POST", "/steps/1/verdict", "good", "yes"), http.StatusConflict)
	check(ask(b, s.Code, "POST", "/steps/2/verdict", "good", "maybe"), http.StatusBadRequest)
	check(ask(b, s.Code, "POST", "/steps/3/verdict", "good", "yes"), http.StatusNotFound)
	check(ask(b, s.Code, "POST", "/conclusion", "key", "z", "repair", "no such"), http.StatusBadRequest)
	check(ask(b, s.Code, "POST", "/conclusion", "key", "z", "repair", l.Repairs[0].Code, "reason", "it is dark"),
		http.StatusOK,
		l.Repairs[0].Code+l.Repairs[0].Letters)
	check(ask(b, s.Code, "POST", "/conclusion", "key", "y", "repair", l.Repairs[0].Code, "reason", "it is dark"),
		http.StatusConflict)
	check(ask(b, s.Code, "POST", "/steps", "key", "c", "test", l.Tests[1].ID, "expect", "12 V"), http.StatusConflict)
	check(ask(b, s.Code, "GET", "/debrief"), http.StatusForbidden)
	check(ask(b, s.Code, "GET", "/sheet"), http.StatusOK, `"state":"concluded"`)
	check(ask(b, s.Code, "DELETE", "/sheet"), http.StatusMethodNotAllowed)
	check(ask(b, s.Code, "GET", "/nothing"), http.StatusNotFound)
	if len(m.events) != 5 { // claim, two commits, verdict, conclusion
		t.Errorf("%d events: %+v", len(m.events), m.events)
	}
	again, err := attempt.After(m.events)
	if err != nil {
		t.Fatal(err)
	}
	if got, want := fmt.Sprintf("%+v", *again.Of(s.Code)), fmt.Sprintf("%+v", *b.room.Of(s.Code)); got != want {
		t.Errorf("the journal leads to\n%s\nand not to\n%s", got, want)
	}
}

// replayed is the room that a journal leads to.
func replayed(t testing.TB, m *memory) *attempt.Room {
	t.Helper()
	room, err := attempt.After(m.events)
	if err != nil {
		t.Fatal(err)
	}
	return room
}

// TestNothingWithoutTheJournal: a reading that cannot be journaled is not shown, and nothing of it stays.
func TestNothingWithoutTheJournal(t *testing.T) {
	l := lampLab(t)
	b, m := bench(t, l)
	s := &l.Sheets[0]
	m.fail = errors.New("no space left")
	a := ask(b, s.Code, "POST", "/steps", "key", "a", "test", l.Tests[0].ID, "expect", "x")
	if a.Status != http.StatusServiceUnavailable || strings.Contains(string(a.Body), s.Lines[0].Reading) {
		t.Errorf("%d %s", a.Status, a.Body)
	}
	if n := len(b.room.Of(s.Code).Steps); n != 0 {
		t.Errorf("%d steps", n)
	}
}

// TestDeskDecides: pause, taking back, release and close as a student meets them.
func TestDeskDecides(t *testing.T) {
	l := lampLab(t)
	b, m := bench(t, l)
	code := l.Sheets[0].Code
	status := func(want int, method, path string, form ...string) {
		t.Helper()
		if a := ask(b, code, method, path, form...); a.Status != want {
			t.Errorf("%s %s: status %d, want %d: %s", method, path, a.Status, want, a.Body)
		}
	}
	record := func(e attempt.Event) {
		t.Helper()
		if err := b.Record(e); err != nil {
			t.Fatal(err)
		}
	}
	first := []string{"key", "a", "test", l.Tests[0].ID, "expect", "x"}
	status(http.StatusCreated, "POST", "/steps", first...)
	record(attempt.Event{Kind: attempt.Pause, At: 1})
	status(http.StatusOK, "POST", "/steps", first...) // it was done before
	status(http.StatusLocked, "POST", "/steps/1/verdict", "good", "yes")
	record(attempt.Event{Kind: attempt.Resume, At: 2})
	status(http.StatusOK, "POST", "/steps/1/verdict", "good", "yes")
	record(attempt.Event{Kind: attempt.Void, Sheet: code, Step: 1, Reason: "wrong lead"})
	if a := ask(b, code, "GET", "/sheet"); !strings.Contains(string(a.Body), `"void":"wrong lead"`) ||
		!strings.Contains(string(a.Body), `"minutes":0,`) {
		t.Errorf("%s", a.Body)
	}
	b.Debrief(code, []content.Block{content.Title{Text: "Yours"}})
	status(http.StatusForbidden, "GET", "/debrief")
	before := b.Version(code)
	record(attempt.Event{Kind: attempt.Release})
	if b.Version(code) == before {
		t.Error("the release does not wake a page")
	}
	status(http.StatusForbidden, "GET", "/debrief") // it is still worked on
	status(http.StatusOK, "POST", "/conclusion", "key", "end", "repair", l.Repairs[0].Code)
	status(http.StatusOK, "GET", "/debrief")
	record(attempt.Event{Kind: attempt.Void, Sheet: code, Step: 0, Reason: "slipped"})
	status(http.StatusForbidden, "GET", "/debrief")
	record(attempt.Event{Kind: attempt.Close})
	status(http.StatusOK, "GET", "/debrief")
	record(attempt.Event{Kind: attempt.Release}) // the one thing that follows the close
	status(http.StatusLocked, "POST", "/steps", "key", "b", "test", l.Tests[0].ID, "expect", "x")
	if err := b.Record(attempt.Event{Kind: attempt.Pause}); err == nil {
		t.Error("something follows the close")
	}
	replayed(t, m)
}

// TestClaims: first come with the word, first served; others wait for the desk; too many wrong words shut the sheet,
// and no other.
func TestClaims(t *testing.T) {
	l := lampLab(t)
	b, _ := bench(t, l)
	code, other := l.Sheets[0].Code, l.Sheets[1].Code
	claim := func(at int64, want int, form ...string) Answer {
		t.Helper()
		v := url.Values{}
		for i := 0; i+1 < len(form); i += 2 {
			v.Set(form[i], form[i+1])
		}
		a := b.Do(Request{Method: "POST", Path: "/claim", Form: v, JSON: true, At: at})
		if a.Status != want {
			t.Errorf("claim %v: status %d, want %d", form, a.Status, want)
		}
		return a
	}
	right := "word" + code
	claim(0, http.StatusBadRequest)
	claim(0, http.StatusForbidden, "sheet", "ZZ-ZZZ", "word", "x")
	claim(0, http.StatusSeeOther, "sheet", code+" "+right) // as the strip's picture has it
	if a := claim(0, http.StatusAccepted, "sheet", code, "word", right); a.Claim != code {
		t.Errorf("%+v", a)
	}
	if device, err := b.Admit(code, 0); device != 2 || err != nil {
		t.Errorf("device %d, %v", device, err)
	}
	for range WrongWords {
		claim(100, http.StatusForbidden, "sheet", other, "word", "x")
	}
	claim(100, http.StatusTooManyRequests, "sheet", other, "word", "x")
	// The desk has to admit from now on, and nobody learns any more which word is right.
	wrong := claim(500, http.StatusTooManyRequests, "sheet", other, "word", "x")
	if right := claim(500, http.StatusTooManyRequests, "sheet", other, "word", "word"+other); string(right.Body) !=
		string(wrong.Body) {
		t.Errorf("a shut sheet tells right from wrong: %s, %s", right.Body, wrong.Body)
	}
	claim(100, http.StatusSeeOther, "sheet", l.Sheets[2].Code, "word", "word"+l.Sheets[2].Code)
	if !b.Active(code, 1) || b.Active(other, 1) {
		t.Error("who is signed in where?")
	}
	if device, err := b.Admit(other, 600); device != 1 || err != nil {
		t.Errorf("device %d, %v", device, err)
	}
	claim(0, http.StatusAccepted, "id", l.Sheets[3].Student)
	if a := claim(0, http.StatusAccepted, "id", "4711"); a.Claim != "" || a.Student != "4711" {
		t.Errorf("%+v", a)
	}
	b.Readmit(1000)
	claim(999, http.StatusSeeOther, "sheet", code, "word", right)
	claim(1001, http.StatusAccepted, "sheet", code, "word", right)
	for device := 1; device <= 3; device++ { // once all have left the word is enough again
		b.Do(Request{Method: "POST", Path: "/leave", Sheet: code, Device: device, JSON: true})
	}
	claim(2000, http.StatusSeeOther, "sheet", code, "word", right)
}

// TestFilesOfPages: what pages refer to is there, and says what it should.
func TestFilesOfPages(t *testing.T) {
	b, _ := bench(t, lampLab(t))
	for path, part := range map[string]string{StylePath: "--paper", TextStylePath: "--paper",
		ScriptPath: "EventSource"} {
		a := b.Do(Request{Method: "GET", Path: path})
		if a.Status != http.StatusOK || !strings.Contains(string(a.Body), part) {
			t.Errorf("%s: status %d, %d bytes without %q", path, a.Status, len(a.Body), part)
		}
	}
	if page := string(b.Do(Request{Method: "GET", Path: "/"}).Body); !strings.Contains(page, `href="`+StylePath+`"`) {
		t.Error("a page does not name its style sheet")
	}
}

// TestPageSizes: a page has at most 100 kB, whatever the pack; the bound is the project's own.
func TestPageSizes(t *testing.T) {
	for _, name := range packtest.Packs(t) {
		l, err := buildLab(name, "", 2)
		if err != nil {
			t.Fatal(err)
		}
		b, _ := bench(t, l)
		code := l.Sheets[0].Code
		for i := range 16 { // the lines of a record on paper
			ask(b, code, "POST", "/steps", "key", fmt.Sprint(i), "test", l.Tests[i%len(l.Tests)].ID, "expect",
				"battery voltage")
			ask(b, code, "POST", fmt.Sprintf("/steps/%d/verdict", i+1), "good", "none")
		}
		a := b.Do(Request{Method: "GET", Path: "/sheet", Sheet: code})
		t.Logf("%s: %d bytes", name, len(a.Body))
		if a.Status != http.StatusOK || len(a.Body) > 100_000 {
			t.Errorf("%s: status %d, %d bytes", name, a.Status, len(a.Body))
		}
	}
}
