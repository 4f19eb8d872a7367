//go:build unix

package main

import (
	"bytes"
	"fmt"
	"maps"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"

	"nospark/grading/evidence"
	"nospark/scenarios/lab"
	"nospark/scenarios/term"
	"nospark/scenarios/testrun"
)

// process is a command line in a process of its own: this test program plays nospark when it is called so.
func process(t testing.TB, line ...string) (cmd *exec.Cmd, said *bytes.Buffer) {
	t.Helper()
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	said = new(bytes.Buffer)
	cmd = &exec.Cmd{Path: self, Args: append([]string{"nospark"}, line...), Stdout: said, Stderr: said}
	return cmd, said
}

// stage is a command and what has to be there before it.
type stage struct {
	name    string
	line    []string // with DIR for the folder of the term
	prepare func(t testing.TB, dir string)

	answer   string // to what the command asks
	finished string // what it says when there is nothing left to do
}

// stages are a term from its first build to its workbook.
func stages() []stage {
	students := func(n int) func(t testing.TB, dir string) {
		return func(t testing.TB, dir string) { put(t, filepath.Join(dir, term.RosterFile), classList(n)) }
	}
	return []stage{
		{name: "build", line: []string{"build", "DIR/plans/week01.toml"}, prepare: students(8)},
		{name: "build more", line: []string{"build", "DIR/plans/week01.toml"}, prepare: students(11)},
		{name: "grade", line: []string{"grade", "DIR/labs/week01"}, prepare: func(t testing.TB, dir string) {
			handIn(t,
				filepath.Join(dir, "labs", "week01"))
		}},
		{name: "grade again", line: []string{"grade", "DIR/labs/week01"}, prepare: func(t testing.TB, dir string) {
			put(t, filepath.Join(dir, "labs", "week01", adjustFile),
				"[[mark]]\nstudent = \"100003\"\nvalue = 50\nreason = \"talked over at the desk\"\n")
		}},
		{name: "competency", line: []string{"competency", "DIR"}, prepare: func(testing.TB, string) {}},
		{name: "reprint", line: []string{"reprint", "DIR/labs/week01", "100003"}, prepare: func(testing.TB, string) {}},
	}
}

// endings take back and delete what stages have made.
func endings() []stage {
	none := func(testing.TB, string) {}
	return []stage{
		{name: "undo", line: []string{"grade", "--undo", "DIR/labs/week01"}, prepare: none,
			finished: "there is no earlier grading"},
		{name: "purge", line: []string{"purge", "DIR", "--before", "2030-01-01"}, prepare: none, answer: "yes\n"},
	}
}

func (s stage) in(dir string) []string {
	var line []string
	for _, arg := range s.line {
		line = append(line, strings.Replace(arg, "DIR", dir, 1))
	}
	return line
}

// snapshot is all files of a folder, by their path in it. Locks are left out: they stay, empty.
type snapshot map[string]string

func take(t testing.TB, dir string) snapshot {
	t.Helper()
	s := snapshot{}
	for _, path := range filesBelow(t, dir) {
		if filepath.Base(path) == ".nospark-lock" {
			continue
		}
		data, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		s[strings.TrimPrefix(path, dir)] = string(data)
	}
	return s
}

