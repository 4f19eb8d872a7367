package printouts

import (
	"context"
	"fmt"
	"math/rand/v2"
	"sync"
	"testing"

	"nospark/grading"
	"nospark/grading/adjust"
	"nospark/grading/bestplay"
	"nospark/grading/players"
	"nospark/grading/submission"
	"nospark/scenarios/build"
	"nospark/scenarios/lab"
	"nospark/scenarios/pack"
	"nospark/scenarios/roster"
	"nospark/scenarios/term"
	"nospark/scenarios/testrun"
)

// builtOnce keeps the labs of classes as their files hold them.
var builtOnce sync.Map

// classLab is a built lab of an invented class, which the test may change.
func classLab(t testing.TB, name string, students int, plan string) *lab.Lab {
	t.Helper()
	if name != "lamp" && name != "horn" {
		testrun.Slow(t, "works out a lab of "+name)
	}
	key := fmt.Sprint(name, students, plan)
	if data, known := builtOnce.Load(key); known {
		l, err := lab.Decode(name, data.([]byte))
		if err != nil {
			t.Fatal(err)
		}
		return l
	}
	text, err := pack.Source(name)
	if err != nil {
		t.Fatal(err)
	}
	in := build.Input{
		Term: term.Term{ID: "test-term-1", Program: "Example Technical Program", Paper: "letter",
			Rubric: term.DefaultRubric(), Mastery: term.DefaultMastery()},
		Key: term.Key{7, 7, 7}, PackFile: name + ".toml", Pack: string(text),
	}
	for i := range students {
		in.Students = append(in.Students, roster.Student{ID: fmt.Sprintf("s%02d", i), Name: sampleName(i),
			Section: "A"})
	}
	if in.Plan, err = term.ParsePlan("plans/week05.toml", "title = \"Week 5\"\ndate = 2026-10-05\npack = "+
		"\"x\"\n"+plan); err != nil {
		t.Fatal(err)
	}
	l, _, err := build.Lab(context.Background(), in)
	if err != nil {
		t.Fatal(err)
	}
	data, err := l.Encode()
	if err != nil {
		t.Fatal(err)
	}
	builtOnce.Store(key, data)
	return l
}

// read is a step that a student wrote on a sheet: the line of a test, with a verdict.
func read(s lab.Sheet, test int, verdict string) submission.Step {
	l := s.Lines[test]
	return submission.Step{Text: fmt.Sprintf("%03d%s%s", l.Number, l.Letters, verdict), Line: l.Number,
		Letters: l.Letters, Judged: verdict}
}

// rightly is a step judged as the reading asks for.
func rightly(lab *lab.Lab, s lab.Sheet, test int) submission.Step {
	if lab.Tests[test].Bands[s.Lines[test].Band].Normal {
		return read(s, test, "+")
	}
	return read(s, test, "-")
}

func graded(t testing.TB, lab *lab.Lab, rows []submission.Row, adjust adjust.Decisions) *grading.Result {
	t.Helper()
	r, err := grading.Grade(lab, rows, adjust)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// lampClass is a lab whose marks a person can check: six students on the lamp pack, each with another way of
// working. Best play takes 4.5 minutes on average, checks included, so that is the reference.
//
//	0 best play: 100
//	1 the battery first, which loses its 1.0 minute: 30 x 4.5/(4.5 + 2 x 1.0) = 20.8 for efficiency, 90.8 in all
//	2 no test and the wrong repair
//	3 best play, but wrong letters at the first step: provisional
//	4 nothing handed in
//	5 excused
func lampClass(t testing.TB) (*lab.Lab, *grading.Result) {
	t.Helper()
	lab := classLab(t, "lamp", 6, "")
	key, err := bestplay.NewKey(lab)
	if err != nil {
		t.Fatal(err)
	}
	var rows []submission.Row
	for i := range 4 {
		s, k := lab.Sheets[i], key.Sheets[i]
		row := submission.Row{Place: fmt.Sprintf("entry.xlsx, row %d", i+2), Student: s.Student, Reasoning: -1,
			Safe: -1}
		row.Repair = lab.Repairs[k.Repair].Code + lab.Repairs[k.Repair].Letters
		if i == 1 {
			row.Steps = append(row.Steps, read(s, 0, "+"))
		}
		for _, p := range k.Path {
			row.Steps = append(row.Steps, rightly(lab, s, p.Test))
		}
		switch i {
		case 2:
			other := lab.Repairs[(k.Repair+1)%len(lab.Repairs)]
			row.Steps, row.Repair = nil, other.Code+other.Letters
		case 3:
			row.Steps[0].Letters = "ZZ"
		}
		rows = append(rows, row)
	}
	return lab, graded(t, lab, rows, adjust.Decisions{Excuse: []adjust.Excuse{{Place: "adjust.toml:1",
		Student: lab.Sheets[5].Student, Reason: "at a competition that day"}}})
}

// playedClass is a class of simulated students of all skills.
func playedClass(t testing.TB, name string, students int) (*lab.Lab, *grading.Result) {
	t.Helper()
	lab := classLab(t, name, students, "spares = 1\n")
	class, err := players.New(lab)
	if err != nil {
		t.Fatal(err)
	}
	r := rand.New(rand.NewPCG(1, 2))
	var rows []submission.Row
	for i, s := range lab.Sheets {
		if s.Student == "" {
			continue
		}
		rows = append(rows, class.Play(i, players.Skills()[i%4], r.IntN))
	}
	return lab, graded(t, lab, rows, adjust.Decisions{})
}
