package results

import (
	"context"
	"fmt"
	"math/rand/v2"
	"path/filepath"
	"strings"
	"testing"

	"nospark/grading"
	"nospark/grading/adjust"
	"nospark/grading/players"
	"nospark/grading/submission"
	"nospark/printouts/workbook/entry"
	"nospark/printouts/workbook/workbooktest"
	"nospark/scenarios/build"
	"nospark/scenarios/lab"
	"nospark/scenarios/pack"
	"nospark/scenarios/roster"
	"nospark/scenarios/term"
	"nospark/scenarios/testrun"
)

// builtLab builds a lab of a built-in pack for an invented class.
func builtLab(t testing.TB, name string, students int) *lab.Lab {
	t.Helper()
	text, err := pack.Source(name)
	if err != nil {
		t.Fatal(err)
	}
	plan, err := term.ParsePlan("plans/week05.toml", "title = \"Cranks, does not start\"\ndate = "+
		"2026-10-05\npack = \""+name+"\"\nspares = 2\n")
	if err != nil {
		t.Fatal(err)
	}
	var list []roster.Student
	for i := range students {
		list = append(list, roster.Student{ID: fmt.Sprintf("%04d", 17+i), Name: fmt.Sprintf("Student Number %d", i+1),
			Section: string(rune('A' + i%2))})
	}
	autumn := term.Term{ID: "test-term-1", Program: "Automotive Technology", Paper: "letter",
		Rubric: term.DefaultRubric(), Mastery: term.DefaultMastery()}
	l, _, err := build.Lab(context.Background(), build.Input{Term: autumn, Plan: plan, Students: list,
		Key:      term.Key{7, 7, 7},
		PackFile: name + ".toml", Pack: string(text)})
	if err != nil {
		t.Fatal(err)
	}
	return l
}

// play lets a class of different skill work on the lab; every seventh student hands in nothing.
func play(t testing.TB, l *lab.Lab) []submission.Row {
	t.Helper()
	class, err := players.New(l)
	if err != nil {
		t.Fatal(err)
	}
	draw := rand.New(rand.NewPCG(5, 7))
	rows := make([]submission.Row, len(l.Sheets))
	for i, s := range l.Sheets {
		if s.Student != "" && i%7 != 5 {
			rows[i] = class.Play(i, players.Skills()[i%len(players.Skills())], draw.IntN)
		}
	}
	return rows
}

// A class works, its sheets are typed into the form, the form is read and graded, and every mark of the results is the
// engine's and is worked out again by another program. What was typed must grade like what was played.
func TestFromFormToMarks(t *testing.T) {
	testrun.Slow(t, "fills in a whole form")
	l := builtLab(t, "single-coil", 24)
	played := play(t, l)
	entries := map[int]map[string]any{}
	var handed []submission.Row
	for i, row := range played {
		if row.Empty() {
			continue
		}
		handed = append(handed, row)
		cells := map[string]any{"repair": row.Repair}
		for k, step := range row.Steps {
			title := fmt.Sprintf("step %d", min(k+1, l.Rows))
			if before, ok := cells[title].(string); ok {
				cells[title] = before + " " + step.Text // more steps than columns: several in the last
			} else {
				cells[title] = step.Text
			}
		}
		entries[i] = cells
	}
	form, err := entry.Form(l)
	if err != nil {
		t.Fatal(err)
	}
	rows, remarks := submission.ReadWorkbook("entry.xlsx", workbooktest.Fill(t, form, entries))
	if len(remarks) > 0 {
		t.Errorf("remarks %+v", remarks)
	}
	result, err := grading.Grade(l, rows, adjust.Decisions{}, remarks...)
	if err != nil {
		t.Fatal(err)
	}
	direct, err := grading.Grade(l, handed, adjust.Decisions{})
	if err != nil {
		t.Fatal(err)
	}
	if len(result.Students) != len(direct.Students) {
		t.Fatalf("%d students from the form, %d played", len(result.Students), len(direct.Students))
	}
	for i, s := range result.Students {
		if d := direct.Students[i]; s.Student != d.Student || s.Status != d.Status || s.Mark != d.Mark {
			t.Errorf("%s: %s %v from the form, %s %v as played", s.Student, s.Status, s.Mark, d.Status, d.Mark)
		}
	}
	for _, p := range result.Problems {
		if !strings.Contains(p.What, "is a spare") { // about a row that nobody filled in
			t.Errorf("a form that was filled in properly has the problem %+v", p)
		}
	}
	out := workbooktest.Convert(t, workbooktest.AllSheets,
		workbooktest.ForgetValues(t, workbooktest.Open(t, results(t, l, result))))
	checkMarks(t, l, result, filepath.Join(out, "book0"), nil)
}
