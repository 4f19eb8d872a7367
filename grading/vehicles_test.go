package grading_test

import (
	"fmt"
	"strings"
	"testing"

	"nospark/grading"
	"nospark/grading/adjust"
	"nospark/grading/submission"
	"nospark/scenarios/lab"
)

// twoVehicles is the open lamp with two sheets each: student 1001 has K2 and K4, 1002 has K3 and K5.
func twoVehicles() *lab.Lab {
	l := openLamp()
	l.Vehicles = 2
	for i := range 4 {
		l.Sheets[i].Student, l.Sheets[i].Name, l.Sheets[i].Vehicle = fmt.Sprint(1001+i%2), "Student", 1+i/2
	}
	return l
}

func TestSeveralVehicles(t *testing.T) {
	l := twoVehicles()
	on := func(sheet, repair int, tests ...string) submission.Row {
		row := hand(l, sheet, repair, tests...)
		row.Sheet = l.Sheets[sheet].Code
		return row
	}
	check := func(name, text, want string, rows ...submission.Row) *grading.Result {
		t.Helper()
		a, err := adjust.Read("adjust.toml", []byte(text))
		if err != nil {
			t.Fatal(err)
		}
		r := grade(t, l, a, rows...)
		var got []string
		for _, m := range r.Marks {
			text := fmt.Sprintf("%s %s", m.Student, m.Status)
			if m.Status.HasMark() {
				text += fmt.Sprintf(" %.2f from %.2f to %.2f", m.Mark, m.Low, m.High)
			}
			got = append(got, fmt.Sprint(text, " ", m.Results))
		}
		if text := strings.Join(got, "; "); text != want {
			t.Errorf("%s\n got %s\nwant %s", name, text, want)
		}
		return r
	}
	best, half := on(switchOpenSheet, switchRepair, "1-", "0+"), on(lampSheet,
		lampRepair) // 100, and a lucky guess: 12.70
	const none = "; 1002 blank [1 3]"
	r := check("both", "", "1001 graded 56.35 from 12.70 to 100.00 [0 2]"+none, best, half)
	if len(r.Students) != 4 || r.Students[2].Vehicle != 2 || len(r.Problems) != 0 {
		t.Errorf("%d results, vehicle %d, problems %v", len(r.Students), r.Students[2].Vehicle, r.Problems)
	}
	check("one is missing", "", "1001 incomplete [0 2]"+none, best)
	check("excused from it", "[[excuse]]\nstudent = \"1001\"\nsheet = \"K4-BCD\"\nreason = \"x\"\n",
		"1001 graded 100.00 from 100.00 to 100.00 [0 2]"+none, best)
	check("zeroed", "[[mark]]\nstudent = \"1001\"\nsheet = \"K4-BCD\"\nvalue = 0\nreason = \"x\"\n",
		"1001 graded 50.00 from 0.00 to 100.00 [0 2]"+none, best)
	check("excused from all", "[[excuse]]\nstudent = \"1001\"\nreason = \"x\"\n", "1001 excused [0 2]"+none, best)
	check("one mark for all", "[[mark]]\nstudent = \"1001\"\nvalue = 70\nreason = \"x\"\n",
		"1001 graded 70.00 from 70.00 to 70.00 [0 2]"+none, best)
	doubtful := half
	doubtful.Repair = "99ZZ"
	check("one in doubt", "", "1001 provisional 50.00 from 0.00 to 100.00 [0 2]"+none, best, doubtful)

	// A spare takes the place of the sheet without a row, also where the form has an empty row for it.
	spare := on(spareSheet, lampRepair, "2+")
	spare.Student = "1001"
	empty := submission.Row{Place: "entry.xlsx, row 4", Student: "1001", Sheet: "K4-BCD", Reasoning: -1, Safe: -1}
	check("a spare", "", "1001 graded 100.00 from 100.00 to 100.00 [0 3]; 1002 blank [1 2]", best, empty, spare)
	// Without its code a row belongs where its letters fit; without letters it is a guess that a person looks at.
	bare := half
	bare.Sheet = ""
	lettered := on(lampSheet, lampRepair, "1+")
	lettered.Sheet = ""
	if r = check("no code, no letters", "", "1001 incomplete [0 2]"+none, bare); len(r.Problems) != 1 ||
		!strings.Contains(r.Problems[0].What, "the row names none") {
		t.Errorf("problems %v", r.Problems)
	}
	if r = check("no code", "", "1001 incomplete [0 2]"+none, lettered); len(r.Problems) != 0 ||
		r.Students[2].Status != grading.Graded {
		t.Errorf("problems %v", r.Problems)
	}
	wrong := func(text, want string) {
		t.Helper()
		a, _ := adjust.Read("adjust.toml", []byte(text))
		if _, err := grading.Grade(l, []submission.Row{best, half}, a); err == nil || err.Error() != want {
			t.Errorf("%s\n got %v\nwant %s", text, err, want)
		}
	}
	wrong("[[correct]]\nstudent = \"1001\"\nstep = 1\nto = \"207BL+\"\nreason = \"x\"\n",
		"adjust.toml:1: student 1001 has several sheets; name the sheet: K2-BCD and K4-BCD")
	wrong("[[excuse]]\nstudent = \"1001\"\nsheet = \"K3-BCD\"\nreason = \"x\"\n",
		"adjust.toml:1: sheet K3-BCD is not one of student 1001, who has K2-BCD and K4-BCD")
}

