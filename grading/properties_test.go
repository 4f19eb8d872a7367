package grading_test

import (
	"encoding/json"
	"fmt"
	"math"
	"math/rand/v2"
	"reflect"
	"slices"
	"testing"

	"nospark/grading"
	"nospark/grading/adjust"
	"nospark/grading/bestplay"
	"nospark/grading/players"
	"nospark/grading/submission"
	"nospark/scenarios/isolation"
	"nospark/scenarios/lab"
)

// play lets a player of the skill work on every sheet.
func play(t *testing.T, lab *lab.Lab, skill players.Skill, r *rand.Rand) []submission.Row {
	t.Helper()
	class, err := players.New(lab)
	if err != nil {
		t.Fatal(err)
	}
	var rows []submission.Row
	for i := range lab.Sheets {
		rows = append(rows, class.Play(i, skill, r.IntN))
	}
	return rows
}

// randomPlay takes random tests with random verdicts and concludes at random.
func randomPlay(lab *lab.Lab, sheet int, r *rand.Rand) submission.Row {
	var tests []string
	for _, t := range r.Perm(len(lab.Tests))[:r.IntN(len(lab.Tests)+1)] {
		verdict := "+"
		if line := lab.Sheets[sheet].Lines[t]; !lab.Tests[t].Bands[line.Band].Normal != (r.IntN(5) == 0) {
			verdict = "-"
		}
		tests = append(tests, fmt.Sprint(t, verdict))
	}
	return hand(lab, sheet, r.IntN(len(lab.Repairs)), tests...)
}

func TestBestPlayEarnsAll(t *testing.T) {
	manyLabs(t, 150, func(t *testing.T, r *rand.Rand, lab *lab.Lab) {
		for _, s := range grade(t, lab, adjust.Decisions{}, play(t, lab, players.Expert, r)...).Students {
			if s.Mark != 100 || s.Status != grading.Graded || s.Lost != 0 || s.Minutes != s.Best {
				t.Errorf("student %s: mark %v, %s, lost %v, %d of %d minutes", s.Student, s.Mark, s.Status, s.Lost,
					s.Minutes, s.Best)
			}
		}
	})
}

// Whatever a student does, marks stay within bounds, lost minutes within those of the step, and nothing but best play
// that is judged rightly earns everything.
func TestMarksStayWithinBounds(t *testing.T) {
	manyLabs(t, 150, func(t *testing.T, r *rand.Rand, lab *lab.Lab) {
		var rows []submission.Row
		for i := range lab.Sheets {
			rows = append(rows, randomPlay(lab, i, r))
		}
		for _, s := range grade(t, lab, adjust.Decisions{}, rows...).Students {
			if s.Status == grading.Blank {
				continue
			}
			if !(s.Mark >= 0 && s.Mark <= 100) || s.Evidence < 0 || s.Evidence > 1 || s.Mark == 100 && s.Lost > 0 {
				t.Errorf("student %s: mark %v, evidence %v, lost %v", s.Student, s.Mark, s.Evidence, s.Lost)
			}
			if len(s.Steps) == 0 && s.Mark > 40 {
				t.Errorf("student %s: a guess earns %v", s.Student, s.Mark)
			}
			for _, step := range s.Steps {
				if step.Lost < 0 || step.Lost > float64(step.Minutes) || step.After > step.Before ||
					(step.Better >= 0) != (step.Lost > 0 && step.Value > 0) {
					t.Errorf("student %s: step %+v", s.Student, step)
				}
			}
		}
	})
}

// worthless is a test of which everybody's reading is the same, added to a lab.
func worthless(l *lab.Lab) (index int) {
	index = len(l.Tests)
	l.Tests = append(l.Tests, lab.Test{
		ID: "worthless", Minutes: 1, Column: -1, Point: -1, Compare: -1,
		Bands: []lab.Band{{Name: "normal", Normal: true}},
	})
	for i := range l.Hypotheses {
		l.Hypotheses[i].Bands += "0"
	}
	for i := range l.Sheets {
		l.Sheets[i].Lines = append(l.Sheets[i].Lines, lab.Line{Number: 1 + i, Letters: "ZZ"})
	}
	return index
}

