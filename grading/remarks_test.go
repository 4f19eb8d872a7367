package grading_test

import (
	"slices"
	"strings"
	"testing"

	"nospark/grading"
	"nospark/grading/adjust"
	"nospark/grading/submission"
	"nospark/scenarios/lab"
	"nospark/scenarios/pack"
	"nospark/scenarios/testrun"
)

// said checks the remarks of a step, counted from 0, or of the student for step -1.
func said(t *testing.T, s grading.StudentResult, step int, want ...string) {
	t.Helper()
	got := s.Remarks
	if step >= 0 {
		got = s.Steps[step].Remarks
	}
	if !slices.Equal(got, want) {
		t.Errorf("step %d:\n got %q\nwant %q", step, got, want)
	}
}

func TestRemarksOnSteps(t *testing.T) {
	lab := lampLab()
	mark := func(row submission.Row) grading.StudentResult {
		t.Helper()
		return of(t, grade(t, lab, adjust.Decisions{}, row), row.Student)
	}
	s := mark(hand(lab, lampSheet, lampRepair, "0+", "1-", "1+", "2", "3-"))
	said(t, s, 0, "Every suspect that was left reads the same here, so the answer was known beforehand.")
	said(t, s, 1, "Judged -, but reading 1 is within the specification: within 0.5 V of the battery")
	said(t, s, 2, "This line had been read already. Reading it again costs its minutes and tells nothing new.")
	said(t, s, 3, "No verdict was written.")
	said(t, s, 4, "The repair was proven before this test; nothing it could show would have changed it.")
	said(t, s, -1)

	lab.Technique.Forbid = []string{"ohmmeter"}
	said(t, mark(hand(lab, lampSheet, lampRepair, "3-")), 0,
		"The instructions for this lab forbid this instrument, so its reading proves nothing here.")
}

func TestRemarksOnTheConclusion(t *testing.T) {
	lab := lampLab()
	mark := func(row submission.Row) grading.StudentResult {
		t.Helper()
		return of(t, grade(t, lab, adjust.Decisions{}, row), row.Student)
	}
	said(t, mark(hand(lab, lampSheet, lampRepair, "1+", "2+")), -1)
	said(t, mark(hand(lab, lampSheet, -1, "1+", "2+")), -1, "No conclusion was written.")
	said(t, mark(hand(lab, lampSheet, switchRepair, "1+", "2+")), -1,
		"'Replace the switch' does not fit step 1: it would not have read reading 1 there.")
	// This lab keeps no pack, so where the lamp's terminals are is not known.
	said(t, mark(hand(lab, lampSheet, lampRepair, "1+")), -1,
		"'Replace the lamp' was concluded while other repairs were still possible: 'Clean the lamp ground'.")
}

// placedLamp is the lamp lab with the text of its pack: switch between points 2 and 3, lamp between 3 and 4, ground
// wire from 4 to the battery.
func placedLamp(t *testing.T) *lab.Lab {
	t.Helper()
	source, err := pack.Source("lamp")
	if err != nil {
		t.Fatal(err)
	}
	l := lampLab()
	l.Pack.Source = string(source)
	bat, sw, gnd := l.Points[0], l.Points[1], l.Points[2]
	l.Points = []lab.Point{bat, {ID: "sw_in", Label: "switch, battery side"}, sw, gnd, {ID: "bat_neg",
		Label: "battery negative post"}}
	for i := range l.Points {
		l.Points[i].Number = i + 1
	}
	l.Tests[feed].Point, l.Tests[ground].Point = 2, 3
	return l
}

// A part that is condemned too early: what had not been proven are its own feed and ground, wherever the other suspects
// are.
func TestOwnFeedAndGroundBeforeAPart(t *testing.T) {
	l := placedLamp(t)
	check := func(row submission.Row, others string, want ...string) {
		t.Helper()
		label := l.Repairs[slices.IndexFunc(l.Repairs,
			func(r lab.Repair) bool { return r.Code+r.Letters == row.Repair })].Label
		want = append([]string{"'" + label + "' was concluded while other repairs were still possible: " + others +
			"."}, want...)
		said(t, of(t, grade(t, l, adjust.Decisions{}, row), row.Student), -1, want...)
	}
	// With the feed proven the ground remains.
	check(hand(l, lampSheet, lampRepair, "1+"), "'Clean the lamp ground'",
		"The ground at point 4 (lamp ground terminal) was not proven: dropped there would have pointed to 'Corroded "+
			"lamp ground', in: volts at the lamp ground, switch on.")
	// Without a test both: of the two faults that would have shown at the feed the open switch is the heavier one.
	check(hand(l, lampSheet, lampRepair), "'Replace the switch', 'Clean the lamp ground'",
		"The feed at point 3 (switch, lamp side) was not proven: none there would have pointed to 'Switch contacts "+
			"open'; "+
			"the ground at point 4 (lamp ground terminal) was not proven: dropped there would have pointed to "+
			"'Corroded lamp ground'.")
	// A switch has the feed before it, which is no test of this lab; the wire to ground has nothing of its own.
	check(hand(l, lampSheet, switchRepair), "'Replace the lamp', 'Clean the lamp ground'")
	check(hand(l, lampSheet, groundRepair, "1+"), "'Replace the lamp'")
}

// withoutChecks makes a lab one in which nothing is known at the start and nothing has to be proven beyond what the
// list leaves.
func withoutChecks(l *lab.Lab) {
	l.Checks, l.Cases = nil, nil
	for i := range l.Hypotheses {
		l.Hypotheses[i].Checks = nil
	}
}

