package bestplay_test

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"nospark/grading/bestplay"
	"nospark/scenarios/build"
	"nospark/scenarios/lab"
	"nospark/scenarios/pack"
	"nospark/scenarios/roster"
	"nospark/scenarios/term"
	"nospark/scenarios/testrun"
)

// built builds a lab of a built-in pack for some students.
func built(t testing.TB, name string, students int, plan string) *lab.Lab {
	t.Helper()
	source, err := pack.Source(name)
	if err != nil {
		t.Fatal(err)
	}
	p, err := term.ParsePlan("plans/one.toml", fmt.Sprintf("title = \"One\"\ndate = 2026-10-05\npack = %q\n%s", name,
		plan))
	if err != nil {
		t.Fatal(err)
	}
	var list []roster.Student
	for i := range students {
		list = append(list, roster.Student{ID: fmt.Sprint("s", i), Name: fmt.Sprint("Student ", i), Section: "A"})
	}
	autumn := term.Term{ID: "term-for-tests", Program: "Program", Paper: "letter", Rubric: term.DefaultRubric(),
		Mastery: term.DefaultMastery()}
	lab, _, err := build.Lab(context.Background(), build.Input{Term: autumn, Plan: p, Students: list,
		Key: term.Key{1, 2, 3}, PackFile: name + ".toml", Pack: string(source)})
	if err != nil {
		t.Fatal(err)
	}
	return lab
}

func testIndex(t testing.TB, l *lab.Lab, id string) int {
	t.Helper()
	at := slices.IndexFunc(l.Tests, func(t lab.Test) bool { return t.ID == id })
	if at < 0 {
		t.Fatalf("no test %q", id)
	}
	return at
}

// The key of the lamp by hand, from nothing and without checks: the feed, and where it is normal the ground. The rows
// weigh 1000 x 3 / root 3, 1000 x 2 / root 2, 1000 x 4 / root 4 and 1000 x 1 / root 1, so V = 20 + 20 x (2000 +
// 1000)/(1732 + 1414 + 2000 + 1000). An open switch reads abnormal at the feed alone, an open lamp on its own alone;
// nothing else is measured at either of them that could mislead.
func TestKeyOfTheLamp(t *testing.T) {
	lab := built(t, "lamp", 4, "faults = [\"switch-open\", \"lamp-open\"]\nproof = false\nknown = 0\n")
	key, err := bestplay.NewKey(lab)
	if err != nil {
		t.Fatal(err)
	}
	feed, ground, resistance := testIndex(t, lab, "lamp-feed"), testIndex(t, lab, "lamp-ground"), testIndex(t, lab,
		"lamp-resistance")
	seen := map[string]bool{}
	for i, s := range key.Sheets {
		id := lab.Faults[s.Fault].ID
		seen[id] = true
		var path []int
		for _, p := range s.Path {
			path = append(path, p.Test)
		}
		switch id {
		case "switch-open":
			if s.Minutes != 20 || !slices.Equal(path, []int{feed}) || !slices.Equal(s.Abnormal, []int{feed}) ||
				len(s.Traps) != 0 {
				t.Errorf("open switch: %+v", s)
			}
		case "lamp-open":
			if s.Minutes != 40 || !slices.Equal(path, []int{feed, ground}) ||
				!slices.Equal(s.Abnormal, []int{resistance}) || len(s.Traps) != 0 {
				t.Errorf("open lamp: %+v", s)
			}
		}
		if s.Minutes != lab.Sheets[i].Minutes {
			t.Errorf("sheet %d: %d tenths, built for %d", i, s.Minutes, lab.Sheets[i].Minutes)
		}
	}
	if len(seen) != 2 || len(key.Faults) != 2 || key.Faults[0].Sheets+key.Faults[1].Sheets != 4 ||
		len(key.Complaints) != 1 || math.Abs(key.Complaints[0].Value-(20+20*3000./6146)) > 5e-5 || key.Reference != 30 {
		t.Errorf("faults %+v, complaints %+v, reference %d", key.Faults, key.Complaints, key.Reference)
	}
	if key.Spread.Low != 20 || key.Spread.High != 40 {
		t.Errorf("spread %+v", key.Spread)
	}
}

// A corroded module ground: the voltmeter with the module unplugged sees nothing, since no current flows; a load shows
// it. That an unloaded check passes a bad ground is common practice, no source.
func TestUnloadedGroundIsATrap(t *testing.T) {
	testrun.Slow(t, "works out large labs")
	lab := built(t, "single-coil", 1, "faults = [\"icm-ground-bad\"]\n")
	key, err := bestplay.NewKey(lab)
	if err != nil {
		t.Fatal(err)
	}
	var traps []string
	for _, trap := range key.Sheets[0].Traps {
		traps = append(traps, lab.Tests[trap.Test].ID)
		if shows := testIndex(t, lab, "volts.icm_gnd.on"); trap.Shows != shows {
			t.Errorf("trap %s is shown by %d, want %d", lab.Tests[trap.Test].ID, trap.Shows, shows)
		}
	}
	if want := []string{"icm-ground-volts", "icm-ground-lamp"}; !slices.Equal(traps, want) {
		t.Errorf("traps %q, want %q", traps, want)
	}
	// plugged in, the module's own current lifts the pin by volts, and a lamp of 21 W is dim
	for _, id := range []string{"volts.icm_gnd.on", "load-pos.icm_gnd.on", "drop-load.icm_gnd.on"} {
		if !slices.Contains(key.Sheets[0].Abnormal, testIndex(t, lab, id)) {
			t.Errorf("%s reads normal", id)
		}
	}
}

// The tree of a lab has bands in words.
func TestLabTree(t *testing.T) {
	tree, err := bestplay.LabTree(built(t, "lamp", 2, ""), 0)
	if err != nil {
		t.Fatal(err)
	}
	n := tree.Nodes[0]
	if n.Good != "less than 0.5 V below the battery reading" || len(n.Branches) != 3 ||
		!strings.HasPrefix(n.Branches[0].Words, "at least 0.5 V") {
		t.Errorf("%+v", n)
	}
}
