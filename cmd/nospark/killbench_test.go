//go:build unix

package main

import (
	"bufio"
	"encoding/json"
	"fmt"
	"io"
	"math/rand/v2"
	"net"
	"net/http"
	"net/http/cookiejar"
	"net/url"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"

	"nospark/cmd/internal/web"
	"nospark/grading/attempt/journal"
	"nospark/scenarios/lab"
	"nospark/scenarios/term"
	"nospark/scenarios/testrun"
)

// benchTerm is a term with a lab of a pack, its folder, and the words that claim its sheets.
func benchTerm(t testing.TB, plan string, students int) (folder string, l *lab.Lab, g *graded) {
	t.Helper()
	dir, _ := schoolTerm(t, 1)
	put(t, filepath.Join(dir, term.RosterFile), classList(students))
	put(t, filepath.Join(dir, "plans", "week01.toml"), plan)
	nospark(t, "build", filepath.Join(dir, "plans", "week01.toml"))
	folder = filepath.Join(dir, "labs", "week01")
	g, err := openLab(folder)
	if err != nil {
		t.Fatal(err)
	}
	return folder, g.lab, g
}

// openBench is nospark serve in a process of its own.
type openBench struct {
	cmd         *exec.Cmd
	Class, Desk string
	link        string // to the desk
}

// startServe starts it and waits until it is ready, which takes no more than 3 seconds on a machine that has time.
func startServe(t testing.TB, folder, address string, more ...string) *openBench {
	t.Helper()
	cmd, said := process(t, append([]string{"serve", folder, "--address", address, "--json", "--pin", "4711"},
		more...)...)
	cmd.Stdout = nil
	out, err := cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	errs, pipe := io.Pipe()
	cmd.Stderr = pipe
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	s := &openBench{cmd: cmd}
	links := make(chan string, 1)
	go func() {
		for lines := bufio.NewScanner(errs); lines.Scan(); {
			if rest, is := strings.CutPrefix(lines.Text(), "desk   "); is {
				links <- strings.Fields(rest)[0]
			}
			fmt.Fprintln(said, lines.Text())
		}
	}()
	line, err := bufio.NewReader(out).ReadString('\n')
	if err != nil {
		cmd.Process.Kill()
		t.Fatalf("serve: %v: %s", err, said.String())
	}
	if err := json.Unmarshal([]byte(line), s); err != nil {
		t.Fatalf("serve says %q: %v", line, err)
	}
	s.link = <-links
	return s
}

func (s *openBench) kill() {
	s.cmd.Process.Kill()
	s.cmd.Wait()
}

// phone is a student's device.
type phone struct {
	client *http.Client
	base   string
}

func newPhone(base string) *phone {
	jar, _ := cookiejar.New(nil) // no options, no error
	return &phone{&http.Client{Jar: jar, Timeout: 10 * time.Second,
		CheckRedirect: func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse }}, base}
}

// ask sends a form, or without one asks for a page, and decodes the answer.
func (p *phone) ask(path string, form url.Values, into any) (int, error) {
	method, body := http.MethodGet, ""
	if form != nil {
		method, body = http.MethodPost, form.Encode()
	}
	r, err := http.NewRequest(method, p.base+path, strings.NewReader(body))
	if err != nil {
		return 0, err
	}
	r.Header.Set("Accept", "application/json")
	r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	a, err := p.client.Do(r)
	if err != nil {
		return 0, err
	}
	defer a.Body.Close()
	data, err := io.ReadAll(a.Body)
	if err != nil {
		return 0, err
	}
	if into != nil && a.StatusCode < 300 {
		err = json.Unmarshal(data, into)
	}
	return a.StatusCode, err
}

// shownStep is what a phone was told.
type shownStep struct {
	Step    int
	Test    string
	Reading string
	Good    string
}

