package grading_test

import (
	"math/rand/v2"
	"slices"
	"testing"

	"nospark/grading"
	"nospark/grading/adjust"
	"nospark/grading/submission"
	"nospark/scenarios/lab"
)

// marked is what the arithmetic of a mark gives; lost in tenths.
type marked struct{ evidence, diagnosis, efficiency, interpretation, lost float64 }

func checkMark(t *testing.T, name string, s grading.StudentResult, want marked) {
	t.Helper()
	got := marked{s.Parts.Evidence, s.Parts.Diagnosis, s.Parts.Efficiency, s.Parts.Interpretation, s.Lost}
	if !near(got.evidence, want.evidence) || !near(got.diagnosis, want.diagnosis) || !near(got.efficiency,
		want.efficiency) ||
		!near(got.interpretation, want.interpretation) || !near(got.lost, want.lost) {
		t.Errorf("%s:\n got %.4f\nwant %.4f", name, got, want)
	}
	if sum := want.evidence + want.diagnosis + want.efficiency + want.interpretation; !near(s.Mark, sum) {
		t.Errorf("%s: mark %v, want %v", name, s.Mark, sum)
	}
}

// Every mark is worked out from the table above, by design section 5: 15 e; 40 c; 30 e V/(V + 2 lost); 15 for verdicts.
func TestOpenMarksByHand(t *testing.T) {
	l := openLamp()
	check := func(name string, row submission.Row, want marked) {
		t.Helper()
		checkMark(t, name, of(t, grade(t, l, adjust.Decisions{}, row), row.Student), want)
	}
	// Others than the lamp weigh 63 - 20 = 43.
	check("best play, lamp", hand(l, lampSheet, lampRepair, "1+", "2+"), marked{15, 40, 30, 15, 0})
	check("best play, switch", hand(l, switchOpenSheet, switchRepair, "1-", "0+"), marked{15, 40, 30, 15, 0})
	check("best play, burnt switch whose battery is known", hand(l, burntSheet, switchRepair, "1-"),
		marked{15, 40, 30, 15, 0})
	check("best play, ground where the feed is known", hand(l, groundSheet, groundRepair, "2-"),
		marked{15, 40, 30, 15, 0})

	// After the feed 29 is left, of which the lamp has 20: c = 20/29, 27.5862. e = 34/43. V of the rest is 20: 30 x
	// 34/43 x 34/(34 + 40) = 10.8988. One of best play's two steps is done: 7.5.
	check("right, ground not looked at", hand(l, lampSheet, lampRepair, "1+"),
		marked{11.8605, 27.5862, 10.8988, 7.5, 20})
	// The ground has 5/29, of which half is less than half of c and than e/4 = .1977: 40 x 5/58 = 3.4483. Its 10
	// minutes are lost as well.
	check("wrong but still allowed", hand(l, lampSheet, groundRepair, "1+"),
		marked{15 * 34. / 43, 40 * 5. / 58, 30 * 34. / 43 * 34 / (34 + 240), 7.5, 120})
	check("wrong and excluded", hand(l, lampSheet, switchRepair, "1+"),
		marked{11.8605, 0, 30 * 34. / 43 * 34 / 474, 7.5, 220})
	// Without a test: the lamp is 20 of 63.
	check("a lucky guess", hand(l, lampSheet, lampRepair), marked{0, 12.6984, 0, 0, 34})
	// e/4 = 0 is the smallest.
	check("an unlucky guess", hand(l, lampSheet, switchRepair), marked{0, 0, 0, 0, 234})
	// The switch after the feed: {A,a} is left, so nothing on the list but the switch fits, and still its end is owed:
	// c = 15/18. Others weigh 63 - 25 = 38, all but a's 3 are ruled out. 10 tenths are missing.
	check("nothing else fits, but a check is owed", hand(l, switchOpenSheet, switchRepair, "1-"),
		marked{15 * 35. / 38, 40 * 15. / 18, 30 * 35. / 38 * 34 / 54, 7.5, 10})
	// The resistance proves the lamp against the list and costs 47.62; feed and ground are owed: 1040/28 = 37.14. Both
	// checks are to be made.
	check("sold untested", hand(l, lampSheet, lampRepair, "3-"),
		marked{15 * 35. / 43, 40 * 20. / 28, 30 * 35. / 43 * 34 / (34 + 2*84.8), 0, 84.8})
	// A check first loses what the solver says and no more: 30 x 34/(34 + 2 x 7.9).
	check("ground first", hand(l, lampSheet, lampRepair, "2+", "1+"), marked{15, 40, 30 * 34 / 49.8, 15, 7.9})
	check("battery first", hand(l, lampSheet, lampRepair, "0+", "1+", "2+"), marked{15, 40, 30 * 34 / 41.4, 15, 3.7})
	// On the case that gives the feed nothing is left to learn there: its 2 minutes are lost, of V = 20.
	check("a reading that was given", hand(l, groundSheet, groundRepair, "1+", "2-"),
		marked{15, 40, 30 * 20. / 60, 15, 20})
}

