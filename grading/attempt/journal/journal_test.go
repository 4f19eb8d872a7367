package journal

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"nospark/grading/attempt"
)

var testLab = Lab{Name: "week01", Term: "t1", Key: KeyFor([]byte("a key of a term"), "week01")}

// folder is that of a lab.
func folder(t testing.TB) string {
	t.Helper()
	dir := t.TempDir()
	if err := os.Mkdir(filepath.Join(dir, "entries"), 0o755); err != nil {
		t.Fatal(err)
	}
	return dir
}

func open(t testing.TB, dir string) (*Writer, Content) {
	t.Helper()
	w, c, err := Open(dir, testLab)
	if err != nil {
		t.Fatal(err)
	}
	return w, c
}

func add(t testing.TB, w *Writer, events ...attempt.Event) {
	t.Helper()
	for _, e := range events {
		if err := w.Append(e); err != nil {
			t.Fatal(err)
		}
	}
}

func commit(sheet string, n int) attempt.Event {
	return attempt.Event{Kind: attempt.Commit, At: 1000, Sheet: sheet, Key: fmt.Sprint("k", n), Test: "volts",
		Expect: "12 V"}
}

// three is a journal of three events as a file.
func three(t testing.TB) (dir string, data []byte) {
	t.Helper()
	dir = folder(t)
	w, _ := open(t, dir)
	add(t, w, commit("A", 1), attempt.Event{Kind: attempt.Judge, Sheet: "A", Step: 1, Good: attempt.Good},
		commit("B", 1))
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	data, err := os.ReadFile(filepath.Join(dir, File))
	if err != nil {
		t.Fatal(err)
	}
	return dir, data
}

func TestWhatIsAppendedIsRead(t *testing.T) {
	dir, data := three(t)
	if n := bytes.Count(data, []byte("\n")); n != 4 {
		t.Errorf("%d lines, want a head and three:\n%s", n, data)
	}
	info, err := os.Stat(filepath.Join(dir, File))
	if err != nil || info.Mode().Perm() != 0o600 {
		t.Errorf("mode %v, %v", info.Mode(), err)
	}
	c, err := Read(dir, testLab)
	if err != nil || c.Lines != 3 || c.Torn || !c.Checked {
		t.Fatalf("%+v, %v", c, err)
	}
	if a := c.Room.Of("A"); len(a.Steps) != 1 || a.Steps[0].Good != attempt.Good || a.Steps[0].Test != "volts" {
		t.Errorf("%+v", a)
	}
	w, again := open(t, dir)
	if again.Lines != 3 {
		t.Errorf("%d lines", again.Lines)
	}
	add(t, w, commit("B", 2), attempt.Event{Kind: attempt.Close})
	if c, err = Read(dir, testLab); err != nil || !c.Room.Closed || len(c.Room.Of("B").Steps) != 2 {
		t.Errorf("%+v, %v", c, err)
	}
	w, again = open(t, dir)
	if !again.Room.Closed || w.Append(commit("B", 3)) == nil || w.Append(attempt.Event{Kind: attempt.Close}) == nil {
		t.Error("a closed journal goes on")
	}
	add(t, w, attempt.Event{Kind: attempt.Release}) // debriefs are often released later
	if c, err = Read(dir, testLab); err != nil || !c.Room.Closed || !c.Room.Released || c.Lines != 6 {
		t.Errorf("%+v, %v", c, err)
	}
}

