package main

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"nospark/cmd/internal/practicefile"
	"nospark/scenarios/testrun"
)

// TestSameGamesInWebAssembly: 200 random games of all packs (a sample: 100, of three), played again by the program that
// stands in a practice file, give every page to the last byte, readings and marks among it; on this machine each mark
// is compared with that of grading the same files as in class. Only practice can look into its games to play them so,
// so its own test does.
func TestSameGamesInWebAssembly(t *testing.T) {
	testrun.Long(t, "compiles for browsers and plays 200 games twice")
	testrun.Program(t, "node")
	program, err := practiceProgramOnce()
	if err != nil {
		t.Fatal(err)
	}
	shelves, err := practiceShelvesOnce()
	if err != nil {
		t.Fatal(err)
	}
	folder := t.TempDir()
	put := func(name string, data []byte) string {
		t.Helper()
		path := filepath.Join(folder, name)
		if err := os.WriteFile(path, data, 0o600); err != nil {
			t.Fatal(err)
		}
		return path
	}
	for i, s := range shelves {
		data, err := s.Encode()
		if err != nil {
			t.Fatal(err)
		}
		put(fmt.Sprintf("%d.shelf", i), data)
	}
	here := exec.CommandContext(t.Context(), "go", "test", "-count=1", "-vet=off", "-run=^TestMarksAreThoseOfGrade$",
		"nospark/cmd/internal/practice")
	here.Env = append(os.Environ(), "NOSPARK_PRACTICE="+folder)
	if out, err := here.CombinedOutput(); err != nil {
		t.Fatalf("%v: %v\n%s", here.Args, err, out)
	}
	browser := exec.CommandContext(t.Context(), "node", filepath.Join("testdata", "replay.js"),
		put(practicefile.StartsName, program.Starts), put(practicefile.PackedName, program.Packed), folder)
	out, err := browser.CombinedOutput()
	if err != nil {
		t.Fatalf("games differ between this machine and WebAssembly: %v\n%.4000s", err, out)
	}
	t.Logf("%s", out)
}