// References are V(S) of each sheet, that of the lab their mean: (33.97 + 30 + 33.97 + 20 + 20)/5 = 27.6.
func TestReferencesByHand(t *testing.T) {
	l := openLamp()
	r := grade(t, l, adjust.Decisions{}, hand(l, lampSheet, lampRepair, "1+"))
	var got []int64
	for _, s := range r.Students {
		got = append(got, s.Reference)
	}
	if !slices.Equal(got, []int64{34, 30, 34, 20}) || r.Reference != 28 {
		t.Errorf("references %d, of the lab %d; want 34 30 34 20, 28", got, r.Reference)
	}
	s := of(t, r, "1003")
	if s.LeftWeight != 29 || s.RightWeight != 20 || s.WrongWeight != 0 || !near(s.Share, 20./29) ||
		!slices.Equal(s.Owed, []int{groundCheck}) || !slices.Equal(s.Left, []int{2, 3}) {
		t.Errorf("%d of %d, wrong %d, share %v, owed %v, left %v", s.RightWeight, s.LeftWeight, s.WrongWeight, s.Share,
			s.Owed, s.Left)
	}
	first := s.Steps[0]
	if first.Before != 4 || first.After != 2 || !slices.Equal(first.Checks, []int{feedCheck}) || !first.Own {
		t.Errorf("step %+v; want 4 suspects before and 2 after, and the check of the feed", first)
	}
	// Before labs had cases one reference was for all.
	l.Format = lab.FirstWithCases - 1
	for _, s := range grade(t, l, adjust.Decisions{}).Students {
		if s.Reference != 34 { // no case: all start with 33.97
			t.Errorf("format 2: reference %d", s.Reference)
		}
	}
}

