// Package testrun tells how much a run of the tests does, and which programs from outside it asks. It is no part of
// the program.
package testrun

import (
	"os"
	"os/exec"
	"testing"
)

// Whole tells whether everything is asked for, however long it takes: .ci/run does, by NOSPARK_WHOLE=1.
func Whole() bool { return os.Getenv("NOSPARK_WHOLE") == "1" && !testing.Short() }

// Times gives how often something is repeated: as often as whole says in a whole run, otherwise as sample says. The
// log tells the difference.
func Times(t testing.TB, whole, sample int) int {
	t.Helper()
	if Whole() {
		return whole
	}
	t.Logf("a sample, %d of %d; NOSPARK_WHOLE=1 takes all", sample, whole)
	return sample
}

// Long skips a test outside a whole run; what says why it takes its time.
func Long(t testing.TB, what string) {
	t.Helper()
	if !Whole() {
		t.Skipf("%s; NOSPARK_WHOLE=1 runs it", what)
	}
}

// Slow skips a test in a short run (go test -short), which is for the time between two edits; what says what takes its
// time.
func Slow(t testing.TB, what string) {
	t.Helper()
	if testing.Short() {
		t.Skipf("%s; without -short it runs", what)
	}
}

// Program finds a program from outside the project, which a test compares with.
func Program(t testing.TB, name string) string {
	t.Helper()
	path, err := exec.LookPath(name)
	if err != nil {
		Missing(t, name+" is not installed")
	}
	return path
}

// Missing ends a test that cannot look outside: it is skipped on a workbench and fails where CI=true promises every
// check.
func Missing(t testing.TB, what string) {
	t.Helper()
	if os.Getenv("CI") == "true" {
		t.Fatal(what)
	}
	t.Skip(what)
}
