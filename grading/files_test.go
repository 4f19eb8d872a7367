package grading_test

import (
	"strings"
	"testing"

	"nospark/grading"
	"nospark/grading/adjust"
	"nospark/grading/submission"
)

// A file that a student handed in speaks for the one whose id stands in its name; only the instructor's own speak for
// all.
func TestFileOfOneStudent(t *testing.T) {
	lab := lampLab()
	row := func(file, student string, change ...func(*submission.Row)) submission.Row {
		r := hand(lab, lampSheet, lampRepair, "1+", "2+")
		r.File, r.Place, r.Student = file, file+", row 2", student
		for _, c := range change {
			c(&r)
		}
		return r
	}
	check := func(name, want string, adjust adjust.Decisions, rows ...submission.Row) {
		t.Helper()
		got := summary(grade(t, lab, adjust, rows...))
		got = strings.NewReplacer(blank1, "", blank2, "", blank4, "").Replace(got)
		if got != want {
			t.Errorf("%s\n got:\n%s\nwant:\n%s", name, got, want)
		}
	}
	const good = "1003 K4-BCD graded 100\n"
	none := adjust.Decisions{}
	check("by the id", good, none, row("1003.csv", "1003"))
	check("among other words", good, none, row("Quill_1003_week 5 (2).csv", "1003"))
	check("without an id in the row", good, none, row("1003.csv", ""))
	check("with the own sheet", good, none, row("1003.csv", "", func(r *submission.Row) { r.Sheet = "k4 bcd" }))
	check("an id within a number is none", blank3+
		"! 21003.csv: the file's name has no id of this lab, so nothing in it counts; put the student's id into the "+
		"file's name; "+
		"if it is a list of your own, write [[trust]] file = \"21003.csv\" into adjust.toml\n", none, row("21003.csv",
		"1003"))
	check("two ids", blank3+
		"! 1002-1003.csv: the file's name has the ids of several students, so nothing in it counts; put the "+
		"student's id into the file's name; "+
		"if it is a list of your own, write [[trust]] file = \"1002-1003.csv\" into adjust.toml\n", none, row("1002-1003.csv", "1003"))
	check("a row for another", blank3+
		"! 1002.csv, row 2: the file is that of student 1002, but the row is for student \"1003\"; it was set aside; "+
		"if it is right, enter it into your own form\n",
		none, row("1002.csv", "1003"))
	check("another's sheet", blank3+
		"! 1002.csv, row 2: the file is that of student 1002, but the row is for sheet K4-BCD of student 1003; it "+
		"was set aside; if it is right, enter it into your own form\n",
		none, row("1002.csv", "", func(r *submission.Row) { r.Sheet = "K4-BCD" }))
	check("a row set aside is no second row", good+
		"! 1002.csv, row 2: the file is that of student 1002, but the row is for student \"1003\"; it was set aside; "+
		"if it is right, enter it into your own form\n",
		none, row("", "1003"), row("1002.csv", "1003", func(r *submission.Row) { r.Repair = "11BD" }))
	check("nobody gets a zero from another's file", blank3+
		"! 1002.csv, row 2: the file is that of student 1002, but the row is for student \"1003\"; it was set aside; "+
		"if it is right, enter it into your own form\n",
		none, row("1002.csv", "1003", func(r *submission.Row) { r.Steps = nil }))
	trust := adjust.Decisions{Trust: []adjust.Trust{{Place: "adjust.toml:1", File: "sub.csv", Reason: "the substitute"}}}
	check("a trusted file", good, trust, row("sub.csv", "1003"))

	rated := row("1003.csv", "1003", func(r *submission.Row) { r.Reasoning, r.Safe = 4, 1 })
	r := grade(t, lab, none, rated)
	if s := of(t, r, "1003"); s.Reasoning != -1 || s.Safe != -1 || s.Mark != 100 || len(r.Problems) != 1 {
		t.Errorf("rated by the own file: %+v, %v", s, r.Problems)
	}
	own := row("", "1003", func(r *submission.Row) { r.Reasoning, r.Safe = 2, 0 })
	if s := of(t, grade(t, lab, none, own, rated), "1003"); s.Reasoning != 2 || s.Safe != 0 ||
		s.Status != grading.Graded {
		t.Errorf("rated by the instructor too: %+v", s)
	}
}

