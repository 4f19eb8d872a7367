package main

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"nospark/grading/players"
	"nospark/scenarios/disk"
	"nospark/scenarios/draw"
	"nospark/scenarios/lab"
	"nospark/scenarios/term"
)

// schoolTerm lays out a term with a roster of n invented students and one plan of the smallest pack, whose path it
// returns. The key is that
// of the demo, so that two terms are the same bytes.
func schoolTerm(t testing.TB, n int) (dir, plan string) {
	t.Helper()
	dir = filepath.Join(t.TempDir(), "term")
	if err := makeTerm(t.Context(), dir, demoKey(), demoTerm, demoDate, demoRetain); err != nil {
		t.Fatal(err)
	}
	var list strings.Builder
	list.WriteString("id,name,section\n")
	for i := range n {
		fmt.Fprintf(&list, "%d,Student %04d,S%02d\n", 100000+i, i, i/24)
	}
	plan = filepath.Join(dir, "plans", "week01.toml")
	put(t, filepath.Join(dir, term.RosterFile), list.String())
	put(t, plan, "title = \"A lamp\"\ndate = 2026-09-07\npack = \"lamp\"\nspares = 0\n")
	return dir, plan
}

func put(t testing.TB, path, text string) {
	t.Helper()
	if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
}

// nospark runs one command in this process.
func nospark(t testing.TB, line ...string) {
	t.Helper()
	var errOut bytes.Buffer
	if got := run(t.Context(), line, strings.NewReader(""), io.Discard, &errOut); got != exitDone {
		t.Fatalf("nospark %s: exit status %d\n%s", strings.Join(line, " "), got, errOut.String())
	}
}

// handIn lets simulated students of all skills fill in the entries of a built lab.
func handIn(t testing.TB, folder string) {
	t.Helper()
	lab, err := lab.Read(labFile(folder))
	if err != nil {
		t.Fatal(err)
	}
	class, err := players.New(lab)
	if err != nil {
		t.Fatal(err)
	}
	var text bytes.Buffer
	w := csv.NewWriter(&text)
	w.Write([]string{"id", "sheet", "repair", "reasoning", "safe", "steps"})
	key := demoKey()
	for i := range lab.Sheets {
		stream := draw.New(key[:], "play", lab.Name, lab.Sheets[i].Student)
		w.Write(entryOf(class.Play(i, skillOf(i), stream.Intn), stream, skillOf(i)))
	}
	w.Flush()
	if err := disk.Write(filepath.Join(folder, "entries", "class.csv"), text.Bytes(), 0o644); err != nil {
		t.Fatal(err)
	}
}

// noStart is the plan of a lab as schools build most.
const noStart = "title = \"No start\"\ndate = 2026-09-07\npack = \"single-coil\"\ncomplaint = \"no-start\"\nspares = 0\n"

// BenchmarkTerm builds and grades a lab for a class of 24 and for whole schools, from the plan to the last file on the
// disk.
func BenchmarkTerm(b *testing.B) {
	for _, n := range []int{24, 250, 2000} {
		b.Run(fmt.Sprintf("build/%d", n), func(b *testing.B) {
			for b.Loop() {
				b.StopTimer()
				_, plan := schoolTerm(b, n)
				put(b, plan, noStart)
				b.StartTimer()
				nospark(b, "build", plan)
			}
		})
		b.Run(fmt.Sprintf("grade/%d", n), func(b *testing.B) {
			dir, plan := schoolTerm(b, n)
			put(b, plan, noStart)
			nospark(b, "build", plan)
			folder := filepath.Join(dir, term.LabsFolder, "week01")
			handIn(b, folder)
			for b.Loop() {
				b.StopTimer()
				for _, old := range []string{filepath.Join(folder, "graded"), filepath.Join(dir, recordsFolder)} {
					if err := os.RemoveAll(old); err != nil {
						b.Fatal(err)
					}
				}
				b.StartTimer()
				nospark(b, "grade", folder)
			}
		})
	}
}
