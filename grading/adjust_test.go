package grading_test

import (
	"slices"
	"strings"
	"testing"

	"nospark/grading"
	"nospark/grading/adjust"
	"nospark/grading/submission"
)

// adjusted grades rows under the text of an adjust.toml.
func adjusted(t *testing.T, text string, rows ...submission.Row) (*grading.Result, error) {
	t.Helper()
	a, err := adjust.Read("adjust.toml", []byte(text))
	if err != nil {
		t.Fatalf("%s\n%v", text, err)
	}
	return grading.Grade(lampLab(), rows, a)
}

func TestAdjust(t *testing.T) {
	lab := lampLab()
	wrongLetters := hand(lab, lampSheet, lampRepair, "1+", "2+")
	wrongLetters.Steps[1].Letters, wrongLetters.Steps[1].Text = "ZZ", "327ZZ+"
	check := func(text, want string, rows ...submission.Row) grading.StudentResult {
		t.Helper()
		r, err := adjusted(t, text, rows...)
		if err != nil {
			t.Fatalf("%s\n%v", text, err)
		}
		got := strings.NewReplacer(blank1, "", blank2, "", blank4, "").Replace(summary(r))
		got, _, _ = strings.Cut(got, "! ")
		if got != want {
			t.Errorf("%s\n got:\n%s\nwant:\n%s", text, got, want)
		}
		return of(t, r, "1003")
	}
	const provisional = "1003 K4-BCD provisional 70.71: 1 step with line or letters that do not fit\n"
	check("", provisional, wrongLetters)
	check("[[confirm]]\nstudent = \"1003\"\nreason = \"as written\"\n",
		"1003 K4-BCD graded 70.71: confirmed: as written\n", wrongLetters)
	s := check("[[correct]]\nstudent = 1003\nstep = 2\nto = \"327 dm +\"\nreason = \"worksheet\"\n",
		"1003 K4-BCD graded 100\n", wrongLetters)
	if want := "327 dm + (corrected from 327ZZ+: worksheet)"; s.Steps[1].Text != want ||
		s.Steps[1].State != grading.Counted {
		t.Errorf("corrected step %+v, want text %q", s.Steps[1], want)
	}
	s = check("[[mark]]\nstudent = \"1003\"\nvalue = 87.5\nreason = \"oral\"\n",
		"1003 K4-BCD graded 87.5: mark set: oral\n", wrongLetters)
	if !s.Set {
		t.Error("a mark that was set does not say so")
	}
	check("[[mark]]\nstudent = \"1003\"\nvalue = 60\nreason = \"oral\"\n", "1003 K4-BCD graded 60: mark set: oral\n")
	check("[[excuse]]\nstudent = \"1003\"\nreason = \"ill\"\n", "1003 K4-BCD excused 0: ill\n")

	// Concluded the ground after the feed: 12.5 + 16.6667 + 5 + 7.5 as in TestMarksByHand. Accepted: diagnosis 40, and
	// of the 12 minutes lost only the 2 of concluding early remain: 30 x 5/6 x 30/50 = 15.
	ground := hand(lab, lampSheet, groundRepair, "1+")
	const accepted = "1003 K4-BCD graded 75: repair accepted: either will do\n"
	check("", "1003 K4-BCD graded 41.67\n", ground)
	for _, scope := range []string{"", "student = \"1003\"\n", "sheet = \"k4-bcd\"\n",
		"instead_of = \"replace-lamp\"\n", "instead_of = \"12\"\n"} {
		check("[[accept]]\nrepair = \"clean-ground\"\n"+scope+"reason = \"either will do\"\n", accepted, ground)
	}
	for _, scope := range []string{"student = \"1001\"\n", "sheet = \"K2-BCD\"\n",
		"instead_of = \"replace-switch\"\n"} {
		check("[[accept]]\nrepair = \"13KQ\"\n"+scope+"reason = \"either will do\"\n", "1003 K4-BCD graded 41.67\n",
			ground)
	}

	// The ground's line is dropped on this sheet: the lamp can only be proven by its resistance. V = 2 + 5/10 x 5 = 4.5
	// minutes for this sheet and 3.0 for the four others, mean 3.3. Feed, ground (which does not count) and the lamp: e
	// = 5/6, 5 minutes are missing. 12.5 + 40 + 30 x 5/6 x 33/83 + 7.5 = 69.9398.
	full := hand(lab, lampSheet, lampRepair, "1+", "2+")
	s = check("[[drop]]\nline = 327\nsheet = \"K4-BCD\"\nreason = \"misprint\"\n", "1003 K4-BCD graded 69.94\n", full)
	if s.Steps[1].State != grading.Dropped || s.Steps[1].Minutes != 0 || len(s.Path) != 2 ||
		s.Path[1].Test != resistance {
		t.Errorf("dropped step %+v, path %+v", s.Steps[1], s.Path)
	}
	check("[[drop]]\nline = 327\nstudent = \"1003\"\nreason = \"misprint\"\n", "1003 K4-BCD graded 69.94\n", full)
	// Dropped for all, the reference is 4.5 minutes: 12.5 + 40 + 25 x 45/95 + 7.5 = 71.8421.
	check("[[drop]]\ntest = \"lamp-ground\"\nreason = \"meter was broken\"\n", "1003 K4-BCD graded 71.84\n", full)
}

