package players_test

import (
	"context"
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"nospark/grading"
	"nospark/grading/adjust"
	"nospark/grading/players"
	"nospark/grading/submission"
	"nospark/scenarios/build"
	"nospark/scenarios/lab"
	"nospark/scenarios/pack"
	"nospark/scenarios/roster"
	"nospark/scenarios/term"
	"nospark/scenarios/testrun"
	"nospark/scenarios/vehicle"
)

// builtinLab is a lab of one complaint of a built-in pack, as a class of 24 gets it.
type builtinLab struct {
	pack, complaint string
	system          *pack.Pack
	lab             *lab.Lab
	report          *build.Report
}

func (l builtinLab) name() string { return l.pack + " " + l.complaint }

// builtinLabs builds one for each complaint of each pack that leaves something to test; outside a whole run those of
// two packs will do.
func builtinLabs(t testing.TB) []builtinLab { return labsOf(t, 1) }

// builtOnce keeps labs by the key of their term: most tests look at the same.
var builtOnce = map[byte][]builtinLab{}

// labsOf builds them in a term with the given key, which decides where a pack has more than one fair choice of faults.
func labsOf(t testing.TB, key byte) []builtinLab {
	t.Helper()
	labs := builtOnce[key]
	if labs != nil {
		return labs
	}
	for _, name := range pack.Builtin() {
		if !testrun.Whole() && name != "lamp" && (name != "reluctor" || testing.Short()) {
			t.Logf("without %s; NOSPARK_WHOLE=1 takes all packs", name)
			continue
		}
		in, p := shop(t, name)
		in.Key = term.Key{key}
		for _, c := range p.Complaints {
			lab, report, err := builtLab(t, in, fmt.Sprintf("complaint = %q\n", c.ID))
			if err != nil && strings.Contains(err.Error(), "nothing needs testing") {
				continue
			}
			if err != nil {
				t.Fatalf("%s, %s: %v", name, c.ID, err)
			}
			labs = append(labs, builtinLab{name, c.ID, p, lab, report})
		}
	}
	builtOnce[key] = labs
	return labs
}

// shop is all that a lab of a pack needs for a class of 24, but the plan.
func shop(t testing.TB, name string) (build.Input, *pack.Pack) {
	t.Helper()
	source, err := pack.Source(name)
	if err != nil {
		t.Fatal(err)
	}
	p, err := pack.Parse(name+".toml", source)
	if err != nil {
		t.Fatal(err)
	}
	matrix, err := vehicle.NewMatrix(p)
	if err != nil {
		t.Fatal(err)
	}
	in := build.Input{
		Term: term.Term{ID: "test-term", Program: "Automotive Technology", Paper: "letter",
			Rubric: term.DefaultRubric(), Mastery: term.DefaultMastery()},
		Key: term.Key{1}, PackFile: name + ".toml", Pack: string(source), Matrix: matrix,
	}
	for i := range 24 {
		in.Students = append(in.Students, roster.Student{ID: fmt.Sprintf("s%02d", i), Name: fmt.Sprintf("Student %02d",
			i), Section: "A"})
	}
	return in, p
}

// build builds a lab from the lines of a plan that tell it from others.
func builtLab(t testing.TB, in build.Input, lines string) (*lab.Lab, *build.Report, error) {
	t.Helper()
	name := strings.TrimSuffix(in.PackFile, ".toml")
	plan, err := term.ParsePlan("plans/week05.toml", fmt.Sprintf("title = \"A lab\"\ndate = 2026-10-05\npack = %q\n%s",
		name, lines))
	if err != nil {
		t.Fatal(err)
	}
	in.Plan = plan
	return build.Lab(context.Background(), in)
}

// played lets the same n students of a skill work on every fault of a lab: student k draws the same on each. The rows
// are those of the sheets of enlarged(n).
func played(t testing.TB, lab *lab.Lab, skill players.Skill, n int) []submission.Row {
	t.Helper()
	c := class(t, lab)
	var rows []submission.Row
	for i := range lab.Sheets {
		rows = append(rows, c.Play(i, skill, rand.New(rand.NewPCG(77, uint64(i%n))).IntN))
	}
	return rows
}

// memories keeps what grading works out of a lab, which is the same for every class that works it.
var memories = map[*lab.Lab]*grading.Memory{}

// graded grades rows.
func graded(t testing.TB, l *lab.Lab, rows []submission.Row) []grading.StudentResult {
	t.Helper()
	memory := memories[l]
	if memory == nil {
		memory = grading.NewMemory(l.Detail)
		memories[l] = memory
	}
	r, err := memory.Grade(l, rows, adjust.Decisions{})
	if err != nil {
		t.Fatal(err)
	}
	return r.Students
}

// meanMark is the mean of all marks.
func meanMark(students []grading.StudentResult) float64 {
	sum := 0.0
	for _, s := range students {
		sum += s.Mark
	}
	return sum / float64(len(students))
}