// In a complete system: the points by hand, from the text of the pack. What the feed or the crank signal would have
// shown is not asked for again at the inputs that are dead without them.
func TestOwnPointsOfAController(t *testing.T) {
	testrun.Slow(t, "works out a large lab")
	l := builtLab(t, "single-coil", "no-start", 1)
	withoutChecks(l)
	check := func(repair string, want ...string) {
		t.Helper()
		i := slices.IndexFunc(l.Repairs, func(r lab.Repair) bool { return r.Label == repair })
		if i < 0 {
			t.Fatalf("no repair %q", repair)
		}
		row := hand(l, 0, i)
		s := of(t, grade(t, l, adjust.Decisions{}, row), row.Student)
		if got := len(s.Remarks); got != 1+min(1, len(want)) {
			t.Fatalf("%s: remarks %q", repair, s.Remarks)
		}
		for _, w := range want {
			if !strings.Contains(s.Remarks[1], w) {
				t.Errorf("%s: %q is not in %q", repair, w, s.Remarks[1])
			}
		}
	}
	check("Replace the PCM",
		"The feed at point 16 (PCM feed) was not proven: none there ", "the ground at point 17 (PCM ground) was not "+
			"proven: ", "the input at point 18 (PCM crank signal input) was not proven: ")
	check("Replace the ICM", "The feed at point 11 (ICM feed) was not proven: ",
		"the ground at point 12 (ICM ground) was not proven: ",
		"the input at point 13 (ICM trigger input) was not proven: ", "; 1 check more.")
	check("Replace distributor cap and rotor")
	check("Replace the coil lead")
	check("Repair the feed wire, splice to coil positive")
}

// A ground that is judged good with the lamp unplugged, where only the lamp's current would show the corroded one.
func TestUnloadedCheckIsRemarked(t *testing.T) {
	l := lampLab()
	l.Tests = append(l.Tests, l.Tests[ground])
	unloaded := len(l.Tests) - 1
	l.Tests[unloaded].ID, l.Tests[unloaded].Label, l.Tests[unloaded].Unplugged = "ground-unplugged", "volts at the lamp ground, lamp unplugged", []string{"lamp"}
	for i := range l.Hypotheses {
		l.Hypotheses[i].Bands += "0"
	}
	for i := range l.Sheets {
		l.Sheets[i].Lines = append(l.Sheets[i].Lines, lab.Line{Number: 900 + i, Letters: "ZZ", Reading: "0.00 V"})
	}
	want := "Without current this reading does not prove the point good: 'Corroded lamp ground' was still possible " +
		"and shows only under load, in: volts at the lamp ground, switch on."
	check := func(name string, remarked bool, row submission.Row) {
		t.Helper()
		s := of(t, grade(t, l, adjust.Decisions{}, row), row.Student)
		if got := slices.Contains(s.Steps[1].Remarks, want); got != remarked {
			t.Errorf("%s: remarks %q", name, s.Steps[1].Remarks)
		}
	}
	check("trusted", true, hand(l, groundSheet, lampRepair, "1+", "4+"))
	check("then proven under load", false, hand(l, groundSheet, groundRepair, "1+", "4+", "2-"))
	check("not judged good", false, hand(l, groundSheet, lampRepair, "1+", "4"))
	check("nothing concluded", false, hand(l, groundSheet, -1, "1+", "4+"))

	// The same lead with the lamp connected but switched off.
	l.Tests[unloaded].Unplugged, l.Tests[unloaded].Condition = nil, "switch off"
	want = "This reading does not prove the point good in every condition: 'Corroded lamp ground' was still possible " +
		"and would show in: volts at the lamp ground, switch on."
	check("another condition", true, hand(l, groundSheet, lampRepair, "1+", "4+"))
}

// The one thing to practice is what cost most points; the figures are those of TestMarksByHand.
func TestPractice(t *testing.T) {
	lab := lampLab()
	check := func(want string, row submission.Row) {
		t.Helper()
		if s := of(t, grade(t, lab, adjust.Decisions{}, row), row.Student); !strings.HasPrefix(s.Practice, want) {
			t.Errorf("got %q, want %q", s.Practice, want)
		}
	}
	check("Nothing was lost.", hand(lab, lampSheet, lampRepair, "1+", "2+"))
	check("Write + or - behind every reading: step 1,", hand(lab, lampSheet, lampRepair, "1", "2+"))
	check("Write + or - behind every reading: step 2,", hand(lab, lampSheet, lampRepair, "1-", "2", "0"))
	check("Compare every reading with its specification before you judge it; look again at step 2,", hand(lab,
		lampSheet, lampRepair, "1", "2-"))
	check("Compare every reading with its specification before you judge it; look again at step 1,", hand(lab,
		lampSheet, lampRepair, "1-", "2+"))
	check("Prove it before you conclude: 2 suspects still stood", hand(lab, lampSheet, lampRepair, "1+"))
	check("Prove it before you conclude: 4 suspects still stood", hand(lab, lampSheet, lampRepair))
	check("Hold the conclusion against every reading", hand(lab, lampSheet, switchRepair, "1+", "2+"))
	check("Write down a conclusion", hand(lab, lampSheet, -1, "1+", "2+"))
	check("Before each test ask which suspects it could rule out; step 1 ruled out none.", hand(lab, lampSheet,
		lampRepair, "0+", "1+", "2+"))
	check("Use what is written in your record table: step 2 read a line again.", hand(lab, lampSheet, lampRepair, "1+",
		"1+", "2+"))
	check("Choose the test that rules out most for its minutes; look again at step 1, which lost 3.2 minutes.",
		hand(lab, lampSheet, lampRepair, "3-"))
	slip := hand(lab, lampSheet, lampRepair, "1+", "2+")
	slip.Steps[1].Letters = "ZZ"
	check("Copy line and letters as they stand beside the reading; those of step 2 do not fit", slip)
}
