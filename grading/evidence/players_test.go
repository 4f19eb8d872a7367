package evidence

import (
	"context"
	"fmt"
	"math/rand/v2"
	"testing"

	"nospark/grading/adjust"
	"nospark/grading/players"
	"nospark/grading/submission"
	"nospark/scenarios/build"
	"nospark/scenarios/lab"
	"nospark/scenarios/pack"
	"nospark/scenarios/roster"
	"nospark/scenarios/term"
)

// coilLab is a lab of a built-in pack for an invented class.
func coilLab(t testing.TB, students int) *lab.Lab {
	t.Helper()
	return labOf(t, "single-coil", "complaint = \"no-start\"\n", students)
}

// labOf is a lab of any built-in pack; more is what the plan says beside the pack.
func labOf(t testing.TB, name, more string, students int) *lab.Lab {
	t.Helper()
	source, err := pack.Source(name)
	if err != nil {
		t.Fatal(err)
	}
	plan, err := term.ParsePlan("week01.toml", fmt.Sprintf("title = \"No start\"\ndate = 2026-09-07\npack = %q\n%s",
		name, more))
	if err != nil {
		t.Fatal(err)
	}
	var class []roster.Student
	for i := range students {
		class = append(class, roster.Student{ID: fmt.Sprint(1001 + i), Name: fmt.Sprintf("Student %d", i+1),
			Section: "A"})
	}
	autumn := testTerm()
	autumn.Rubric = term.DefaultRubric()
	l, _, err := build.Lab(context.Background(), build.Input{Term: autumn, Plan: plan, Students: class,
		Key: testKey(), PackFile: name, Pack: string(source)})
	if err != nil {
		t.Fatal(err)
	}
	return l
}

// TestSkills plays a real lab: best play meets every opportunity and has one for every kind of test that it needs, so
// nobody is short of evidence for being quick; whoever guesses neither proves nor is economical.
func TestSkills(t *testing.T) {
	l := coilLab(t, 24)
	class, err := players.New(l)
	if err != nil {
		t.Fatal(err)
	}
	met, had := map[players.Skill]map[string]int{}, map[players.Skill]map[string]int{}
	for _, skill := range players.Skills() {
		met[skill], had[skill] = map[string]int{}, map[string]int{}
		random := rand.New(rand.NewPCG(3, 4))
		var rows []submission.Row
		for i := range l.Sheets {
			rows = append(rows, class.Play(i, skill, random.IntN))
		}
		result := grade(t, l, adjust.Decisions{}, rows...)
		for i, e := range FromResult(l, result, testTerm())[0].Students {
			seen := map[string]bool{}
			for _, x := range e.Evidence {
				seen[x.Competency] = true
				had[skill][x.Competency]++
				if x.Met {
					met[skill][x.Competency]++
				} else if skill == players.Expert {
					t.Errorf("best play on sheet %s does not meet %s: %s", e.Sheet, x.Competency, x.Why)
				}
			}
			for _, p := range result.Students[i].Path {
				if kind := ofTest(l.Tests[p.Test]); kind != "" && !seen[kind] && !e.Proven {
					t.Errorf("%s on sheet %s has no opportunity for %s, which best play needs", skill, e.Sheet, kind)
				}
			}
		}
	}
	share := func(skill players.Skill, id string) float64 { return float64(met[skill][id]) / float64(had[skill][id]) }
	if s := share(players.Guesser, Proof); s > 0.1 {
		t.Errorf("guessers prove %.0f %%", 100*s)
	}
	if s := share(players.Guesser, Economy); s > 0.2 {
		t.Errorf("guessers are economical on %.0f %% of their sheets", 100*s)
	}
	if a, b, c := share(players.Careful, Economy), share(players.Walker, Economy),
		share(players.Careful, Proof); a < b || c < 0.5 {
		t.Errorf("careful students are economical on %.2f, walkers on %.2f; careful ones prove %.2f", a, b, c)
	}
}