// An accepted repair that is limited to nobody counts whatever the fault is, and says what came of it: two students
// condemned the ground on sheets with other faults, a third's conclusion was right before, and a mark that is set is
// not raised.
func TestBroadAcceptIsTold(t *testing.T) {
	lab := lampLab()
	rows := []submission.Row{
		hand(lab, switchOpenSheet, groundRepair, "0+"), hand(lab, burntSheet, groundRepair, "0+"),
		hand(lab, lampSheet, groundRepair, "1+"),
		hand(lab, groundSheet, groundRepair, "1+", "2-"),
	}
	check := func(text string, want ...grading.Problem) {
		t.Helper()
		r, err := adjusted(t, text, rows...)
		if err != nil {
			t.Fatal(err)
		}
		if !slices.Equal(r.Problems, want) {
			t.Errorf("%s\n got %+v\nwant %+v", text, r.Problems, want)
		}
	}
	told := func(what string) grading.Problem {
		return grading.Problem{Place: "adjust.toml:1", What: "[[accept]] of " + what,
			Do: "nothing, if that was meant; otherwise add student, sheet or instead_of"}
	}
	const ground = "[[accept]]\nrepair = \"clean-ground\"\nreason = \"x\"\n"
	check("")
	check(ground, told("'Clean the lamp ground' is for every fault of the lab; it raised 3 marks, on sheets with "+
		"'Switch contacts open' (1), 'Burnt switch contacts' (1), 'Lamp filament open' (1)"))
	check(ground+"[[mark]]\nstudent = \"1001\"\nvalue = 50\nreason = \"x\"\n[[excuse]]\nstudent = \"1002\"\nreason = "+
		"\"x\"\n",
		told("'Clean the lamp ground' is for every fault of the lab; it raised 1 mark, on sheets with 'Lamp filament "+
			"open' (1)"))
	check("[[accept]]\nrepair = \"replace-lamp\"\nreason = \"x\"\n",
		told("'Replace the lamp' is for every fault of the lab; it raised no mark"))
	for _, limit := range []string{"student = \"1003\"\n", "sheet = \"K4-BCD\"\n", "instead_of = \"replace-lamp\"\n"} {
		check(ground + limit)
	}
}

