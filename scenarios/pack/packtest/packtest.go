// Package packtest chooses how much of what comes with the program a test goes through. It is no part of the program.
package packtest

import (
	"slices"
	"strings"
	"testing"

	"nospark/scenarios/pack"
	"nospark/scenarios/testrun"
)

// Packs lists built-in packs to loop over: all of them in a whole run; otherwise one without ignition and one with it;
// in a short run only the first. The log says which are left out.
func Packs(t testing.TB) []string {
	t.Helper()
	all := pack.Builtin()
	if testrun.Whole() {
		return all
	}
	sample := []string{"horn", "reluctor"}
	if testing.Short() {
		sample = sample[:1]
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
