package main

import (
	"context"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"nospark/cmd/internal/practicefile"
	"nospark/scenarios/testrun"
)

// TestSameGamesInWebAssembly: 200 random games, compiled for browsers and run by node, give to the last digit the
// readings and marks that they give on this machine; there each mark is compared with that of grading the same files as
// in class.
func TestSameGamesInWebAssembly(t *testing.T) {
	testrun.Long(t, "compiles for browsers and plays 200 games twice")
	testrun.Program(t, "node")
	root, err := practicefile.Source(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	goRoot, err := exec.Command("go", "env", "GOROOT").Output()
	if err != nil {
		t.Fatal(err)
	}
	played := func(system []string, how ...string) string {
		t.Helper()
		line := append([]string{"test", "-count=1", "-v", "-run=^TestMarksAreThoseOfGrade$"}, how...)
		cmd := exec.CommandContext(t.Context(), "go", append(line, "./cmd/internal/practice")...)
		cmd.Dir, cmd.Env = root, append(os.Environ(), system...)
		out, err := cmd.CombinedOutput()
		if err != nil {
			t.Fatalf("%v: %v\n%s", cmd.Args, err, out)
		}
		digest := regexp.MustCompile(`played ([0-9a-f]{64})`).FindSubmatch(out)
		if digest == nil {
			t.Fatalf("%v: nothing was played\n%s", cmd.Args, out)
		}
		return string(digest[1])
	}
	here := played(nil)
	browser := played([]string{"GOOS=js", "GOARCH=wasm"}, "-exec="+filepath.Join(strings.TrimSpace(string(goRoot)),
		"lib", "wasm", "go_js_wasm_exec"))
	if here != browser {
		t.Error("games differ between this machine and WebAssembly")
	}
}
