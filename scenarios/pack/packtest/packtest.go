// Package packtest chooses how much of what comes with the program a test goes through. It is no part of the program.
package packtest

import (
	"os"
	"slices"
	"strings"
	"testing"

	"nospark/scenarios/pack"
)

// Whole tells whether everything is asked for, however long it takes: .ci/run does, by NOSPARK_WHOLE=1.
func Whole() bool { return os.Getenv("NOSPARK_WHOLE") == "1" && !testing.Short() }

// Packs lists built-in packs to loop over: all of them in a whole run; otherwise two without ignition, one with a
// distributor and one with double-ended coils. The log says which are left out.
func Packs(t testing.TB) []string {
	t.Helper()
	all := pack.Builtin()
	if Whole() {
		return all
	}
	sample := []string{"double-ended", "horn", "lamp", "reluctor"}
	if testing.Short() {
		sample = []string{"lamp", "reluctor"}
	}
	var left []string
	for _, name := range all {
		if !slices.Contains(sample, name) {
			left = append(left, name)
		}
	}
	t.Logf("a sample, without %s; NOSPARK_WHOLE=1 takes all packs", strings.Join(left, ", "))
	return sample
}

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