// Of two different rows none counts until the instructor chooses one.
func TestChooseAndWorked(t *testing.T) {
	lab := lampLab()
	a := hand(lab, lampSheet, lampRepair, "1+", "2+")
	b := hand(lab, lampSheet, groundRepair, "1+")
	a.Place, b.Place, b.File = "entry.xlsx, row 4", "1003.csv, row 2", "1003.csv"
	choose := func(row string) adjust.Decisions {
		return adjust.Decisions{Choose: []adjust.Choose{{Place: "adjust.toml:1", Student: "1003", Row: row,
			Reason: "asked"}}}
	}
	check := func(name string, adjust adjust.Decisions, status grading.Status, repair string, rows ...submission.Row) {
		t.Helper()
		if s := of(t, grade(t, lab, adjust, rows...), "1003"); s.Status != status || s.Wrote != repair {
			t.Errorf("%s: %s with %s, want %s with %s", name, s.Status, s.Wrote, status, repair)
		}
	}
	check("undecided", adjust.Decisions{}, grading.Incomplete, "12HM", a, b)
	check("the first", choose(a.Place), grading.Graded, "12HM", a, b)
	check("the second", choose(b.Place), grading.Graded, "13KQ", a, b)
	check("the second, in another order", choose(b.Place), grading.Graded, "13KQ", b, a)
	if _, err := grading.Grade(lab, []submission.Row{a, b}, choose("1003.csv, row 3")); err == nil ||
		!strings.Contains(err.Error(),
			`adjust.toml:1: there is no row "1003.csv, row 3"; did you mean "1003.csv, row 2"?`) {
		t.Errorf("a row that does not exist: %v", err)
	}

	// 1001 and 1003 swapped their sheets: each worked on the other's, and is graded on it in full.
	swap := adjust.Decisions{Worked: []adjust.Worked{
		{Place: "adjust.toml:1", Student: "1001", Sheet: "k4bcd", Reason: "swapped"},
		{Place: "adjust.toml:5", Student: "1003", Sheet: "K2-BCD", Reason: "swapped"},
	}}
	one, three := hand(lab, lampSheet, lampRepair, "1+", "2+"), hand(lab, switchOpenSheet, switchRepair, "1-")
	one.Student, one.Sheet, three.Student = "1001", "K4-BCD", "1003"
	r := grade(t, lab, swap, one, three)
	for id, want := range map[string]string{"1001": "K4-BCD Student A 100 graded",
		"1003": "K2-BCD Student C 100 graded"} {
		s := of(t, r, id)
		if got := s.Sheet + " " + s.Name + " 100 " + string(s.Status); got != want || s.Mark != 100 ||
			len(s.Steps) == 0 || s.Steps[0].State != grading.Counted {
			t.Errorf("%s: %s, mark %v, steps %+v", id, got, s.Mark, s.Steps)
		}
	}
	if len(r.Problems) != 0 || len(r.Students) != 4 {
		t.Errorf("%d students, problems %v", len(r.Students), r.Problems)
	}
}

// Whoever left after a few steps has no mark yet; whoever had nothing left to test and wrote no repair has one.
func TestIncomplete(t *testing.T) {
	lab := lampLab()
	check := func(status grading.Status, adjust adjust.Decisions, tests ...string) {
		t.Helper()
		r := grade(t, lab, adjust, hand(lab, lampSheet, -1, tests...))
		if s := of(t, r, "1003"); s.Status != status || len(r.Problems) != 1 {
			t.Errorf("%v: %s, %v", tests, s.Status, r.Problems)
		}
	}
	check(grading.Incomplete, adjust.Decisions{}, "0+")
	check(grading.Incomplete, adjust.Decisions{}, "0+", "1+")
	check(grading.Graded, adjust.Decisions{}, "1+", "2+")
	check(grading.Graded, adjust.Decisions{Confirm: []adjust.Confirm{{Place: "adjust.toml:1", Student: "1003",
		Reason: "had to leave"}}}, "0+")
}

// A line that the partner misread costs the student nothing once the instructor has marked it.
func TestMisread(t *testing.T) {
	lab := lampLab()
	row := hand(lab, lampSheet, lampRepair, "1+", "3-", "2+") // the ohms of the lamp, 5 minutes, were not asked for
	misread := adjust.Decisions{Misread: []adjust.Misread{{Place: "adjust.toml:1", Student: "1003", Step: 2,
		Reason: "wrong line"}}}
	if s := of(t, grade(t, lab, adjust.Decisions{}, row), "1003"); s.Mark >= 100 || s.Minutes != 90 {
		t.Errorf("as handed in: %v in %d tenths", s.Mark, s.Minutes)
	}
	if s := of(t, grade(t, lab, misread, row), "1003"); s.Mark != 100 || s.Minutes != 40 ||
		s.Steps[1].State != grading.Dropped {
		t.Errorf("misread: %v in %d tenths, %+v", s.Mark, s.Minutes, s.Steps[1])
	}
	misread.Misread[0].Step = 4
	if _, err := grading.Grade(lab, []submission.Row{row}, misread); err == nil ||
		!strings.Contains(err.Error(), "there is no step 4") {
		t.Errorf("a step that is not there: %v", err)
	}
}
