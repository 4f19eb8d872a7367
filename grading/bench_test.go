package grading_test

import (
	"fmt"
	"reflect"
	"strings"
	"testing"

	"nospark/grading"
	"nospark/grading/adjust"
	"nospark/grading/attempt"
	"nospark/grading/handin"
	"nospark/grading/submission"
	"nospark/scenarios/lab"
)

// benched is what the bench records when a student does on it what a row says.
func benched(t testing.TB, l *lab.Lab, sheet int, row submission.Row) *attempt.Room {
	t.Helper()
	room := attempt.NewRoom()
	s := &l.Sheets[sheet]
	do := func(e attempt.Event) {
		t.Helper()
		e.Sheet = s.Code
		if err := room.Apply(e); err != nil {
			t.Fatal(err)
		}
	}
	if s.Student == "" && row.Student != "" {
		do(attempt.Event{Kind: attempt.Give, Student: row.Student, Name: row.Name})
	}
	for i, step := range row.Steps {
		for at, line := range s.Lines {
			if line.Number == step.Line {
				do(attempt.Event{Kind: attempt.Commit, Key: fmt.Sprint(i), Test: l.Tests[at].ID, Expect: "x"})
			}
		}
		switch step.Judged {
		case "+":
			do(attempt.Event{Kind: attempt.Judge, Step: i + 1, Good: attempt.Good})
		case "-":
			do(attempt.Event{Kind: attempt.Judge, Step: i + 1, Good: attempt.Bad})
		}
	}
	if row.Repair != "" {
		do(attempt.Event{Kind: attempt.Conclude, Key: "end", Repair: row.Repair})
	}
	return room
}

// TestBenchAndPaperGiveTheSameMark: the same steps by the journal and on paper give equal results, to the last field.
func TestBenchAndPaperGiveTheSameMark(t *testing.T) {
	l := lampLab()
	rows := []struct {
		sheet int
		row   submission.Row
	}{
		{switchOpenSheet, hand(l, switchOpenSheet, switchRepair, "1-")},
		{burntSheet, hand(l, burntSheet, lampRepair, "0+", "1+", "2+", "2")},
		{lampSheet, hand(l, lampSheet, lampRepair, "1+", "2+", "3-")},
		{groundSheet, hand(l, groundSheet, -1, "0+")},
	}
	for _, r := range rows {
		onPaper := grade(t, l, adjust.Decisions{}, r.row)
		onBench := grade(t, l, adjust.Decisions{}, handin.BenchRows(l, benched(t, l, r.sheet, r.row))...)
		id := l.Sheets[r.sheet].Student
		if p, b := of(t, onPaper, id), of(t, onBench, id); !reflect.DeepEqual(p, b) {
			t.Errorf("on paper\n%+v\non the bench\n%+v", p, b)
		}
	}
}

// TestPaperGoesOn: what was recorded and what was keyed in become one record where they do not contradict each other.
func TestPaperGoesOn(t *testing.T) {
	l := lampLab()
	whole := hand(l, lampSheet, lampRepair, "1+", "2+", "3-")
	want := of(t, grade(t, l, adjust.Decisions{}, whole), "1003").Mark
	begun := hand(l, lampSheet, -1, "1+", "2+")
	concluded := hand(l, lampSheet, lampRepair, "1+", "2+")
	from := func(n, repair int, tests ...string) submission.Row {
		row := hand(l, lampSheet, repair, tests...)
		row.From = n
		return row
	}
	check := func(bench, paper submission.Row, status grading.Status, mark float64, why ...string) {
		t.Helper()
		rows := append(handin.BenchRows(l, benched(t, l, lampSheet, bench)), paper)
		got := of(t, grade(t, l, adjust.Decisions{}, rows...), "1003")
		if got.Status != status || mark >= 0 && got.Mark != mark {
			t.Errorf("%s %.1f (%s), want %s %.1f", got.Status, got.Mark, got.Why, status, mark)
		}
		for _, part := range why {
			if !strings.Contains(got.Why, part) {
				t.Errorf("reason %q lacks %q", got.Why, part)
			}
		}
	}
	check(begun, whole, grading.Graded, want)                                                  // from the beginning
	check(begun, from(3, lampRepair, "3-"), grading.Graded, want)                              // from step 3
	check(whole, whole, grading.Graded, want)                                                  // the same twice
	check(hand(l, lampSheet, -1, "1+", "2+", "3-"), from(0, lampRepair), grading.Graded, want) // only the conclusion
	empty := submission.Row{Place: "entry.xlsx, row 4", Student: "1003", Reasoning: -1, Safe: -1}
	check(whole, empty, grading.Graded, want)

	both := fmt.Sprintf("%.1f by paper (entry.xlsx, row 4)", want)
	check(begun, hand(l, lampSheet, lampRepair, "1+"), grading.Provisional, -1, "paper and bench differ",
		"by the bench")
	check(hand(l, lampSheet, -1, "1-", "2+"), whole, grading.Provisional, -1, both)                  // another verdict
	check(begun, from(2, lampRepair, "2+", "3-"), grading.Provisional, -1, "paper and bench differ") // step 2 twice
	// a step is missing
	check(begun, from(5, lampRepair, "3-"), grading.Provisional, -1, "paper and bench differ")
	// goes on after the conclusion
	check(concluded, whole, grading.Provisional, -1, both)
	check(whole, hand(l, lampSheet, groundRepair, "1+", "2+", "3-"), grading.Provisional, want,
		fmt.Sprintf("%.1f by the bench", want))

	choose := func(place string, mark float64) {
		t.Helper()
		adjust := adjust.Decisions{Choose: []adjust.Choose{{Student: "1003", Row: place, Reason: "asked"}}}
		rows := append(handin.BenchRows(l, benched(t, l, lampSheet, concluded)), whole)
		if got := of(t, grade(t, l, adjust, rows...), "1003"); got.Status != grading.Graded || got.Mark != mark {
			t.Errorf("%s chosen: %s %.1f (%s), want %.1f", place, got.Status, got.Mark, got.Why, mark)
		}
	}
	choose(whole.Place, want)
	choose("bench.journal, sheet K4-BCD", of(t, grade(t, l, adjust.Decisions{}, concluded), "1003").Mark)
}

