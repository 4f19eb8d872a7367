//go:build unix

package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"nospark/grading"
	"nospark/grading/attempt/journal"
	"nospark/scenarios/testrun"
)

// TestGoesOnOnPaper: what was committed on the bench is printed with its readings and no other, the entry form goes on
// "from step 3", and grading takes both for one work.
func TestGoesOnOnPaper(t *testing.T) {
	folder, l, g := benchTerm(t, "title = \"A lamp\"\ndate = 2026-09-07\npack = \"lamp\"\n", 3)
	if out := command(t, exitDone, "print-so-far", folder); !strings.Contains(out, "nothing has been committed") {
		t.Errorf("an unused bench: %s", out)
	}
	w, c, err := journal.Open(folder, g.journalOf())
	if err != nil {
		t.Fatal(err)
	}
	h, err := newHouse(t.Context(), folder, g, w, c.Room, serving{}, address(t), address(t))
	if err != nil {
		t.Fatal(err)
	}
	s := &l.Sheets[0]
	for n := range 2 {
		h.bench.Do(post(s.Code, 1, "/steps", "key", fmt.Sprint(n), "test", l.Tests[n].ID, "expect",
			fmt.Sprintf("guess %d", n)))
		if a := h.bench.Do(post(s.Code, 1, fmt.Sprintf("/steps/%d/verdict", n+1), "good",
			"yes")); a.Status != http.StatusOK {
			t.Fatalf("%d %s", a.Status, a.Body)
		}
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	if out := command(t, exitDone, "print-so-far", folder); !strings.Contains(out, "so-far.pdf: 1 sheet") {
		t.Errorf("print-so-far says %s", out)
	}
	path := filepath.Join(folder, "handouts", "so-far.pdf")
	if info, err := os.Stat(path); err != nil || info.Mode().Perm() != 0o600 {
		t.Errorf("%v, %v", info.Mode(), err)
	}
	text := strings.Join(pages(t, path), "\n")
	for _, want := range []string{s.Code, "guess 0", "guess 1", s.Lines[0].Letters, "from step 3", "watches"} {
		if !strings.Contains(text, want) {
			t.Errorf("the page lacks %q", want)
		}
	}
	for n := 2; n < len(s.Lines); n++ {
		if want := fmt.Sprintf("%03d%s", s.Lines[n].Number, s.Lines[n].Letters); strings.Contains(text, want) {
			t.Errorf("the page tells line %s, which nobody has asked for", want)
		}
	}

	r := l.Repairs[0]
	row := fmt.Sprintf("id,repair,step 1,step 2\n%s,%s%s,from step 3,%03d%s+\n", s.Student, r.Code, r.Letters,
		s.Lines[2].Number, s.Lines[2].Letters)
	put(t, filepath.Join(folder, "entries", "class.csv"), row)
	var result grading.Result
	if err := json.Unmarshal([]byte(command(t, exitDone, "grade", folder, "--json")), &result); err != nil {
		t.Fatal(err)
	}
	if got := result.Students[0]; got.Status != grading.Graded || len(got.Steps) != 3 || got.Repair != 0 {
		t.Errorf("%s (%s), %d steps, repair %d", got.Status, got.Why, len(got.Steps), got.Repair)
	}
}

// TestPurgeWaitsForTheBench: a lab that is being served is not deleted under it; afterwards its journal goes with it.
func TestPurgeWaitsForTheBench(t *testing.T) {
	testrun.Slow(t, "waits for seconds")
	folder, _, _ := benchTerm(t, "title = \"A lamp\"\ndate = 2026-09-07\npack = \"lamp\"\n", 2)
	s := startServe(t, folder, "127.0.0.1:0")
	defer s.kill()
	dir := filepath.Join(folder, "..", "..")
	purge := func() (int, string) {
		var out, errOut bytes.Buffer
		status := run(t.Context(), []string{"purge", dir, "--before", "2030-01-01"}, strings.NewReader("yes\n"), &out,
			&errOut)
		return status, errOut.String()
	}
	if status, said := purge(); status != exitInput || !strings.Contains(said, "serve week01") {
		t.Errorf("status %d: %s", status, said)
	}
	if _, err := os.Stat(filepath.Join(folder, filepath.FromSlash(journal.File))); err != nil {
		t.Error(err)
	}
	// A second bench on the same lab is refused as well.
	if said := fails(t, "serve", folder, "--address", "127.0.0.1:0"); !strings.Contains(said, "in use by") {
		t.Errorf("a second bench: %s", said)
	}
	s.kill()
	for end := time.Now().Add(5 * time.Second); ; {
		status, said := purge()
		if status == exitDone {
			break
		}
		if time.Now().After(end) {
			t.Fatalf("status %d: %s", status, said)
		}
	}
	if _, err := os.Stat(folder); err == nil {
		t.Error("the lab is still there")
	}
}
