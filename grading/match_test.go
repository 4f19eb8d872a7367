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

// summary writes a result as lines: status, sheet and mark of everybody, then the problems.
func summary(r *grading.Result) string {
	var b strings.Builder
	for _, s := range r.Students {
		fmt.Fprintf(&b, "%s %s %s %.4g", s.Student, s.Sheet, s.Status, s.Mark)
		if s.Why != "" {
			b.WriteString(": " + s.Why)
		}
		b.WriteByte('\n')
	}
	for _, p := range r.Problems {
		fmt.Fprintf(&b, "! %s: %s; %s\n", p.Place, p.What, p.Do)
	}
	return b.String()
}

// rest is how students look who handed in nothing.
const (
	blank1 = "1001 K2-BCD blank 0: nothing handed in\n"
	blank2 = "1002 K3-BCD blank 0: nothing handed in\n"
	blank3 = "1003 K4-BCD blank 0: nothing handed in\n"
	blank4 = "1004 K5-BCD blank 0: nothing handed in\n"
)

func TestRowsFindTheirSheets(t *testing.T) {
	lab := lampLab()
	best := func(change func(*submission.Row)) submission.Row {
		row := hand(lab, lampSheet, lampRepair, "1+", "2+")
		change(&row)
		return row
	}
	// Everybody else has handed in nothing; want tells of student 1003 and whoever else changes.
	check := func(name, want string, rows ...submission.Row) {
		t.Helper()
		got := summary(grade(t, lab, adjust.Decisions{}, rows...))
		got = strings.NewReplacer(blank1, "", blank2, "", blank4, "").Replace(got)
		if got != want {
			t.Errorf("%s\n got:\n%s\nwant:\n%s", name, got, want)
		}
	}
	check("no rows", blank3)
	check("an empty row", blank3, submission.Row{Student: "1003", Reasoning: -1, Safe: -1})
	check("by id", "1003 K4-BCD graded 100\n", best(func(*submission.Row) {}))
	check("by sheet", "1003 K4-BCD graded 100\n", best(func(r *submission.Row) { r.Student, r.Sheet = "", "k4-bcd" }))
	check("the wrong sheet", "1003 K4-BCD provisional 100: the row names sheet K2-BCD, which belongs to student 1001\n"+
		"! entry.xlsx, row 4: sheet K2-BCD belongs to student 1001, not to 1003; find out whose work it is; correct "+
		"the id or the sheet\n",
		best(func(r *submission.Row) { r.Sheet = "K2-BCD" }))
	check("a sheet that does not exist", "1003 K4-BCD graded 100\n! entry.xlsx, row 4: no sheet has the code "+
		"\"K9-BCD\"; correct the code; the student's own sheet was used\n",
		best(func(r *submission.Row) { r.Sheet = "K9-BCD" }))
	check("an unknown id with letters of a sheet", blank3+
		"! entry.xlsx, row 4: student \"1033\" is not in this lab, so the row counts for nobody; correct the id or "+
		"write the sheet's code; 2 of its 2 steps fit sheet K4-BCD of student 1003\n",
		best(func(r *submission.Row) { r.Student = "1033" }))
	check("an unknown id with the right sheet", "1003 K4-BCD provisional 100: the row names student 1033\n"+
		"! entry.xlsx, row 4: student \"1033\" is not in this lab; sheet and letters are those of student 1003, for "+
		"whom the row counts; correct the id\n",
		best(func(r *submission.Row) { r.Student, r.Sheet = "1033", "K4-BCD" }))
	check("an unknown id with a sheet that the letters do not fit", blank3+
		"! entry.xlsx, row 4: student \"1033\" is not in this lab and sheet K2-BCD belongs to student 1001, so the "+
		"row counts for nobody; correct the id or the sheet; 2 of its 2 steps fit sheet K4-BCD of student 1003\n",
		best(func(r *submission.Row) { r.Student, r.Sheet = "1033", "K2-BCD" }))
	check("neither id nor sheet", blank3+"! entry.xlsx, row 4: the row has neither id nor sheet, so it counts for "+
		"nobody; write the student's id; 2 of its 2 steps fit sheet K4-BCD of student 1003\n",
		best(func(r *submission.Row) { r.Student = "" }))
	check("a neighbor's readings", "1003 K4-BCD provisional 40: 2 steps with line or letters that do not fit; 2 "+
		"steps fit sheet K2-BCD of student 1001\n"+
		"! entry.xlsx, row 2: 2 steps of student 1003 do not fit the own sheet but fit sheet K2-BCD of student 1001; "+
		"ask the student whose readings these are\n",
		func() submission.Row {
			row := hand(lab, switchOpenSheet, lampRepair, "1-", "2+")
			row.Student = "1003"
			return row
		}())
}

