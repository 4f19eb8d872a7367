package evidence

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"

	"nospark/grading"
	"nospark/grading/adjust"
	"nospark/grading/players"
	"nospark/grading/submission"
	"nospark/scenarios/chances"
	"nospark/scenarios/lab"
)

// TestChancesAreOpportunities: what a lab promises before anybody has worked on it is what the records say afterwards,
// kind by kind, whoever worked on it.
func TestChancesAreOpportunities(t *testing.T) {
	const students = 12
	skills := players.Skills()
	for _, plan := range []string{"complaint = \"silent\"\n", "complaint = \"silent\"\nknown = 0\n",
		"complaint = \"weak\"\n"} {
		l := labOf(t, "horn", plan, students)
		rows, err := chances.Of(l, func(int) bool { return true }, true)
		if err != nil {
			t.Fatal(err)
		}
		class, err := players.New(l)
		if err != nil {
			t.Fatal(err)
		}
		var handed []submission.Row
		random := rand.New(rand.NewPCG(5, 6))
		for i := range l.Sheets {
			handed = append(handed, class.Play(i, skills[i%len(skills)], random.IntN))
		}
		result, err := grading.Grade(l, handed, adjust.Decisions{})
		if err != nil {
			t.Fatal(err)
		}
		compared := 0
		for _, e := range FromResult(l, result, testTerm())[0].Students {
			if e.Status != grading.Graded || !e.Worked {
				continue
			}
			compared++
			var told []string
			for _, x := range e.Evidence {
				if !slices.Contains([]string{Economy, Proof, Reasoning, SafeWorking}, x.Competency) {
					told = append(told, x.Competency)
				}
			}
			slices.Sort(told)
			at := slices.IndexFunc(l.Sheets, func(s lab.Sheet) bool { return s.Code == e.Sheet })
			if promised := promise(t, l, rows, at); fmt.Sprint(told) != fmt.Sprint(promised) {
				t.Errorf("%s: sheet %s gave opportunities for %v, promised %v", plan, e.Sheet, told, promised)
			}
		}
		if compared < students-2 {
			t.Errorf("%s: only %d sheets were compared", plan, compared)
		}
	}
}

// promise is what chances says of the row of a sheet.
func promise(t *testing.T, l *lab.Lab, rows [][]chances.Row, sheet int) []string {
	t.Helper()
	s := l.Sheets[sheet]
	world, err := l.World(s.Complaint, nil, nil)
	if err != nil {
		t.Fatal(err)
	}
	at := 0
	for h := range world.Rows(world.Start(l.Cases[s.Case].Known)).All() {
		if h == s.Truth {
			return rows[s.Case][at].Kinds
		}
		at++
	}
	t.Fatalf("sheet %s hides no row of its case", s.Code)
	return nil
}
