package build

import (
	"bytes"
	"flag"
	"os"
	"strings"
	"testing"
)

var update = flag.Bool("update", false, "write the golden file anew")

// TestGoldenLab compares a small lab with the one that an earlier version built from the same plan, roster, pack and
// key: a lost sheet has to come out the same when it is printed again. A change here means that labs of a running term
// would change, so look before -update.
func TestGoldenLab(t *testing.T) {
	const path = "testdata/two-lamps.golden.json"
	l, _ := build(t, input(t, twoLamps(t), "nothing_found = true\nspares = 1\n", 3))
	l.Pack.Source = "" // as long as the rest, and kept beside this file
	got := encode(t, l)
	if *update {
		if err := os.WriteFile(path, got, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(got, want) {
		t.Errorf("another lab: %s (run with -update to accept)", firstDifference(string(got), string(want)))
	}
	if n := strings.Count(string(want), `"code":`); n != 4+len(l.Repairs) {
		t.Errorf("the golden file has %d codes", n)
	}
}