// Rows that are longer than they should be are graded all the same, and told once.
func TestLongRows(t *testing.T) {
	lab := lampLab()
	lab.Rows = 4
	check := func(want string, tests ...string) {
		t.Helper()
		got := strings.NewReplacer(blank1, "", blank2, "", blank4, "").Replace(summary(grade(t, lab, adjust.Decisions{},
			hand(lab, lampSheet, lampRepair, tests...))))
		if got != want {
			t.Errorf("%v\n got:\n%s\nwant:\n%s", tests, got, want)
		}
	}
	check("1003 K4-BCD graded 100\n", "1+", "2+")
	// The feed is read twice more: 4 minutes lost, 30 x 30/70 = 12.86.
	check("1003 K4-BCD graded 82.86\n! entry.xlsx, row 4: student 1003 read 2 lines again; that costs the minutes "+
		"and tells nothing; nothing, if the worksheet says so too\n",
		"1+", "1+", "1+", "2+")
	// All four tests and the battery again, 1 + 2 + 2 + 5 + 1 minutes of which 1 + 5 + 1 are lost: 30 x 30/100 = 9.
	check("1003 K4-BCD graded 79\n! entry.xlsx, row 4: student 1003 read 1 line again; that costs the minutes and "+
		"tells nothing; nothing, if the worksheet says so too\n"+
		"! entry.xlsx, row 4: student 1003 has 5 steps, but the record table has 4 lines; all steps are graded; "+
		"compare the row with the worksheet\n",
		"0+", "1+", "2+", "3-", "0+")
}

func TestIdsLoseZerosAndCase(t *testing.T) {
	lab := lampLab()
	ids := func(a, b string) {
		lab.Sheets[0].Student, lab.Sheets[1].Student = a, b
	}
	check := func(written, want string) {
		t.Helper()
		row := hand(lab, switchOpenSheet, switchRepair, "1-")
		row.Student = written
		r := grade(t, lab, adjust.Decisions{}, row)
		got := ""
		for _, s := range r.Students {
			if s.Status != grading.Blank {
				got = s.Student
			}
		}
		if got != want {
			t.Errorf("%q counts for %q, want %q", written, got, want)
		}
	}
	ids("0042", "AB 7")
	check("42", "0042")
	check("00042", "0042")
	check("ab7", "AB 7") // the letters are those of the first sheet, but the id decides
	ids("0042", "42")
	check("42", "42")
	check("0042", "0042")
	check("042", "") // could be either
}

