package build

import (
	"context"
	"fmt"
	"os"
	"testing"

	"nospark/scenarios/lab"
	"nospark/scenarios/pack"
	"nospark/scenarios/roster"
	"nospark/scenarios/term"
	"nospark/scenarios/testrun"
)

// The class of these tests is plainly invented: students s00, s01, ... in the sections A and B.

func class(n int) []roster.Student {
	var list []roster.Student
	for i := range n {
		list = append(list, roster.Student{ID: fmt.Sprintf("s%02d", i), Name: fmt.Sprintf("Student %02d", i),
			Section: "A"})
	}
	return list
}

func testTerm() term.Term {
	return term.Term{ID: "test-term-1", Program: "Automotive Technology", Paper: "letter", Rubric: term.DefaultRubric(),
		Mastery: term.DefaultMastery()}
}

// twoLamps is the text of the small pack of these tests.
func twoLamps(t testing.TB) string {
	t.Helper()
	text, err := os.ReadFile("testdata/two-lamps.toml")
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

func builtin(t testing.TB, name string) string {
	t.Helper()
	if name != "lamp" && name != "horn" {
		testrun.Slow(t, "works out labs of "+name)
	}
	text, err := pack.Source(name)
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// planOf reads a plan with the given lines after the usual ones.
func planOf(t testing.TB, more string) term.Plan {
	t.Helper()
	p, err := term.ParsePlan("plans/week05.toml", "title = \"A lab\"\ndate = 2026-10-05\npack = \"x\"\n"+more)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func input(t testing.TB, source, plan string, students int) Input {
	t.Helper()
	return Input{Term: testTerm(), Plan: planOf(t, plan), Students: class(students), Key: term.Key{7, 7, 7},
		PackFile: "pack.toml", Pack: source}
}

func build(t testing.TB, in Input) (*lab.Lab, *Report) {
	t.Helper()
	l, r, err := Lab(context.Background(), in)
	if err != nil {
		t.Fatal(err)
	}
	return l, r
}

func encode(t testing.TB, l *lab.Lab) []byte {
	t.Helper()
	data, err := l.Encode()
	if err != nil {
		t.Fatal(err)
	}
	return data
}