// Every ruling of the instructor, and the mark that it leads to.
func TestRulingsByHand(t *testing.T) {
	l := openLamp()
	check := func(name, text string, row submission.Row, student string, want marked) grading.StudentResult {
		t.Helper()
		a, err := adjust.Read("adjust.toml", []byte(text))
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		s := of(t, grade(t, l, a, row), student)
		checkMark(t, name, s, want)
		return s
	}
	feedOnly := hand(l, lampSheet, groundRepair, "1+")
	// Accepted, the ground earns the c of the truth, 20/29, and its 10 minutes are not lost: as "right, ground not
	// looked at".
	check("accept", "[[accept]]\nrepair = \"clean-ground\"\nsheet = \"K4-BCD\"\nreason = \"x\"\n", feedOnly, "1003",
		marked{11.8605, 27.5862, 10.8988, 7.5, 20})
	// Accepted although a reading excludes it: the truth is settled, c = 1.
	check("accept what is excluded", "[[accept]]\nrepair = \"replace-switch\"\nsheet = \"K4-BCD\"\nreason = \"x\"\n",
		hand(l, lampSheet, switchRepair, "1+", "2+"), "1003", marked{15, 40, 30, 15, 0})

	lamp := hand(l, lampSheet, lampRepair, "1+")
	// Without f and g 55: feed 20 x 55 + 180 + 120 + {C,D} 20 x 25 = 1900, V = 34.5. c = 20/25; others weigh 35, D's 5
	// are left; 20 missing.
	const proof = "[[waive]]\nrepair = \"replace-lamp\"\nreason = \"no meter\"\n"
	s := check("waive a proof", proof, lamp, "1003", marked{15 * 30. / 35, 32, 30 * 30. / 35 * 35 / 75, 7.5, 20})
	if s.Why != "checks waived: no meter" || s.Reference != 35 || len(s.Owed) != 0 {
		t.Errorf("waived: %q, reference %d, owed %v", s.Why, s.Reference, s.Owed)
	}
	// Without g alone 59: 20 x 59 + 300 + 500 = 1980, V = 33.6; others weigh 39.
	for _, one := range []string{"test = \"lamp-ground\"", "point = \"gnd\"", "point = 3",
		"repair = \"12\"\npoint = \"3\"", "point = 3\nstudent = 1003", "point = 3\nsheet = \"k4-bcd\""} {
		check("waive with "+one, "[[waive]]\n"+one+"\nreason = \"x\"\n", lamp, "1003",
			marked{15 * 34. / 39, 32, 30 * 34. / 39 * 34 / 74, 7.5, 20})
	}
	check("waive for somebody else", "[[waive]]\npoint = 3\nstudent = \"1001\"\nreason = \"x\"\n", lamp, "1003",
		marked{11.8605, 27.5862, 10.8988, 7.5, 20})

	// Without the ground its check does not exist: 59. Feed 20 x 59 + 300 + {C,D}, which only the resistance tells
	// apart, 50 x 25 = 2730, V = 46.3.
	check("drop a test", "[[drop]]\ntest = \"lamp-ground\"\nreason = \"x\"\n", lamp, "1003",
		marked{15 * 34. / 39, 32, 30 * 34. / 39 * 46 / 146, 7.5, 50})
	// The feed of case 1 is taken back: {A,B,C,D,a,b,g} 59, f has no test. Battery 10 x 59; {A,B,C,D,g} 54: ground 20 x
	// 54; {A,B,C} 45: resistance 50 x 45: 3920, V = 66.4. The ground first costs 20 x 59; then {A,B,C,a,b} 50: battery
	// 10 x 50 + 50 x 45: 3930, 10/59 lost. The ground is proven by its own reading.
	s = check("drop what is known", "[[drop]]\ntest = \"lamp-feed\"\nsheet = \"K5-BCD\"\nreason = \"x\"\n",
		hand(l, groundSheet, groundRepair, "2-"), "1004",
		marked{15, 40, 30 * 66 / 66.4, 15, 0.2})
	if s.Reference != 66 {
		t.Errorf("reference %d without the known reading", s.Reference)
	}
	// Letters that do not fit cost the step's 2 minutes and prove nothing.
	wrong := hand(l, lampSheet, lampRepair, "1+", "2+")
	wrong.Steps[1].Letters = "ZZ"
	unproven := marked{11.8605, 27.5862, 30 * 34. / 43 * 34 / 114, 7.5, 40}
	check("letters that do not fit", "", wrong, "1003", unproven)
	check("confirm", "[[confirm]]\nstudent = \"1003\"\nreason = \"x\"\n", wrong, "1003", unproven)
	check("correct", "[[correct]]\nstudent = \"1003\"\nstep = 2\nto = \"327DM+\"\nreason = \"x\"\n", wrong, "1003",
		marked{15, 40, 30, 15, 0})
	// Student 1002 has worked the spare: its case is 1, so V = 20 and not 30, and of {C,D,g} the lamp is 20 of 29.
	spare := hand(l, spareSheet, lampRepair)
	spare.Student, spare.Sheet = "1002", "K6-BCD"
	s = check("a spare with another case", "", spare, "1002", marked{0, 27.5862, 0, 0, 20})
	if s.Reference != 20 {
		t.Errorf("reference %d on the spare", s.Reference)
	}
}

func TestWaiveErrors(t *testing.T) {
	check := func(text, want string) {
		t.Helper()
		a, err := adjust.Read("adjust.toml", []byte(text))
		if err == nil {
			_, err = grading.Grade(openLamp(), nil, a)
		}
		if err == nil || err.Error() != want {
			t.Errorf("%s\n got: %v\nwant: %s", text, err, want)
		}
	}
	check("[[waive]]\nreason = \"x\"\n", "adjust.toml:1: waive: want repair, test or point")
	check("[[waive]]\npoint = 3\nstudent = \"1\"\nsheet = \"2\"\nreason = \"x\"\n",
		"adjust.toml:4: waive: student and sheet are given at once; keep one of them")
	check("[[waive]]\npoint = 7\nreason = \"x\"\n", "adjust.toml:1: this lab has no point \"7\"")
	check("[[waive]]\nrepair = \"clean-ground\"\nreason = \"x\"\n",
		"adjust.toml:1: no repair of this lab owes such a check; the answer key lists the checks of each sheet")
}