// A class that guesses by the prior, or always guesses the likeliest repair, with or without a worthless test first,
// averages under 25. The mean is exact: over the sheets by the weight of their fault, over the guesses by their chance.
// It needs a lab in which no repair is right in more than 62.5 % of the cases, because a right guess earns 40;
// randomLab sees to 60 %.
func TestGuessersAverageUnder25(t *testing.T) {
	check := func(t *testing.T, lab *lab.Lab) {
		t.Helper()
		w := worthless(lab)
		var total int64
		chance := make([]int64, len(lab.Repairs))
		for _, h := range lab.Hypotheses {
			total += h.Weight
			chance[lab.Faults[h.Fault].Repair] += h.Weight
		}
		for _, tests := range [][]string{nil, {fmt.Sprint(w, "+")}} {
			mean, likeliest := 0.0, make([]float64, len(lab.Repairs))
			for repair := range lab.Repairs {
				var rows []submission.Row
				for i := range lab.Hypotheses {
					rows = append(rows, hand(lab, i, repair, tests...))
				}
				result := grade(t, lab, adjust.Decisions{}, rows...)
				for i, h := range lab.Hypotheses {
					s := of(t, result, lab.Sheets[i].Student)
					p := float64(h.Weight) / float64(total)
					mean += s.Mark * p * float64(chance[repair]) / float64(total)
					likeliest[repair] += s.Mark * p
				}
			}
			if mean >= 25 || slices.Max(likeliest) >= 25 {
				t.Errorf("with tests %v guessers average %.1f, those who know the likeliest repair %.1f", tests, mean,
					slices.Max(likeliest))
			}
		}
	}
	lamp := lampLab()
	lamp.Sheets = lamp.Sheets[:spareSheet]
	check(t, lamp)
	manyLabs(t, 100, func(t *testing.T, _ *rand.Rand, lab *lab.Lab) { check(t, lab) })
}

// Leaving a verdict out never earns more than writing one, right or wrong.
func TestSkippingVerdictsNeverPays(t *testing.T) {
	manyLabs(t, 100, func(t *testing.T, r *rand.Rand, lab *lab.Lab) {
		for i := range lab.Sheets {
			row := randomPlay(lab, i, r)
			if len(row.Steps) == 0 {
				continue
			}
			mark := of(t, grade(t, lab, adjust.Decisions{}, row), row.Student).Mark
			for k := range row.Steps {
				less := row
				less.Steps = slices.Clone(row.Steps)
				less.Steps[k].Judged = ""
				if m := of(t, grade(t, lab, adjust.Decisions{}, less), row.Student).Mark; m > mark {
					t.Errorf("sheet %d without verdict %d: %v instead of %v", i, k+1, m, mark)
				}
			}
		}
	})
}

// A test whose answer is certain, a line read again and a test after the proof never pay, wherever they stand and
// however they are judged.
func TestPaddingNeverPays(t *testing.T) {
	manyLabs(t, 60, func(t *testing.T, r *rand.Rand, lab *lab.Lab) {
		w := worthless(lab)
		for i := range lab.Sheets {
			row := randomPlay(lab, i, r)
			if len(row.Steps) == 0 {
				continue
			}
			before := of(t, grade(t, lab, adjust.Decisions{}, row), row.Student)
			try := func(at int, pad submission.Row) {
				t.Helper()
				more := row
				more.Steps = slices.Insert(slices.Clone(row.Steps), at, pad.Steps...)
				after := of(t, grade(t, lab, adjust.Decisions{}, more), row.Student)
				if after.Mark > before.Mark || after.Evidence > 0 && after.Mark == before.Mark {
					t.Errorf("sheet %d: %d steps at %d raise the mark from %v to %v", i, len(pad.Steps), at,
						before.Mark, after.Mark)
				}
			}
			for at := range len(row.Steps) + 1 {
				try(at, hand(lab, i, -1, fmt.Sprint(w, "+")))
				try(at, hand(lab, i, -1, fmt.Sprint(w, "-")))
				try(at, hand(lab, i, -1, fmt.Sprint(w, "+"), fmt.Sprint(w, "+"), fmt.Sprint(w, "+")))
			}
			try(len(row.Steps), submission.Row{Steps: row.Steps[:1]})
			if before.LostEarly == 0 {
				for test := range lab.Tests {
					right := "+"
					if !lab.Tests[test].Bands[lab.Sheets[i].Lines[test].Band].Normal {
						right = "-"
					}
					try(len(row.Steps), hand(lab, i, -1, fmt.Sprint(test, right)))
				}
			}
		}
	})
}

