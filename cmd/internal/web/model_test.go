package web

import (
	"fmt"
	"maps"
	"math/rand/v2"
	"net/url"
	"os"
	"slices"
	"strings"
	"sync"
	"testing"

	"nospark/grading/attempt"
	"nospark/scenarios/testrun"
)

// model is the bench for one sheet as a page of plain code says it: the oracle of the real one.
type model struct {
	steps []modelStep
	keys  map[string]string // what each key stands for
	end   string
}

type modelStep struct{ test, expect, good string }

// do gives the status that a program gets.
func (m *model) do(q Request, asks func(test string) bool) int {
	key := q.Form.Get("key")
	switch {
	case q.Path == "/steps":
		what := "step " + q.Form.Get("test") + " " + q.Form.Get("expect")
		if was, used := m.keys[key]; used {
			if strings.HasPrefix(was, what+" #") {
				return 200
			}
			return 409
		}
		if m.end != "" {
			return 409
		}
		if n := len(m.steps); n > 0 && m.steps[n-1].good == "" && asks(m.steps[n-1].test) {
			return 409
		}
		m.steps = append(m.steps, modelStep{q.Form.Get("test"), q.Form.Get("expect"), ""})
		m.keys[key] = what + fmt.Sprintf(" #%d", len(m.steps))
		return 201
	case q.Path == "/conclusion":
		what := "end " + q.Form.Get("repair") + " " + q.Form.Get("reason")
		if was, used := m.keys[key]; used {
			if was == what {
				return 200
			}
			return 409
		}
		if m.end != "" {
			return 409
		}
		m.end, m.keys[key] = q.Form.Get("repair"), what
		return 200
	}
	var n int
	fmt.Sscanf(q.Path, "/steps/%d/verdict", &n)
	if n < 1 || n > len(m.steps) {
		return 404
	}
	s := &m.steps[n-1]
	switch {
	case s.good == q.Form.Get("good"):
		return 200
	case n < len(m.steps) || m.end != "":
		return 409
	}
	s.good = q.Form.Get("good")
	return 200
}

// plan is a random sequence of what a client sends, duplicated, reordered and dropped as a network does.
func plan(r *rand.Rand, tests, repairs []string, sheet string) []Request {
	var sent []Request
	for i := range 3 + r.IntN(10) {
		q := Request{Method: "POST", Sheet: sheet, JSON: true, Form: url.Values{}}
		key := fmt.Sprint("k", i)
		if r.IntN(6) == 0 {
			key = fmt.Sprint("k", r.IntN(i+1)) // a form that was used
		}
		switch r.IntN(7) {
		case 0, 1, 2:
			q.Path = "/steps"
			q.Form.Set("key", key)
			q.Form.Set("test", tests[r.IntN(len(tests))])
			q.Form.Set("expect", "x")
		case 3, 4, 5:
			q.Path = fmt.Sprintf("/steps/%d/verdict", r.IntN(i+2))
			q.Form.Set("good", []string{"yes", "no", "none"}[r.IntN(3)])
		default:
			if r.IntN(3) > 0 {
				continue
			}
			q.Path = "/conclusion"
			q.Form.Set("key", key)
			q.Form.Set("repair", repairs[r.IntN(len(repairs))])
		}
		sent = append(sent, q)
	}
	var came []Request
	for _, q := range sent {
		for range []int{1, 1, 1, 2, 0}[r.IntN(5)] { // mostly once, sometimes twice, or never
			came = append(came, q)
		}
	}
	for i := 1; i < len(came); i++ {
		if r.IntN(5) == 0 {
			came[i-1], came[i] = came[i], came[i-1]
		}
	}
	return came
}

// sequences is how many random sequences are played: 10^4 in a whole run.
func sequences(t *testing.T) int {
	n := testrun.Times(t, 10_000, 1000)
	if text := os.Getenv("NOSPARK_SEQUENCES"); text != "" {
		fmt.Sscan(text, &n)
	}
	return n
}

// TestBenchEqualsItsModel: whatever comes twice, late or not at all, statuses and record are those of the sequential
// model, and what was journaled leads to the same record.
func TestBenchEqualsItsModel(t *testing.T) {
	l := lampLab(t)
	r := rand.New(rand.NewPCG(1, 2))
	var tests, repairs []string
	for _, x := range l.Tests {
		tests = append(tests, x.ID)
	}
	for _, x := range l.Repairs {
		repairs = append(repairs, x.Code+x.Letters)
	}
	for n := range sequences(t) {
		s := &l.Sheets[n%len(l.Sheets)]
		asks := func(test string) bool {
			for i, x := range l.Tests {
				if x.ID == test {
					return !x.Bands[s.Lines[i].Band].Silent
				}
			}
			return false
		}
		b := benches.get(t, n)
		m := &model{keys: map[string]string{}}
		for i, q := range plan(r, tests, repairs, s.Code) {
			want, got := m.do(q, asks), b.Do(q)
			if got.Status != want {
				t.Fatalf("sequence %d, request %d, %s %v: status %d, the model says %d: %s", n, i, q.Path, q.Form,
					got.Status, want, got.Body)
			}
		}
		a := b.room.Of(s.Code)
		if len(a.Steps) != len(m.steps) || a.Conclusion.Repair != m.end {
			t.Fatalf("sequence %d: %+v, the model has %+v", n, a, m)
		}
		for i, step := range a.Steps {
			if step.Test != m.steps[i].test || string(step.Good) != m.steps[i].good {
				t.Fatalf("sequence %d: %+v, the model has %+v", n, a, m)
			}
		}
	}
}