// TestChosenRowGoesOn: an instructor who chooses a row that says from which step it goes on wants it joined to what the
// bench recorded; where the two do not meet, the choice does not make a whole record of it.
func TestChosenRowGoesOn(t *testing.T) {
	l := lampLab()
	whole := hand(l, lampSheet, lampRepair, "1+", "2+", "3-")
	begun := hand(l, lampSheet, -1, "1+", "2+")
	rest := hand(l, lampSheet, lampRepair, "3-")
	rulings := adjust.Decisions{Choose: []adjust.Choose{{Student: "1003", Row: rest.Place, Reason: "asked"}}}
	for from, want := range map[int]grading.Status{3: grading.Graded, 5: grading.Provisional} {
		rest.From = from
		rows := append(handin.BenchRows(l, benched(t, l, lampSheet, begun)), rest)
		got := of(t, grade(t, l, rulings, rows...), "1003")
		if got.Status != want {
			t.Errorf("from step %d: %s (%s), want %s", from, got.Status, got.Why, want)
		}
		if mark := of(t, grade(t, l, adjust.Decisions{}, whole), "1003").Mark; from == 3 && got.Mark != mark {
			t.Errorf("from step %d: %.1f, want %.1f", from, got.Mark, mark)
		}
		if gap := "the steps before step 5 are missing"; strings.Contains(got.Why, gap) != (from == 5) {
			t.Errorf("from step %d: %q; want a word on what is missing only from step 5", from, got.Why)
		}
	}
}

// TestPaperWithoutBench: a row that goes on from a step which nobody recorded.
func TestPaperWithoutBench(t *testing.T) {
	l := lampLab()
	row := hand(l, lampSheet, lampRepair, "3-")
	row.From = 3
	got := of(t, grade(t, l, adjust.Decisions{}, row), "1003")
	if got.Status != grading.Provisional || !strings.Contains(got.Why, "the steps before step 3 are missing") {
		t.Errorf("%s: %s", got.Status, got.Why)
	}
}

// TestTakenBackSteps count for nothing, cost nothing and keep their numbers for adjust.toml.
func TestTakenBackSteps(t *testing.T) {
	l := lampLab()
	want := of(t, grade(t, l, adjust.Decisions{}, hand(l, lampSheet, lampRepair, "1+", "2+")), "1003").Mark
	room := benched(t, l, lampSheet, hand(l, lampSheet, lampRepair, "0+", "1+", "2-"))
	if err := room.Apply(attempt.Event{Kind: attempt.Void, Sheet: l.Sheets[lampSheet].Code, Step: 1,
		Reason: "slip"}); err != nil {
		t.Fatal(err)
	}
	s := l.Sheets[lampSheet].Lines[2]
	adjust := adjust.Decisions{Correct: []adjust.Correct{{Student: "1003", Step: 3, To: fmt.Sprintf("%03d%s+", s.Number,
		s.Letters), Reason: "x"}}}
	got := of(t, grade(t, l, adjust, handin.BenchRows(l, room)...), "1003")
	if got.Mark != want || got.Steps[0].State != grading.Dropped || got.Minutes != 40 { // two tests of 2 minutes
		t.Errorf("mark %.1f, want %.1f; %+v", got.Mark, want, got.Steps)
	}
}

// TestBenchOfLatecomers: whoever was given a spare is graded on it, and an attempt in which nothing was done is no row.
func TestBenchOfLatecomers(t *testing.T) {
	l := lampLab()
	row := hand(l, spareSheet, lampRepair, "1+", "2+", "3-")
	row.Student, row.Name = "2001", "New Here"
	room := benched(t, l, spareSheet, row)
	if err := room.Apply(attempt.Event{Kind: attempt.Claim, Sheet: l.Sheets[lampSheet].Code}); err != nil {
		t.Fatal(err)
	}
	rows := handin.BenchRows(l, room)
	if len(rows) != 1 {
		t.Fatalf("%d rows", len(rows))
	}
	got := of(t, grade(t, l, adjust.Decisions{}, rows...), "2001")
	if got.Name != "New Here" || !got.Status.HasMark() || got.Sheet != l.Sheets[spareSheet].Code {
		t.Errorf("%+v", got)
	}
	if s := of(t, grade(t, l, adjust.Decisions{}, rows...), "1003"); s.Status != grading.Blank {
		t.Errorf("claimed only: %s", s.Status)
	}
}