// What cannot be read as a step, and steps of another sheet, are doubts as well: once the mark is confirmed nothing is
// left to do about them.
func TestConfirmSettlesAllDoubts(t *testing.T) {
	lab := lampLab()
	row := hand(lab, lampSheet, lampRepair, "1+", "2+", "0+")
	row.Steps[2] = submission.Step{Place: "entry.xlsx, I4", Text: "?", Line: -1}
	for i := range 2 { // as the sheet of the burnt switch has them
		line := lab.Sheets[burntSheet].Lines[1+i]
		row.Steps[i].Line, row.Steps[i].Letters = line.Number, line.Letters
	}
	remark := submission.Remark{Place: "entry.xlsx, I4", What: "'?' is not a step", Do: "correct it"}
	problems := func(adjust adjust.Decisions) []grading.Problem {
		t.Helper()
		r, err := grading.Grade(lab, []submission.Row{row}, adjust, remark)
		if err != nil {
			t.Fatal(err)
		}
		return r.Problems
	}
	before := problems(adjust.Decisions{})
	if len(before) < 2 || before[0] != grading.Problem(remark) ||
		!strings.Contains(before[1].Do, "ask the student whose readings these are") {
		t.Errorf("before: %+v", before)
	}
	after := problems(adjust.Decisions{Confirm: []adjust.Confirm{{Student: "1003", Reason: "looked"}}})
	if len(after) != len(before) {
		t.Errorf("after: %+v", after)
	}
	for _, p := range after {
		if p.Do != "nothing: the mark is confirmed in adjust.toml" {
			t.Errorf("after: %+v", p)
		}
	}
}

// Whoever is not there is an error: a typing slip in adjust.toml must not silently change nothing.
func TestAdjustUnknownNames(t *testing.T) {
	check := func(text, want string) {
		t.Helper()
		if _, err := adjusted(t, text, hand(lampLab(), lampSheet, lampRepair, "1+")); err == nil ||
			err.Error() != want {
			t.Errorf("%s\n got: %v\nwant: %s", text, err, want)
		}
	}
	check("[[excuse]]\nstudent = \"2001\"\nreason = \"x\"\n[[confirm]]\nstudent = \"2002\"\nreason = \"x\"\n",
		"adjust.toml:1: student \"2001\" is neither in this lab nor in what was handed in; did you mean \"1001\"?\n"+
			"adjust.toml:4: student \"2002\" is neither in this lab nor in what was handed in; did you mean \"1002\"?")
	check("[[accept]]\nrepair = \"replace-horn\"\nreason = \"x\"\n",
		"adjust.toml:1: this lab has no repair \"replace-horn\"; did you mean \"replace-lamp\"?")
	check("[[accept]]\nrepair = \"12ZZ\"\nreason = \"x\"\n",
		"adjust.toml:1: this lab has no repair \"12ZZ\"; did you mean \"12HM\" (replace-lamp)?")
	check("[[accept]]\nrepair = \"horn\"\nreason = \"x\"\n",
		"adjust.toml:1: this lab has no repair \"horn\"; known: replace-switch, replace-lamp, clean-ground")
	check("[[accept]]\nrepair = \"12\"\nsheet = \"K9\"\nreason = \"x\"\n",
		"adjust.toml:1: this lab has no sheet \"K9\"")
	check("[[drop]]\ntest = \"horn\"\nreason = \"x\"\n", "adjust.toml:1: this lab has no test \"horn\"; ids of tests "+
		"look like \"battery\"")
	check("[[drop]]\ntest = \"batery\"\nreason = \"x\"\n", "adjust.toml:1: this lab has no test \"batery\"; did you "+
		"mean \"battery\"?")
	check("[[drop]]\nline = 999\nsheet = \"K4-BCD\"\nreason = \"x\"\n",
		"adjust.toml:1: sheet K4-BCD has no line 999; the nearest is 427")
	check("[[correct]]\nstudent = \"1003\"\nstep = 2\nto = \"327DM+\"\nreason = \"x\"\n",
		"adjust.toml:1: student \"1003\" wrote 1 step; there is no step 2 to correct")
	check("[[correct]]\nstudent = \"1001\"\nstep = 1\nto = \"207BL+\"\nreason = \"x\"\n",
		"adjust.toml:1: student \"1001\" handed in nothing; there is no step to correct")
	check("[[correct]]\nstudent = \"1003\"\nstep = 1\nto = \"32DM+\"\nreason = \"x\"\n",
		"adjust.toml:1: to: '32DM+' is not a step: a line has three digits, as in 032DM+; write three digits, two "+
			"letters and + or -, like 214KQ+")
	check("[[excuse]]\nstudent = \"1003\"\nreason = \"x\"\n[[excuse]]\nstudent = 1003\nreason = \"y\"\n",
		"adjust.toml:4: a second [[excuse]] about the same")
}