// A conclusion before its proof names what was not looked at and what it would have shown; a look at what a possible
// repair needs is never held against anybody; and the better test says to what it would have pointed.
func TestRemarksOnProof(t *testing.T) {
	l := openLamp()
	mark := func(row submission.Row) grading.StudentResult {
		t.Helper()
		return of(t, grade(t, l, adjust.Decisions{}, row), row.Student)
	}
	said(t, mark(hand(l, lampSheet, lampRepair, "1+")), -1,
		"'Replace the lamp' was concluded while other repairs were still possible: 'Clean the lamp ground'.",
		"The ground of Lamp at point 3 (lamp ground terminal) was not measured: dropped there would have pointed to "+
			"'Corroded lamp ground', in: volts at the lamp ground, switch on.")
	s := mark(hand(l, lampSheet, lampRepair, "3-"))
	said(t, s, -1, "'Replace the lamp' was concluded before it was proven: 2 checks were still owed.",
		"The feed of Lamp at point 2 (switch, lamp side) was not measured: a bad reading there would have pointed to "+
			"a cause that is not on the list; "+
			"the ground of Lamp at point 3 (lamp ground terminal) was not measured: a bad reading there would have "+
			"pointed to a cause that is not on the list.")
	const better = "normal would have pointed to 'Replace the lamp', 'Clean the lamp ground', dropped to 'Replace the " +
		"switch', none to 'Replace the switch', " +
		"anything else to a cause that is not on the list"
	if got := s.Steps[0]; got.Better != feed || got.Pointed != better {
		t.Errorf("better: test %d, %q", got.Better, got.Pointed)
	}
	said(t, mark(hand(l, groundSheet, switchRepair, "2-")), -1,
		"'Replace the switch' does not fit what the work order gives: volts at the switch, lamp side, switch on.")

	// The battery is no check of the lamp, but the switch is possible; the ground after the proof is the lamp's own.
	s = mark(hand(l, lampSheet, lampRepair, "0+", "2+", "1+"))
	for i := range s.Steps {
		said(t, s, i)
	}
	if want := "You looked only where a part has its feed, ground, inputs and output, which is good practice. Only their " +
		"order cost minutes: another look would have told more for its time than step 2 did."; s.Practice != want {
		t.Errorf("practice %q", s.Practice)
	}
	said(t, mark(hand(l, groundSheet, groundRepair, "1+", "2-")), 0, "The work order gave this reading already.")
	if s = mark(hand(l, switchOpenSheet, switchRepair,
		"1-")); s.Practice != "Prove it before you conclude: of 'Replace the switch' 1 check was still owed. "+
		"Ask of every part whether its feed, ground and inputs are good and its output is not." {
		t.Errorf("practice %q", s.Practice)
	}
}

// Luck by hand, in the lab without checks: the resistance first condemns the lamp in 5 minutes. Where best play takes
// as long, though it could have been expected to be shorter, that is luck; where best play happens to be much shorter,
// it is the other way round.
func TestLuckIsTold(t *testing.T) {
	l := lampLab()
	// 4.0 = 2 + 2 of best play to the lamp; first it costs 4 + 6/10 x 2 = 5.2, loses 2.2
	l.Tests[resistance].Minutes = 40
	s := of(t, grade(t, l, adjust.Decisions{}, hand(l, lampSheet, lampRepair, "3-")), "1003")
	said(t, s, -1,
		"Luck was with you: on this vehicle your steps took 4.0 minutes, best play 4.0, but over all faults that "+
			"were possible the same choices take 2.2 minutes longer.")
	// The ground first loses 0.8 on average and 2.0 on the switch: best play 2.0, spent 4.0.
	s = of(t, grade(t, l, adjust.Decisions{}, hand(l, switchOpenSheet, switchRepair, "2+", "1-")), "1001")
	said(t, s, -1,
		"Luck was against you: on this vehicle your steps took 2.0 minutes longer than best play, but over all "+
			"faults that were possible the same choices lose only 0.8.")
	said(t, of(t, grade(t, l, adjust.Decisions{}, hand(l, lampSheet, lampRepair, "1+", "2+")), "1003"), -1)
}

// openLab is a random lab with checks, cases and a work order for every sheet.
func openLab(r *rand.Rand) *lab.Lab {
	l := randomLab(r)
	l.Format = lab.Format
	for range 2 + r.IntN(3) {
		l.Checks = append(l.Checks, lab.Check{What: "feed", Point: -1,
			Tests: slices.Sorted(slices.Values(r.Perm(len(l.Tests))[:r.IntN(3)]))})
	}
	for i := range l.Hypotheses {
		l.Hypotheses[i].Weight *= 1 + r.Int64N(6)
		l.Hypotheses[i].Checks = r.Perm(len(l.Checks))[:r.IntN(3)]
	}
	l.Cases = []lab.Case{{}}
	for i := range l.Sheets {
		if r.IntN(2) == 0 {
			continue
		}
		test := r.IntN(len(l.Tests))
		l.Sheets[i].Case = len(l.Cases)
		l.Cases = append(l.Cases, lab.Case{Known: []lab.Known{{Test: test, Band: l.Sheets[i].Lines[test].Band}}})
	}
	return l
}