// benches gives each sequence a sheet on which nothing has happened: a fresh bench for every round of the class.
var benches benchPool

type benchPool struct{ b *Bench }

func (p *benchPool) get(t *testing.T, n int) *Bench {
	l := lampLab(t)
	if n%len(l.Sheets) == 0 || p.b == nil {
		p.b, _ = bench(t, l)
	}
	return p.b
}

// explained tells whether requests that came at once have an order in which the model gives each the status that it got
// and ends with the record that there is.
func explained(m *model, sent []Request, got []int, asks func(string) bool, ends func(*model) bool) bool {
	if len(sent) == 0 {
		return ends(m)
	}
	for i := range sent {
		next := &model{steps: slices.Clone(m.steps), keys: maps.Clone(m.keys), end: m.end}
		if next.do(sent[i], asks) == got[i] && explained(next, slices.Delete(slices.Clone(sent), i, i+1),
			slices.Delete(slices.Clone(got), i, i+1), asks, ends) {
			return true
		}
	}
	return false
}

// TestAtOnceEqualsSomeOrder: requests that come at the same time are answered as if they had come one after another.
func TestAtOnceEqualsSomeOrder(t *testing.T) {
	const most = 6 // at once: 720 orders
	l := lampLab(t)
	r := rand.New(rand.NewPCG(3, 4))
	var tests, repairs []string
	for _, x := range l.Tests {
		tests = append(tests, x.ID)
	}
	for _, x := range l.Repairs {
		repairs = append(repairs, x.Code+x.Letters)
	}
	var pool benchPool
	asked, taken := 0, 0
	for n := range sequences(t) {
		s := &l.Sheets[n%len(l.Sheets)]
		asks := func(test string) bool {
			i := slices.Index(tests, test)
			return i >= 0 && !l.Tests[i].Bands[s.Lines[i].Band].Silent
		}
		b := pool.get(t, n)
		sent := plan(r, tests, repairs, s.Code)
		sent = sent[:min(most, len(sent))]
		got := make([]int, len(sent))
		var all sync.WaitGroup
		for i, q := range sent {
			all.Go(func() { got[i] = b.Do(q).Status })
		}
		all.Wait()
		a := b.Attempt(s.Code)
		asked, taken = asked+len(sent), taken+len(a.Steps)
		ends := func(m *model) bool {
			return a.Conclusion.Repair == m.end && slices.EqualFunc(a.Steps, m.steps,
				func(x attempt.Step, y modelStep) bool { return x.Test == y.test && string(x.Good) == y.good })
		}
		if !explained(&model{keys: map[string]string{}}, sent, got, asks, ends) {
			t.Fatalf("sequence %d: no order explains %v for %+v", n, got, sent)
		}
	}
	if asked < sequences(t) || taken < sequences(t)/2 {
		t.Errorf("%d requests, %d steps: the test hardly looks", asked, taken)
	}
}

// TestConcurrentDevices: several devices of each sheet send the same requests at once. Some order must explain the
// record: no key made two steps, every acknowledged step is there under its number, and the journal leads to the same
// record.
func TestConcurrentDevices(t *testing.T) {
	l := lampLab(t)
	rounds := testrun.Times(t, 60, 10)
	for round := range rounds {
		b, m := bench(t, l)
		var all sync.WaitGroup
		var mu sync.Mutex
		told := map[string]map[int]string{} // by sheet, what each step was told to be
		for i := range l.Sheets {
			code := l.Sheets[i].Code
			told[code] = map[int]string{}
			for device := range 4 {
				r := rand.New(rand.NewPCG(uint64(round), uint64(i*10+device)))
				all.Go(func() {
					for k := range 12 {
						test := l.Tests[r.IntN(len(l.Tests))].ID
						a := ask(b, code, "POST", "/steps", "key", fmt.Sprint("k", k/2), "test", test, "expect", "x")
						if a.Status == 201 || a.Status == 200 {
							s := into[stepJSON](t, a)
							mu.Lock()
							if was, known := told[code][s.Step]; known && was != s.Test+s.Reading {
								t.Errorf("step %d of %s was told as %s and as %s", s.Step, code, was, s.Test+s.Reading)
							}
							told[code][s.Step] = s.Test + s.Reading
							mu.Unlock()
							ask(b, code, "POST", fmt.Sprintf("/steps/%d/verdict", s.Step), "good", "none")
						}
					}
				})
			}
		}
		all.Wait()
		again := replayed(t, m)
		for i := range l.Sheets {
			code := l.Sheets[i].Code
			a := b.room.Of(code)
			if got, want := fmt.Sprintf("%+v", *again.Of(code)), fmt.Sprintf("%+v", *a); got != want {
				t.Errorf("the journal leads to\n%s\nand not to\n%s", got, want)
			}
			if len(told[code]) != len(a.Steps) {
				t.Errorf("%d steps told, %d recorded", len(told[code]), len(a.Steps))
			}
			keys := map[string]bool{}
			for _, s := range a.Steps {
				if keys[s.Key] {
					t.Errorf("key %s made two steps", s.Key)
				}
				keys[s.Key] = true
			}
		}
	}
}