// Minutes spent = V(start) - V(end) + lost minutes + luck, and the luck has mean zero over the faults, whatever the
// policy. The policy here depends on nothing but what is known, like a student's.
func TestLuckHasMeanZero(t *testing.T) {
	manyLabs(t, 150, func(t *testing.T, r *rand.Rand, lab *lab.Lab) {
		salt := r.IntN(1000)
		s, err := bestplay.NewSuspects(lab, 0, nil, nil)
		if err != nil {
			t.Fatal(err)
		}
		policy := func(set isolation.Set, step int) int {
			return (int(set[0]%1009)*31 + 7*step +
				salt) % len(lab.Tests)
		}
		var rows []submission.Row
		steps := 1 + r.IntN(6)
		for i := range lab.Sheets {
			set := s.All()
			var tests []string
			for k := range steps {
				test := policy(set, k)
				tests = append(tests, fmt.Sprint(test, "+"))
				set = s.After(set, test, lab.Sheets[i].Lines[test].Band)
			}
			rows = append(rows, hand(lab, i, 0, tests...))
		}
		result := grade(t, lab, adjust.Decisions{}, rows...)
		luck, scale := 0.0, 0.0
		start := s.Value(s.All())
		for i, h := range lab.Hypotheses {
			one := of(t, result, lab.Sheets[i].Student)
			luck += float64(h.Weight) * (float64(one.Minutes) - (start - one.LostEarly + one.LostSteps))
			scale += float64(h.Weight) * float64(one.Minutes)
		}
		if math.Abs(luck) > 1e-9*scale {
			t.Errorf("mean luck %v of %v", luck, scale)
		}
	})
}

// Every student's result is the same in whatever order the rows come.
func TestOrderOfRowsDoesNotMatter(t *testing.T) {
	manyLabs(t, 30, func(t *testing.T, r *rand.Rand, lab *lab.Lab) {
		var rows []submission.Row
		for i := range lab.Sheets {
			rows = append(rows, randomPlay(lab, i, r))
		}
		want := grade(t, lab, adjust.Decisions{}, rows...)
		r.Shuffle(len(rows), func(i, j int) { rows[i], rows[j] = rows[j], rows[i] })
		got := grade(t, lab, adjust.Decisions{}, rows...)
		if !reflect.DeepEqual(got.Students, want.Students) || !reflect.DeepEqual(got.Alike, want.Alike) {
			t.Error("results differ")
		}
	})
}

// A result survives JSON, in which it is kept.
func TestResultSurvivesJSON(t *testing.T) {
	lab := lampLab()
	want := grade(t, lab, adjust.Decisions{}, hand(lab, lampSheet, groundRepair, "0-", "1+"), hand(lab, groundSheet, -1,
		"1+", "2-"))
	text, err := json.Marshal(want)
	if err != nil {
		t.Fatal(err)
	}
	var got grading.Result
	if err := json.Unmarshal(text, &got); err != nil {
		t.Fatal(err)
	}
	if !reflect.DeepEqual(&got, want) {
		t.Errorf("got %+v\nwant %+v", got, want)
	}
}