func TestSpareSheets(t *testing.T) {
	lab := lampLab()
	spare := func(student string) submission.Row {
		row := hand(lab, spareSheet, lampRepair, "1+", "2+")
		row.Student, row.Sheet, row.Name, row.Place = student, "K6-BCD", "New Comer", "late.csv, row 2"
		return row
	}
	check := func(name, want string, rows ...submission.Row) {
		t.Helper()
		if got := summary(grade(t, lab, adjust.Decisions{}, rows...)); got != want {
			t.Errorf("%s\n got:\n%s\nwant:\n%s", name, got, want)
		}
	}
	empty := submission.Row{Place: "entry.xlsx, row 3", Student: "1002", Reasoning: 2, Safe: -1}
	check("for somebody who missed the own sheet", blank1+blank3+blank4+"1002 K6-BCD graded 100\n", empty,
		spare("1002"))
	check("for somebody new", blank1+blank2+blank3+blank4+"9009 K6-BCD graded 100\n"+
		"! late.csv, row 2: student \"9009\" is not in this lab's list and used spare sheet K6-BCD; nothing, if the "+
		"id is right\n", spare("9009"))
	check("as the form was printed", blank1+blank2+blank3+blank4, submission.Row{Place: "late.csv, row 2",
		Sheet: "K6-BCD", Reasoning: -1, Safe: -1})
	check("without id", blank1+blank2+blank3+blank4+"! late.csv, row 2: sheet K6-BCD is a spare and the row has no "+
		"id, so it counts for nobody; write the id of the student who used it\n", spare(""))
	twice := "late.csv, row 2: spare sheet K6-BCD is named by the students 1001 and 1002; it counts for none of them " +
		"yet; " +
		"correct the sheet codes, or write [[worked]] student = \"%s\", sheet = \"K6-BCD\" into adjust.toml\n"
	undecided := "incomplete 0: several students name spare sheet K6-BCD\n"
	check("named twice", "1001 K2-BCD "+undecided+"1002 K3-BCD "+undecided+blank3+blank4+
		"! "+fmt.Sprintf(twice, "1002")+"! "+fmt.Sprintf(twice, "1001"), spare("1002"), spare("1001"))
	own := hand(lab, burntSheet, switchRepair, "1-")
	check("beside the own sheet", blank1+"1002 K3-BCD incomplete 0: different rows in entry.xlsx, row 3 and "+
		"late.csv, row 2\n"+blank3+blank4+
		"! late.csv, row 2: student 1002 has different rows in entry.xlsx, row 3 and late.csv, row 2; none of them "+
		"counts yet; "+
		"delete all but one, or write [[choose]] student = \"1002\", row = \"entry.xlsx, row 3\" into adjust.toml\n", own, spare("1002"))
	s := of(t, grade(t, lab, adjust.Decisions{}, empty, spare("1002")), "1002")
	if s.Name != "Student B" || s.Section != "B" || s.Index != spareSheet || s.Reasoning != 2 {
		t.Errorf("spare sheet of a known student: %+v", s)
	}
	if s := of(t, grade(t, lab, adjust.Decisions{}, spare("9009")), "9009"); s.Name != "New Comer" {
		t.Errorf("spare sheet of a new student has the name %q", s.Name)
	}
}

func TestRowsOfOneStudentMerge(t *testing.T) {
	lab := lampLab()
	a := hand(lab, lampSheet, lampRepair, "1+", "2+")
	again := a
	again.Place, again.Reasoning = "b.csv, row 9", 4
	empty := submission.Row{Place: "c.csv, row 2", Student: "1003", Reasoning: -1, Safe: 1}
	s := of(t, grade(t, lab, adjust.Decisions{}, a, again, empty), "1003")
	if s.Status != grading.Graded || s.Reasoning != 4 || s.Safe != 1 {
		t.Errorf("the same twice and an empty row: %+v", s)
	}
	if r := grade(t, lab, adjust.Decisions{}, a, again, empty); len(r.Problems) != 0 || len(r.Students) != 4 {
		t.Errorf("problems %v, %d students", r.Problems, len(r.Students))
	}
	other := hand(lab, lampSheet, groundRepair, "1+")
	other.Place = "b.csv, row 9"
	r := grade(t, lab, adjust.Decisions{}, a, other)
	if s := of(t, r, "1003"); s.Status != grading.Incomplete || s.Mark != 0 || len(r.Problems) != 1 {
		t.Errorf("two different rows: %+v, %v", s, r.Problems)
	}
	rated := a
	rated.Reasoning, again.Reasoning = 1, 4
	if r := grade(t, lab, adjust.Decisions{}, rated, again); of(t, r, "1003").Reasoning != 1 || len(r.Problems) != 1 {
		t.Errorf("two ratings: %v", r.Problems)
	}
}