// TestRowsOfSeveralVehicles: what is said of one vehicle leaves the other alone.
func TestRowsOfSeveralVehicles(t *testing.T) {
	l := twoVehicles()
	on := func(place string, sheet, repair int, tests ...string) submission.Row {
		row := hand(l, sheet, repair, tests...)
		row.Place, row.Sheet, row.Student = place, l.Sheets[sheet].Code, "1001"
		return row
	}
	check := func(name, text, want string, rows ...submission.Row) {
		t.Helper()
		a, err := adjust.Read("adjust.toml", []byte(text))
		if err != nil {
			t.Fatal(err)
		}
		var got []string
		for _, s := range grade(t, l, a, rows...).Students {
			got = append(got, fmt.Sprintf("%s %s %s %s", s.Student, s.Sheet, s.Status, s.Wrote))
		}
		if text := strings.Join(got, "; "); text != want {
			t.Errorf("%s\n got %s\nwant %s", name, text, want)
		}
	}
	first, other := on("a.csv, row 2", switchOpenSheet, switchRepair, "1-", "0+"), on("b.csv, row 2", switchOpenSheet,
		lampRepair)
	second := on("a.csv, row 3", lampSheet, lampRepair, "1+", "2+")
	const tail = "; 1002 K3-BCD blank ; %s1002 K5-BCD blank "
	blank := fmt.Sprintf(tail, "1001 K4-BCD graded 12HM; ")
	check("different rows of one", "", "1001 K2-BCD incomplete 11BD"+blank, first, other, second)
	check("the second of them", "[[choose]]\nstudent = \"1001\"\nsheet = \"K2-BCD\"\nrow = \"b.csv, row 2\"\nreason "+
		"= \"x\"\n",
		"1001 K2-BCD graded 12HM"+blank, first, other, second)
	check("the first of them", "[[choose]]\nstudent = \"1001\"\nrow = \"a.csv, row 2\"\nreason = \"x\"\n",
		"1001 K2-BCD graded 11BD"+blank, first, other, second)
	unfinished := on("a.csv, row 2", switchOpenSheet, -1, "2+")
	check("no conclusion", "", "1001 K2-BCD incomplete "+blank, unfinished, second)
	misread := "[[misread]]\nstudent = \"1001\"\nsheet = \"K4-BCD\"\nstep = 1\nreason = \"x\"\n"
	a, err := adjust.Read("adjust.toml", []byte(misread))
	if err != nil {
		t.Fatal(err)
	}
	r := grade(t, l, a, first, second)
	if of := r.Students; of[0].Steps[0].State != grading.Counted || of[2].Steps[0].State != grading.Dropped {
		t.Errorf("misread on the second: %v and %v", of[0].Steps[0].State, of[2].Steps[0].State)
	}

	// The second vehicle was worked on the sheet of 1002 whose code the row gives, or on whose lines it stands.
	worked := "[[worked]]\nstudent = \"1001\"\nsheet = \"K3-BCD\"\ninstead_of = \"K4-BCD\"\nreason = \"x\"\n"
	stray := on("a.csv, row 3", burntSheet, switchRepair, "1-", "0+")
	const swapped = "1001 K2-BCD graded 11BD; 1001 K3-BCD graded 11BD; 1002 K3-BCD blank ; 1002 K5-BCD blank "
	check("on another's", worked, swapped, first, stray)
	stray.Sheet = "K4-BCD"
	check("on another's, under the own code", worked, swapped, first, stray)
	a, err = adjust.Read("adjust.toml", []byte(strings.Replace(worked, "instead_of = \"K4-BCD\"\n", "", 1)))
	if err != nil {
		t.Fatal(err)
	}
	if _, err = grading.Grade(l, []submission.Row{first, stray}, a); err == nil ||
		err.Error() != "adjust.toml:1: student 1001 has several sheets; "+
			"name the one left unused with instead_of: K2-BCD and K4-BCD" {
		t.Errorf("which of two: %v", err)
	}
}
