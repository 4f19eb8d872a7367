//go:build linux

package main

import (
	"fmt"
	"net"
	"net/http"
	"net/http/httptest"
	"net/url"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"nospark/grading/attempt/journal"
)

// TestBenchSpeed prints how fast the bench answers, on loopback addresses and for a bounded time: testdata/bench/run.sh
// calls it. Elsewhere it is left out, for its figures say something on a quiet machine only.
func TestBenchSpeed(t *testing.T) {
	if os.Getenv("NOSPARK_SPEED") == "" {
		t.Skip("set NOSPARK_SPEED=1, or run testdata/bench/run.sh")
	}
	fmt.Println("| what | p50 | p99 | errors | memory |")
	fmt.Println("| --- | --- | --- | --- | --- |")
	for _, delay := range []time.Duration{0, 20 * time.Millisecond} {
		bursts(t, delay)
	}
	steady(t, 0)
	steady(t, 1000)
}

// claimed are phones with a sheet each.
func claimed(t *testing.T, g *graded, base string, n int) []*phone {
	t.Helper()
	transport := &http.Transport{MaxIdleConns: n + 10, MaxIdleConnsPerHost: n + 10}
	t.Cleanup(transport.CloseIdleConnections)
	phones := make([]*phone, n)
	for i := range phones {
		phones[i] = newPhone(base)
		phones[i].client.Transport = transport
		code := g.lab.Sheets[i].Code
		if status, err := phones[i].ask("/claim", url.Values{"sheet": {code},
			"word": {claimWord(g.key, g.lab.Name, code)}}, nil); status != http.StatusSeeOther {
			t.Fatalf("claim: %d, %v", status, err)
		}
	}
	return phones
}

// commitOne commits step n and gives how long the reading took; then it says that it wants no verdict.
func (p *phone) commitOne(g *graded, n int) (time.Duration, error) {
	began := time.Now()
	status, err := p.ask("/steps", url.Values{"key": {fmt.Sprint(n)}, "test": {g.lab.Tests[n%len(g.lab.Tests)].ID},
		"expect": {"x"}}, nil)
	took := time.Since(began)
	if err == nil && status != http.StatusCreated {
		err = fmt.Errorf("status %d", status)
	}
	if err == nil {
		status, err = p.ask(fmt.Sprintf("/steps/%d/verdict", n), url.Values{"good": {"none"}}, nil)
		if err == nil && status != http.StatusOK {
			err = fmt.Errorf("verdict: status %d", status)
		}
	}
	return took, err
}

func percentile(all []time.Duration, p int) time.Duration {
	if len(all) == 0 {
		return 0
	}
	slices.Sort(all)
	return all[min(len(all)-1, len(all)*p/100)]
}

// bursts: 60 phones commit at once, twenty times; the median of the bursts' p99.
func bursts(t *testing.T, delay time.Duration) {
	folder, _, g := benchTerm(t, "title = \"A lamp\"\ndate = 2026-09-07\npack = \"lamp\"\n", 60)
	w, c, err := journal.Open(folder, g.journalOf())
	if err != nil {
		t.Fatal(err)
	}
	defer w.Close()
	if delay > 0 {
		w.Delay(delay)
	}
	class := httptest.NewUnstartedServer(nil)
	h, err := newHouse(t.Context(), folder, g, w, c.Room, serving{address: class.Listener.Addr().String()},
		class.Listener.Addr(), address(t))
	if err != nil {
		t.Fatal(err)
	}
	class.Config.Handler = h.class.Handler()
	class.Start()
	defer class.Close()
	phones := claimed(t, g, class.URL, 60)
	var halves, tails []time.Duration
	var failures atomic.Int64
	for burst := range 20 {
		var all sync.WaitGroup
		took := make([]time.Duration, len(phones))
		for i, p := range phones {
			all.Go(func() {
				var err error
				if took[i], err = p.commitOne(g, burst+1); err != nil {
					failures.Add(1)
				}
			})
		}
		all.Wait()
		halves, tails = append(halves, percentile(took, 50)), append(tails, percentile(took, 99))
	}
	fmt.Printf("| 60 phones at once, 20 bursts, every sync %v slower: median of the bursts | %v | %v | %d | |\n", delay,
		percentile(halves, 50).Round(time.Millisecond/10), percentile(tails,
			50).Round(time.Millisecond/10), failures.Load())
}

// steady: 1,000 sheets commit every 10 seconds each, for half a minute, beside slow connections that never end a
// request.
func steady(t *testing.T, hostile int) {
	const students, every, rounds = 1000, 10 * time.Second, 3
	dir, _ := schoolTerm(t, 1)
	put(t, filepath.Join(dir, "roster.csv"), classList(students))
	put(t, filepath.Join(dir, "plans", "week01.toml"), "title = \"A lamp\"\ndate = 2026-09-07\npack = \"lamp\"\n")
	nospark(t, "build", filepath.Join(dir, "plans", "week01.toml"))
	folder := filepath.Join(dir, "labs", "week01")
	g, err := openLab(folder)
	if err != nil {
		t.Fatal(err)
	}
	s := startServe(t, folder, "127.0.0.1:0")
	defer s.kill()
	phones := claimed(t, g, s.Class, students)
	for range hostile {
		c, err := net.Dial("tcp", strings.TrimPrefix(s.Class, "http://"))
		if err != nil {
			t.Fatal(err)
		}
		defer c.Close()
		fmt.Fprintf(c, "POST /claim HTTP/1.1\r\nHost: x\r\nContent-Length: 9000\r\n\r\na") // and nothing more
	}
	var all sync.WaitGroup
	var mu sync.Mutex
	var took []time.Duration
	failures := 0
	for i, p := range phones {
		all.Go(func() {
			time.Sleep(every * time.Duration(i) / students)
			for n := range rounds {
				began := time.Now()
				d, err := p.commitOne(g, n+1)
				mu.Lock()
				if took = append(took, d); err != nil {
					failures++
				}
				mu.Unlock()
				time.Sleep(every - time.Since(began))
			}
		})
	}
	all.Wait()
	status, err := os.ReadFile(fmt.Sprintf("/proc/%d/status", s.cmd.Process.Pid))
	if err != nil {
		t.Fatal(err)
	}
	memory := "?"
	for line := range strings.Lines(string(status)) {
		if rest, is := strings.CutPrefix(line, "VmHWM:"); is {
			memory = strings.TrimSpace(rest)
		}
	}
	fmt.Printf("| 1,000 sheets, a commit every 10 s each, %d slow connections | %v | %v | %d | %s |\n", hostile,
		percentile(took, 50).Round(time.Millisecond/10), percentile(took,
			99).Round(time.Millisecond/10), failures, memory)
}
