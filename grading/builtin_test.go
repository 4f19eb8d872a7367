package grading_test

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
)

// builtLab builds a lab of a built-in pack for an invented class. Without a complaint the build chooses one. It is nil
// where nothing needs testing.
func builtLab(t testing.TB, name, complaint string, students int) *lab.Lab {
	t.Helper()
	source, err := pack.Source(name)
	if err != nil {
		t.Fatal(err)
	}
	text := "title = \"A lab\"\ndate = 2026-10-05\npack = \"x\"\n"
	if complaint != "" {
		text += fmt.Sprintf("complaint = %q\n", complaint)
	}
	plan, err := term.ParsePlan("plans/week05.toml", text)
	if err != nil {
		t.Fatal(err)
	}
	var class []roster.Student
	for i := range students {
		class = append(class, roster.Student{ID: fmt.Sprintf("s%03d", i), Name: fmt.Sprintf("Student %03d", i),
			Section: "A"})
	}
	autumn := term.Term{ID: "test-term", Program: "Automotive Technology", Paper: "letter",
		Rubric: term.DefaultRubric(), Mastery: term.DefaultMastery()}
	lab, _, err := build.Lab(context.Background(), build.Input{
		Term: autumn, Plan: plan, Students: class, Key: term.Key{1}, PackFile: name + ".toml", Pack: string(source),
	})
	if err != nil && strings.Contains(err.Error(), "nothing needs testing") {
		return nil
	}
	if err != nil {
		t.Fatal(err)
	}
	return lab
}

// In labs of the built-in packs, as a class gets them: best play earns everything and takes the minutes that building
// promised, and a class that names any repair without a test averages under 25.
func TestBuiltinLabs(t *testing.T) {
	testrun.Slow(t, "works out large labs")
	for _, name := range []string{"lamp", "single-coil"} {
		lab := builtLab(t, name, "", 48)
		class, err := players.New(lab)
		if err != nil {
			t.Fatal(err)
		}
		r := rand.New(rand.NewPCG(11, 12))
		all := func(skill players.Skill, change func(*submission.Row)) []grading.StudentResult {
			var rows []submission.Row
			for i := range lab.Sheets {
				row := class.Play(i, skill, r.IntN)
				change(&row)
				rows = append(rows, row)
			}
			return grade(t, lab, adjust.Decisions{}, rows...).Students
		}
		for i, s := range all(players.Expert, func(*submission.Row) {}) {
			if s.Mark != 100 || s.Lost != 0 || s.Best != lab.Sheets[i].Minutes || s.Minutes != s.Best {
				t.Errorf("%s: best play of student %s: mark %v, lost %v, minutes %d of %d, promised %d", name,
					s.Student, s.Mark, s.Lost, s.Minutes, s.Best, lab.Sheets[i].Minutes)
			}
		}
		mean := 0.0
		for _, s := range all(players.Guesser, func(row *submission.Row) { row.Steps = nil }) {
			if s.Mark > float64(lab.Rubric.Diagnosis) {
				t.Errorf("%s: a guess earns %v", name, s.Mark)
			}
			mean += s.Mark / float64(len(lab.Sheets))
		}
		if mean >= 25 {
			t.Errorf("%s: guessers average %.1f, want less than 25", name, mean)
		}
	}
}