func TestRepairCodes(t *testing.T) {
	lab := lampLab()
	check := func(written, want string) {
		t.Helper()
		row := hand(lab, lampSheet, -1, "1+", "2+")
		row.Repair = written
		got := summary(grade(t, lab, adjust.Decisions{}, row))
		got = strings.NewReplacer(blank1, "", blank2, "", blank4, "").Replace(got)
		if got != want {
			t.Errorf("%s\n got:\n%s\nwant:\n%s", written, got, want)
		}
	}
	check("12HM", "1003 K4-BCD graded 100\n")
	check("12", "1003 K4-BCD provisional 100: repair 12 has no check letters\n"+
		"! entry.xlsx, row 4: repair 12 of student 1003 has no check letters; it was taken for 'Replace the lamp'; "+
		"look at the worksheet; then complete the code in the entry form or [[confirm]] the mark in adjust.toml\n")
	check("13HM", "1003 K4-BCD provisional 60: repair \"13HM\" does not exist\n"+
		"! entry.xlsx, row 4: repair \"13HM\" of student 1003 does not exist, so the conclusion does not count yet; "+
		"perhaps 12HM was meant ('Replace the lamp'); look at the worksheet and correct the code in the entry "+
		"form\n")
	check("21HM", "1003 K4-BCD provisional 60: repair \"21HM\" does not exist\n"+
		"! entry.xlsx, row 4: repair \"21HM\" of student 1003 does not exist, so the conclusion does not count yet; "+
		"perhaps 12HM was meant ('Replace the lamp'); look at the worksheet and correct the code in the entry "+
		"form\n")
	check("99HM", "1003 K4-BCD provisional 60: repair \"99HM\" does not exist\n"+
		"! entry.xlsx, row 4: repair \"99HM\" of student 1003 does not exist, so the conclusion does not count yet; "+
		"HM are the letters of repair 12 ('Replace the lamp'); look at the worksheet and correct the code in the "+
		"entry form\n")
	check("327DM+", "1003 K4-BCD provisional 60: repair \"327DM+\" does not exist\n"+
		"! entry.xlsx, row 4: repair \"327DM+\" of student 1003 does not exist, so the conclusion does not count "+
		"yet; this is a step: compare the columns with their heading\n")
	check("", "1003 K4-BCD graded 60\n! entry.xlsx, row 4: student 1003 concluded nothing; the steps are graded; "+
		"look at the worksheet\n")
	check("77XX", "1003 K4-BCD provisional 60: repair \"77XX\" does not exist\n"+
		"! entry.xlsx, row 4: repair \"77XX\" of student 1003 does not exist, so the conclusion does not count yet; "+
		"look at the worksheet and correct the code in the entry form\n")
}

func TestSlipsAreGuessed(t *testing.T) {
	lab := lampLab()
	check := func(change func(*submission.Step), want string) {
		t.Helper()
		row := hand(lab, lampSheet, lampRepair, "1+", "2+")
		change(&row.Steps[1]) // line 327, letters DM
		r := grade(t, lab, adjust.Decisions{}, row)
		if len(r.Problems) != 1 || !strings.HasPrefix(r.Problems[0].Do, want) {
			t.Errorf("problems %+v, want what to do to begin with %q", r.Problems, want)
		}
	}
	check(func(s *submission.Step) { s.Line = 328 }, "perhaps 327DM+ was meant")
	check(func(s *submission.Step) { s.Line = 237 }, "perhaps 327DM+ was meant")
	check(func(s *submission.Step) { s.Letters = "DX" }, "perhaps 327DM+ was meant")
	check(func(s *submission.Step) { s.Letters = "MD" }, "perhaps 327DM+ was meant")
	check(func(s *submission.Step) { s.Line, s.Letters = 999, "ZZ" }, "look at the worksheet")
}

// A lab that leads nowhere is an error, not a panic.
func TestBrokenLab(t *testing.T) {
	check := func(name string, change func(*lab.Lab)) {
		t.Helper()
		lab := lampLab()
		change(lab)
		if _, err := grading.Grade(lab, nil, adjust.Decisions{}); err == nil ||
			!strings.HasPrefix(err.Error(), "lab lamp: ") {
			t.Errorf("%s: error %v", name, err)
		}
	}
	check("truth", func(l *lab.Lab) { l.Sheets[0].Truth = 99 })
	check("complaint", func(l *lab.Lab) { l.Hypotheses[0].Complaint = 1 })
	check("lines", func(l *lab.Lab) { l.Sheets[0].Lines = nil })
	check("band", func(l *lab.Lab) { l.Sheets[0].Lines[0].Band = 1 })
	check("weight", func(l *lab.Lab) { l.Hypotheses[0].Weight = 0 })
}