// TestEveryChangeIsFound changes each byte, leaves out and swaps lines: the line is named, except for whole lines that
// are missing at the end.
func TestEveryChangeIsFound(t *testing.T) {
	_, data := three(t)
	lines := bytes.SplitAfter(data, []byte("\n"))[:4]
	line := func(at int) int { return 1 + bytes.Count(data[:at], []byte("\n")) }
	check := func(what string, changed []byte, at int) {
		t.Helper()
		_, err := Decode("j", changed, testLab)
		if err == nil || !strings.HasPrefix(err.Error(), fmt.Sprintf("j:%d: ", at)) {
			t.Errorf("%s: error %v, want one in line %d", what, err, at)
		}
	}
	for at := range data[:len(data)-1] {
		changed := bytes.Clone(data)
		changed[at] ^= 1
		if data[at] == '\n' || changed[at] == '\n' {
			continue // two lines become one, or one two
		}
		check(fmt.Sprintf("byte %d", at), changed, line(at))
	}
	check("the head is missing", bytes.Join(lines[1:], nil), 1)
	check("a line is missing", bytes.Join([][]byte{lines[0], lines[2], lines[3]}, nil), 2)
	check("lines are swapped", bytes.Join([][]byte{lines[0], lines[1], lines[3], lines[2]}, nil), 3)
	check("a line stands twice", bytes.Join([][]byte{lines[0], lines[1], lines[1], lines[2]}, nil), 3)
	if c, err := Decode("j", bytes.Join(lines[:3], nil), testLab); err != nil || c.Lines != 2 {
		t.Errorf("without its last line: %+v, %v", c, err) // as the documents say, this is not found
	}
	other := testLab
	other.Key = KeyFor([]byte("a key of a term"), "week02")
	if _, err := Decode("j", data, other); err == nil {
		t.Error("the key of another lab fits")
	}
	unknown := testLab
	unknown.Key = nil
	if c, err := Decode("j", data, unknown); err != nil || c.Checked || c.Lines != 3 {
		t.Errorf("without a key: %+v, %v", c, err)
	}
}

// TestTornLine: a power cut may leave any beginning of the last line. It is told, and the journal goes on without it.
// TestWithout: a journal without a sheet's events reads as if they had never been, and can be gone on with; a changed
// one is named and not written anew.
func TestWithout(t *testing.T) {
	dir, data := three(t)
	ofA := func(e attempt.Event) bool { return e.Sheet == "A" }
	kept, gone, err := Without("j", append(data, `{"torn`...), testLab, ofA)
	if err != nil || len(gone) != 2 || gone[0].Kind != attempt.Commit || gone[1].Kind != attempt.Judge {
		t.Fatalf("%v, %v", gone, err)
	}
	if bytes.Contains(kept, []byte(`"sheet":"A"`)) || bytes.Count(kept, []byte("\n")) != 2 {
		t.Errorf("kept\n%s", kept)
	}
	if err := os.WriteFile(filepath.Join(dir, File), kept, 0o600); err != nil {
		t.Fatal(err)
	}
	w, c := open(t, dir)
	add(t, w, commit("B", 2))
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	if now, err := Read(dir, testLab); err != nil || c.Lines != 1 || now.Lines != 2 || !now.Checked {
		t.Errorf("%d, then %d lines, %v", c.Lines, now.Lines, err)
	}
	changed := bytes.Replace(data, []byte("12 V"), []byte("11 V"), 1)
	if kept, _, err := Without("j", changed, testLab, ofA); err == nil || kept != nil ||
		!strings.Contains(err.Error(), "j:2: was changed") {
		t.Errorf("a changed one: %v", err)
	}
	if _, _, err := Without("j", data, Lab{Name: "week01", Term: "t1"}, ofA); err == nil {
		t.Error("written without a key")
	}
}