// TestBenchKilledUnderLoad kills the bench at random moments while phones commit, and starts it again on the same
// address: every reading that was shown has its line in the journal, and every phone goes on with its cookie where it
// was. NOSPARK_BENCH_KILLS sets how many times; CI does it 50 times.
func TestBenchKilledUnderLoad(t *testing.T) {
	testrun.Slow(t, "kills benches")
	kills := 4
	switch text := os.Getenv("NOSPARK_BENCH_KILLS"); {
	case text != "":
		n, err := strconv.Atoi(text)
		if err != nil {
			t.Fatal(err)
		}
		kills = n
	case os.Getenv("CI") == "true":
		kills = 50
	}
	folder, l, g := benchTerm(t, "title = \"A lamp\"\ndate = 2026-09-07\npack = \"lamp\"\n", 8)
	s := startServe(t, folder, "127.0.0.1:0")
	defer func() { s.kill() }()
	address := strings.TrimPrefix(s.Class, "http://")
	phones := make([]*phone, len(l.Sheets))
	shown := make([]map[int]shownStep, len(l.Sheets))
	enter := func() {
		for i := range l.Sheets {
			phones[i], shown[i] = newPhone(s.Class), map[int]shownStep{}
			code := l.Sheets[i].Code
			form := url.Values{"sheet": {code}, "word": {claimWord(g.key, l.Name, code)}}
			if status, err := phones[i].ask("/claim", form, nil); status != http.StatusSeeOther {
				t.Fatalf("claim: %d, %v", status, err)
			}
		}
	}
	enter()
	r := rand.New(rand.NewPCG(8, 9))
	acknowledged, quiet, slowest := 0, 0, time.Duration(0)
	count := func() (n int) {
		for _, steps := range shown {
			n += len(steps)
		}
		return n
	}
	for kill := range kills {
		if count() > len(l.Sheets)*120 { // a new class, before the records are full: each kill comes under load
			acknowledged += count()
			s.kill()
			if err := os.Remove(filepath.Join(folder, filepath.FromSlash(journal.File))); err != nil {
				t.Fatal(err)
			}
			s = startServe(t, folder, address)
			enter()
		}
		before := count()
		var all sync.WaitGroup
		for i, p := range phones {
			own := rand.New(rand.NewPCG(uint64(kill), uint64(i)))
			all.Go(func() {
				for {
					var step shownStep
					n := len(shown[i]) + 1
					if n > 190 { // the record is nearly full
						return
					}
					// The key says which step is meant: after a kill the same request comes again.
					form := url.Values{"key": {fmt.Sprint("step ", n)}, "test": {l.Tests[(n*7+i)%len(l.Tests)].ID},
						"expect": {"x"}}
					status, err := p.ask("/steps", form, &step)
					if err != nil {
						return // killed
					}
					if status != http.StatusCreated && status != http.StatusOK || step.Step != n {
						t.Errorf("phone %d, step %d: status %d, %+v", i, n, status, step)
						return
					}
					shown[i][n] = step
					if _, err := p.ask(fmt.Sprintf("/steps/%d/verdict", n), url.Values{"good": {"none"}},
						nil); err != nil {
						return
					}
					time.Sleep(time.Duration(own.IntN(4)) * time.Millisecond)
				}
			})
		}
		time.Sleep(time.Duration(20+r.IntN(150)) * time.Millisecond)
		s.kill()
		all.Wait()
		if count() == before {
			quiet++
		}
		c, err := journal.Read(folder, g.journalOf())
		if err != nil {
			t.Fatal(err)
		}
		for i := range l.Sheets {
			steps := c.Room.Of(l.Sheets[i].Code).Steps
			for n, step := range shown[i] {
				if n > len(steps) || steps[n-1].Test != step.Test {
					t.Fatalf("kill %d: step %d of sheet %s was shown and is not in the journal", kill, n,
						l.Sheets[i].Code)
				}
			}
		}
		began := time.Now()
		s = startServe(t, folder, address)
		slowest = max(slowest, time.Since(began))
		for i, p := range phones {
			var now struct{ Steps []shownStep }
			if status, err := p.ask("/sheet", nil, &now); status != http.StatusOK || err != nil {
				t.Fatalf("kill %d: phone %d is signed out: %d, %v", kill, i, status, err)
			}
			for n, step := range shown[i] {
				if n > len(now.Steps) || now.Steps[n-1].Test != step.Test || now.Steps[n-1].Reading != step.Reading {
					t.Fatalf("kill %d: phone %d, step %d is lost", kill, i, n)
				}
			}
			for _, step := range now.Steps {
				if step.Good == "" { // a verdict that was on its way
					p.ask(fmt.Sprintf("/steps/%d/verdict", step.Step), url.Values{"good": {"none"}}, nil)
				}
			}
		}
	}
	acknowledged += count()
	if quiet > kills/4 {
		t.Errorf("%d of %d kills came before anything was committed: the test hardly looks", quiet, kills)
	}
	t.Logf("%d kills, %d of them before a commit, %d acknowledged commits, 0 lost; slowest start %v", kills, quiet,
		acknowledged, slowest)
	if slowest > 3*time.Second && os.Getenv("CI") == "" {
		t.Logf("ready in more than 3 s: is the machine busy?")
	}
}

// TestClockSetBack: a clock that goes back an hour changes neither the order of the steps nor the marks.
func TestClockSetBack(t *testing.T) {
	testrun.Slow(t, "serves a lab twice")
	folder, l, g := benchTerm(t, "title = \"A lamp\"\ndate = 2026-09-07\npack = \"lamp\"\n", 2)
	grades := func(jump int64) string {
		os.Remove(filepath.Join(folder, filepath.FromSlash(journal.File)))
		w, c, err := journal.Open(folder, g.journalOf())
		if err != nil {
			t.Fatal(err)
		}
		h, err := newHouse(t.Context(), folder, g, w, c.Room, serving{}, address(t), address(t))
		if err != nil {
			t.Fatal(err)
		}
		at := int64(1_000_000)
		h.class.Now = func() time.Time { return time.Unix(at, 0) }
		code := l.Sheets[0].Code
		for n := range 3 {
			a := h.bench.Do(post(code, at, "/steps", "key", fmt.Sprint(n), "test", l.Tests[n].ID, "expect", "x"))
			if a.Status != http.StatusCreated {
				t.Fatalf("%d %s", a.Status, a.Body)
			}
			h.bench.Do(post(code, at, fmt.Sprintf("/steps/%d/verdict", n+1), "good", "yes"))
			at += jump
		}
		h.bench.Do(post(code, at, "/conclusion", "key", "end", "repair", l.Repairs[0].Code))
		if err := w.Close(); err != nil {
			t.Fatal(err)
		}
		result := command(t, exitDone, "grade", folder, "--json", "--really")
		return result
	}
	if on, back := grades(60), grades(-3600); on != back || !strings.Contains(on, `"line"`) {
		t.Errorf("with a clock that goes on\n%s\nwith one that goes back\n%s", on, back)
	}
}

// address is one of a listener that does not listen.
func address(t testing.TB) net.Addr {
	t.Helper()
	a, err := net.ResolveTCPAddr("tcp", "127.0.0.1:8420")
	if err != nil {
		t.Fatal(err)
	}
	return a
}

// post is a form as a program sends it.
func post(sheet string, at int64, path string, form ...string) web.Request {
	v := url.Values{}
	for i := 0; i+1 < len(form); i += 2 {
		v.Set(form[i], form[i+1])
	}
	return web.Request{Method: http.MethodPost, Path: path, Sheet: sheet, Form: v, JSON: true, At: at}
}