// lay writes a snapshot into a new folder.
func (s snapshot) lay(t testing.TB) string {
	t.Helper()
	dir := filepath.Join(t.TempDir(), "term")
	for _, folder := range []string{"records", "labs", "packs"} {
		if err := os.MkdirAll(filepath.Join(dir, folder), 0o755); err != nil {
			t.Fatal(err)
		}
	}
	for path, data := range s {
		if err := os.MkdirAll(filepath.Dir(dir+path), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(dir+path, []byte(data), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	return dir
}

var temporary = regexp.MustCompile(`/\.nospark-[0-9a-f]{16}\.part$`)

// torn lists the files of got that are neither as before the command nor as after it, and those that are lost.
// Temporary files are what a crash may leave.
func (got snapshot) torn(before, after snapshot) []string {
	var list []string
	for path, data := range got {
		old, was := before[path]
		made, is := after[path]
		if !(was && data == old || is && data == made || temporary.MatchString(path)) {
			list = append(list, "torn: "+path)
		}
	}
	for path := range before {
		_, is := got[path]
		if _, stays := after[path]; stays && !is {
			list = append(list, "lost: "+path)
		}
	}
	return list
}

// whole checks with the readers of each kind that the files of an undisturbed term are whole, so that what equals them
// is.
func (s snapshot) whole(t *testing.T, dir string) {
	t.Helper()
	autumn, err := term.Read(dir)
	if err != nil {
		t.Fatal(err)
	}
	key, err := term.ReadKey(filepath.Join(dir, term.KeyFile))
	if err != nil {
		t.Fatal(err)
	}
	for path, data := range s {
		switch {
		case strings.HasSuffix(path, ".pdf"):
			if !strings.HasSuffix(strings.TrimSpace(data), "%%EOF") {
				t.Errorf("%s has no end", path)
			}
			program(t, "qpdf", "--check", dir+path)
		case strings.HasSuffix(path, ".xlsx"):
			parts(t, dir+path)
		case strings.HasSuffix(path, "lab.json"):
			if l, err := lab.Decode(path, []byte(data)); err != nil || l.Verify(autumn.ID, key[:]) != lab.Sealed {
				t.Errorf("%s: %v, or its seal is broken", path, err)
			}
		case strings.Contains(path, "/records/"):
			if r, err := evidence.Decode(path, []byte(data)); err != nil ||
				r.Verify([]byte(data), autumn, key) != lab.Sealed {
				t.Errorf("%s: %v, or its seal is broken", path, err)
			}
		}
	}
}

// inPeace is a term played once, undisturbed, for the tests that disturb one.
var inPeace struct {
	sync.Once
	before, after []snapshot
}

func playedInPeace(t *testing.T) (before, after []snapshot) {
	t.Helper()
	testrun.Slow(t, "plays a term in many processes")
	inPeace.Do(func() { inPeace.before, inPeace.after, _ = undisturbed(t) })
	if len(inPeace.after) < len(stages()) {
		t.Fatal("the undisturbed term has failed")
	}
	return inPeace.before, inPeace.after
}

// undisturbed plays a term and gives what is there before and after each stage, and how long the command took.
func undisturbed(t *testing.T, more ...stage) (before, after []snapshot, took []time.Duration) {
	dir, _ := schoolTerm(t, 1)
	put(t, filepath.Join(dir, "plans", "week01.toml"), "title = \"A lamp\"\ndate = 2026-09-07\npack = "+
		"\"lamp\"\nspares = 1\n")
	for _, s := range append(stages(), more...) {
		s.prepare(t, dir)
		before = append(before, take(t, dir))
		start := time.Now()
		cmd, said := process(t, s.in(dir)...)
		if cmd.Stdin = strings.NewReader(s.answer); cmd.Run() != nil {
			t.Fatalf("%s: %s", s.name, said.String())
		}
		took = append(took, time.Since(start))
		after = append(after, take(t, dir))
		after[len(after)-1].whole(t, dir)
	}
	return before, after, took
}

// Killed at any moment, every command leaves each file as it was or as it was to be, and the same command run again
// ends with the same bytes as one that was never disturbed. NOSPARK_KILLS sets how many kills; the moments are spread
// over the time that each command takes.
func TestKilledAtAnyMoment(t *testing.T) {
	testrun.Slow(t, "plays a term in many processes")
	kills := 10
	if text := os.Getenv("NOSPARK_KILLS"); text != "" {
		n, err := strconv.Atoi(text)
		if err != nil {
			t.Fatal(err)
		}
		kills = n
	}
	before, after, took := undisturbed(t, endings()...)
	all := append(stages(), endings()...)
	var inTime, mixed, debris int
	for k := range kills {
		i := k % len(all)
		random := rand.New(rand.NewPCG(uint64(k), 9))
		dir := before[i].lay(t)
		moment := time.Duration(random.Float64() * float64(took[i]))
		cmd, said := process(t, all[i].in(dir)...)
		cmd.Stdin = strings.NewReader(all[i].answer)
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		time.Sleep(moment)
		if err := cmd.Process.Kill(); err != nil {
			t.Fatal(err)
		}
		if cmd.Wait() != nil {
			inTime++
		}
		got := take(t, dir)
		if list := got.torn(before[i], after[i]); len(list) > 0 {
			t.Errorf("%s killed after %v: %v\n%s", all[i].name, moment, list, said.String())
		}
		if !maps.Equal(got, before[i]) && !maps.Equal(got, after[i]) {
			mixed++
		}
		if slices.ContainsFunc(slices.Collect(maps.Keys(got)), temporary.MatchString) {
			debris++
		}
		again, said := process(t, all[i].in(dir)...)
		again.Stdin = strings.NewReader(all[i].answer)
		if err := again.Run(); err != nil &&
			(all[i].finished == "" || !strings.Contains(said.String(), all[i].finished)) {
			t.Errorf("%s after a kill after %v: %s", all[i].name, moment, said.String())
		}
		if now := take(t, dir); !maps.Equal(now, after[i]) {
			t.Errorf("%s after a kill after %v ends otherwise: %v", all[i].name, moment, differences(now, after[i]))
		}
		if err := os.RemoveAll(dir); err != nil {
			t.Fatal(err)
		}
	}
	t.Logf("%d kills, %d before the command had ended, %d between two files, %d with a temporary file that the next "+
		"run cleared", kills, inTime, mixed, debris)
	if inTime == 0 {
		t.Error("no kill came in time")
	}
}

// Killed at any moment, new leaves a folder that the same command completes, or a whole term.
func TestNewIsCompleted(t *testing.T) {
	completed := 0
	for k := range 12 {
		dir := filepath.Join(t.TempDir(), "term")
		cmd, _ := process(t, "new", dir)
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		time.Sleep(time.Duration(k) * 4 * time.Millisecond)
		if err := cmd.Process.Kill(); err != nil {
			t.Fatal(err)
		}
		_ = cmd.Wait() // killed, or done in time
		_, err := os.Stat(filepath.Join(dir, term.KeyFile))
		whole := err == nil
		again, said := process(t, "new", dir)
		if err := again.Run(); (err == nil) == whole {
			t.Errorf("killed after %d ms, with a key %v: %s", 4*k, whole, said.String())
		} else if !whole {
			completed++
		}
		now := take(t, dir)
		for _, file := range []string{term.KeyFile, term.File, term.RosterFile, "plans/week01.toml"} {
			if now["/"+file] == "" {
				t.Errorf("killed after %d ms: %s is missing", 4*k, file)
			}
		}
		if slices.ContainsFunc(slices.Collect(maps.Keys(now)), temporary.MatchString) && !whole {
			t.Errorf("killed after %d ms: a temporary file is left", 4*k)
		}
	}
	if completed == 0 {
		t.Error("no kill came in time")
	}
}

func differences(a, b snapshot) []string {
	var list []string
	for path := range a {
		if _, is := b[path]; !is {
			list = append(list, "too many: "+path)
		} else if a[path] != b[path] {
			list = append(list, "other: "+path)
		}
	}
	for path := range b {
		if _, is := a[path]; !is {
			list = append(list, "missing: "+path)
		}
	}
	slices.Sort(list)
	return list
}

// classList is a roster of n invented students, some of them in a section of their own.
func classList(n int) string {
	var list strings.Builder
	list.WriteString("id,name,section\n")
	for i := range n {
		fmt.Fprintf(&list, "%d,Student %04d,S%02d\n", 100000+i, i, i/24)
	}
	return list.String()
}