func TestTornLine(t *testing.T) {
	dir, data := three(t)
	last := bytes.LastIndexByte(data[:len(data)-1], '\n') + 1
	for _, size := range []int{last + 1, last + 20, len(data) - 1} {
		if err := os.WriteFile(filepath.Join(dir, File), data[:size], 0o600); err != nil {
			t.Fatal(err)
		}
		c, err := Read(dir, testLab)
		if err != nil || !c.Torn || c.Lines != 2 {
			t.Fatalf("%d bytes: %+v, %v", size, c, err)
		}
		w, c := open(t, dir)
		if !c.Torn {
			t.Error("not told")
		}
		add(t, w, commit("B", 7))
		w.Close()
		if c, err = Read(dir, testLab); err != nil || c.Torn || c.Lines != 3 || c.Room.Of("B").Steps[0].Key != "k7" {
			t.Errorf("%d bytes: went on with %+v, %v", size, c, err)
		}
	}
	// nothing but a torn head: the journal begins again
	if err := os.WriteFile(filepath.Join(dir, File), data[:9], 0o600); err != nil {
		t.Fatal(err)
	}
	w, c := open(t, dir)
	if !c.Torn || c.Lines != 0 {
		t.Errorf("%+v", c)
	}
	add(t, w, commit("A", 1))
}

// TestGroupCommit: 64 goroutines append at once while each sync takes 20 ms. If every line had its own, the last would
// wait 64 x 20 ms = 1.3 s; shared, two or three syncs do.
func TestGroupCommit(t *testing.T) {
	dir := folder(t)
	w, _ := open(t, dir)
	syncs := 0
	w.sync = func() error {
		syncs++
		return w.file.Sync()
	}
	w.Delay(20 * time.Millisecond)
	var all sync.WaitGroup
	for i := range 64 {
		all.Go(func() {
			if err := w.Append(commit(fmt.Sprint("S", i), 1)); err != nil {
				t.Error(err)
			}
		})
	}
	all.Wait()
	if syncs > 10 {
		t.Errorf("%d syncs for 64 lines", syncs)
	}
	if c, err := Read(dir, testLab); err != nil || c.Lines != 64 {
		t.Errorf("%+v, %v", c, err)
	}
}

// TestNothingAfterAFailure: what a failed write left on the disk is not known, so nothing is added behind it.
func TestNothingAfterAFailure(t *testing.T) {
	dir := folder(t)
	w, _ := open(t, dir)
	add(t, w, commit("A", 1))
	full := errors.New("no space left")
	w.sync = func() error { return full }
	for range 2 {
		if err := w.Append(commit("A", 2)); !errors.Is(err, full) {
			t.Errorf("error %v", err)
		}
		w.sync = w.file.Sync // better by now, but it is too late
	}
	w.Close()
	if err := w.Append(commit("A", 3)); err == nil {
		t.Error("a closed journal takes a line")
	}
}

func TestUnlikelyFiles(t *testing.T) {
	dir := folder(t)
	if c, err := Read(dir, testLab); err != nil || c.Lines != 0 {
		t.Errorf("no journal: %+v, %v", c, err)
	}
	check := func(value any, want string) {
		t.Helper()
		line, _, err := encode(testLab.Key, nil, value)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := Decode("j", line, testLab); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("error %v, want %q", err, want)
		}
	}
	check(head{Format: 9, Lab: "week01", Term: "t1"}, "format 9")
	check(head{Lab: "week01", Term: "t1"}, "not the first line")
	check(head{Format: 1, Lab: "week02", Term: "t1"}, `belongs to lab "week02"`)
	check(numbered{1, commit("A", 1)}, "unknown field")
}

// FuzzDecode: no file makes the reader fail otherwise than by an error, and what it reads it reads again.
func FuzzDecode(f *testing.F) {
	_, data := three(f)
	f.Add(data)
	f.Add(data[:len(data)-3])
	f.Add([]byte("{}\n"))
	f.Add([]byte(`{"seq":0,"bench":1,"lab":"week01","term":"t1","chain":"00000000000000000000000000000000"}` + "\n"))
	free := testLab
	free.Key = nil
	f.Fuzz(func(t *testing.T, data []byte) {
		c, err := Decode("j", data, free)
		if err != nil {
			return
		}
		again, err := Decode("j", data[:c.size], free)
		if err != nil || again.Lines != c.Lines || again.Torn {
			t.Errorf("read %d lines, then %d: %v", c.Lines, again.Lines, err)
		}
	})
}
