package evidence

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
	"testing"

	"nospark/grading"
	"nospark/grading/adjust"
	"nospark/grading/bestplay"
	"nospark/grading/submission"
	"nospark/scenarios/lab"
	"nospark/scenarios/pack"
)

// text writes evidence as "voltage-drop+1": met in step 1.
func text(list []Item) string {
	var words []string
	for _, e := range list {
		sign := map[bool]string{true: "+", false: "-"}[e.Met]
		words = append(words, fmt.Sprintf("%s%s%d", e.Competency, sign, e.Step))
	}
	return strings.Join(words, " ")
}

// TestEvidence counts by hand, from the table of competencies and the numbers of the lamp lab.
func TestEvidence(t *testing.T) {
	l := lampLab()
	check := func(name, want string, sheet, repair int, steps ...string) {
		t.Run(name, func(t *testing.T) {
			t.Helper()
			records := FromResult(l, grade(t, l, adjust.Decisions{}, hand(l, sheet, repair, steps...)), testTerm())
			if got := text(entryOf(t, records, l.Sheets[sheet].Student).Evidence); got != want {
				t.Errorf("got  %s\nwant %s", got, want)
			}
		})
	}
	check("best play", "voltage-drop+1 ground-integrity+2 economy+0 proof+0", lampSheet, lampRepair, "1+",
		"2+")
	check("best play to the switch needs no ground", "voltage-drop+1 economy+0 proof+0", switchSheet,
		switchRepair, "1-")
	check("a lucky guess", "voltage-drop-0 ground-integrity-0 economy-0 proof-0", lampSheet, lampRepair)
	// 2.0 minutes of testing were left, more than half of 3.0.
	check("concluded early", "voltage-drop+1 ground-integrity-0 economy-0 proof-0", lampSheet, lampRepair,
		"1+")
	check("wrong repair, early", "voltage-drop+1 ground-integrity-0 economy-0 proof-0", groundSheet,
		lampRepair, "1+")
	check("wrong repair although proven", "voltage-drop+1 ground-integrity+2 economy+0 proof-0",
		groundSheet, lampRepair, "1+", "2-")
	check("a repair that does not fit the complaint", "voltage-drop+1 ground-integrity+2 economy+0 proof-0",
		lampSheet, bulbRepair, "1+", "2+")
	check("wrong verdict", "voltage-drop-1 ground-integrity+2 economy+0 proof+0", lampSheet, lampRepair,
		"1-", "2+")
	check("no verdict", "voltage-drop-1 ground-integrity+2 economy+0 proof+0", lampSheet, lampRepair, "1",
		"2+")
	// The lamp's resistance proves it as well: 3.0 minutes dearer than the ground, which stays an opportunity.
	check("proven another way", "voltage-drop+1 ground-integrity-0 economy-0 proof+0", lampSheet, lampRepair,
		"1+", "3-")
	check("a test that is not needed",
		"voltage-drop+2 ground-integrity+3 economy+0 proof+0", lampSheet, lampRepair, "0+",
		"1+", "2+")
	check("one that is not needed, misjudged", "voltage-drop+2 ground-integrity+3 "+
		"economy+0 proof+0", lampSheet, lampRepair, "0-", "1+", "2+")
	// Battery 1.0 and ground 0.8 lose 1.8 minutes, more than half of 3.0.
	check("two that are not needed", "voltage-drop+3 economy-0 proof+0",
		switchSheet, switchRepair, "0+", "2+", "1-")
	check("a reading repeated with another verdict", "voltage-drop-2 economy-0 proof+0", switchSheet,
		switchRepair, "1-", "1+")
	check("no conclusion", "voltage-drop+1 ground-integrity+2 economy+0 proof-0", lampSheet, -1, "1+", "2+")
	check("nothing handed in", "", lampSheet, -1)
	check("provisional", "", lampSheet, lampRepair, "1+!", "2+")
}

// TestInstructorsColumns adds the two columns to best play on the switch.
func TestInstructorsColumns(t *testing.T) {
	l := lampLab()
	const rest = "voltage-drop+1 economy+0 proof+0"
	check := func(reasoning, safe int, want string) {
		t.Helper()
		row := hand(l, switchSheet, switchRepair, "1-")
		row.Reasoning, row.Safe = reasoning, safe
		records := FromResult(l, grade(t, l, adjust.Decisions{}, row), testTerm())
		if got := text(entryOf(t, records, "1001").Evidence); got != rest+want {
			t.Errorf("reasoning %d, safe %d: %s", reasoning, safe, got)
		}
	}
	check(-1, -1, "")
	check(0, -1, " reasoning-0")
	check(2, 0, " reasoning-0 safe-working-0")
	check(3, 1, " reasoning+0 safe-working+0")
	check(4, -1, " reasoning+0")
	check(-1, 1, " safe-working+0")
}

// TestAdjusted looks at what the instructor's word does to evidence.
func TestAdjusted(t *testing.T) {
	l := lampLab()
	check := func(name string, adjust adjust.Decisions, want string, rows ...submission.Row) {
		t.Helper()
		records := FromResult(l, grade(t, l, adjust, rows...), testTerm())
		if got := text(entryOf(t, records, "1003").Evidence); got != want {
			t.Errorf("%s: got %s, want %s", name, got, want)
		}
	}
	best := hand(l, lampSheet, lampRepair, "1+", "2+")
	check("excused", adjust.Decisions{Excuse: []adjust.Excuse{{Student: "1003", Reason: "ill"}}}, "", best)
	check("mark set without a sheet", adjust.Decisions{Mark: []adjust.SetMark{{Student: "1003", Value: 80,
		Reason: "oral"}}}, "")
	check("confirmed: the step without letters proves nothing",
		adjust.Decisions{Confirm: []adjust.Confirm{{Student: "1003", Reason: "seen"}}},
		"voltage-drop-0 ground-integrity+1 economy-0 proof-0", hand(l, lampSheet, lampRepair, "2+",
			"1+!"))
	check("repair accepted", adjust.Decisions{Accept: []adjust.Accept{{Repair: "clean-ground", Student: "1003",
		Reason: "same work"}}},
		"voltage-drop+1 ground-integrity+2 economy+0 proof+0", hand(l, lampSheet, groundRepair, "1+",
			"2+"))
}

// TestToldNothing has best play need a kind of test of which the student took one that could tell nothing at that
// point.
func TestToldNothing(t *testing.T) {
	l := lampLab()
	s := &grading.StudentResult{
		Index: groundSheet, Status: grading.Graded, Repair: groundRepair, Right: true, LostEarly: 10,
		Path:  []bestplay.PathStep{{Test: feed}, {Test: ground}},
		Steps: []grading.Step{{State: grading.Counted, Test: feed, Agrees: true, Minutes: 20, Lost: 20}},
	}
	check := func(name string, want string) {
		t.Helper()
		e := ofKind(l, s, "voltage-drop", 0)
		if got := fmt.Sprint(e.Met, e.Step); got != want {
			t.Errorf("%s: %s (%s), want %s", name, got, e.Why, want)
		}
	}
	check("not proven", "false 1")
	s.LostEarly = 0
	check("proven", "true 1")
	s.LostEarly, s.Steps[0].Silent = 10, true
	check("not proven, no verdict asked", "false 1")
	if e := ofKind(l, s, "voltage-drop", 0); e.Why != "best play needed a test of this kind that tells something; "+
		"those taken told nothing, no verdict was asked" {
		t.Errorf("why: %s", e.Why) // no share of no verdicts
	}
	s.Steps[0].Silent, s.Steps[0].Lost = false, 19
	check("told something", "true 1")
	s.Steps[0].Silent = true
	check("told something, no verdict asked", "true 1")
	s.Steps[0].State = grading.Unproven
	check("letters do not fit", "false 0")
}

// TestOwnKinds keeps the ids that a pack brings, and keeps them apart from the instructor's columns.
func TestOwnKinds(t *testing.T) {
	l := lampLab()
	l.Tests[feed].Competency, l.Tests[ground].Competency = "relay-logic", Proof
	records := FromResult(l, grade(t, l, adjust.Decisions{}, hand(l, lampSheet, lampRepair, "1+", "2-")),
		testTerm())
	const want = "economy+0 proof+0 relay-logic+1 test-proof-2"
	if got := text(entryOf(t, records, "1003").Evidence); got != want {
		t.Errorf("got %s, want %s", got, want)
	}
}

// TestTableIsComplete wants every word of the table that people will read.
func TestTableIsComplete(t *testing.T) {
	seen := map[string]bool{}
	for _, c := range Table() {
		if c.ID == "" || c.Title == "" || c.Opportunity == "" || c.Met == "" || c.Source == "" || c.Own || seen[c.ID] {
			t.Errorf("%+v", c)
		}
		seen[c.ID] = true
	}
	for _, s := range []lab.Sealing{lab.Sealed, lab.Changed, lab.NotCheckable} {
		if SealingWords(s) == "" || seen[SealingWords(s)] {
			t.Errorf("seal %d reads %q", s, SealingWords(s))
		}
		seen[SealingWords(s)] = true
	}
}

// TestOpportunityIsTheSheets: whatever two students do on a sheet, they have the same opportunities.
func TestOpportunityIsTheSheets(t *testing.T) {
	l := lampLab()
	for sheet, want := range map[int]string{lampSheet: "voltage-drop ground-integrity economy proof",
		switchSheet: "voltage-drop economy proof"} {
		for _, steps := range [][]string{{"1+"}, {"1+", "2+"}, {"3-"}, {"0+", "1-", "2-"}, {"1+", "3-"}} {
			records := FromResult(l, grade(t, l, adjust.Decisions{}, hand(l, sheet, lampRepair, steps...)),
				testTerm())
			var got []string
			for _, x := range entryOf(t, records, l.Sheets[sheet].Student).Evidence {
				got = append(got, x.Competency)
			}
			if strings.Join(got, " ") != want {
				t.Errorf("sheet %d, steps %v: %v, want %s", sheet, steps, got, want)
			}
		}
	}
}

// TestBuiltinKindsAreExplained: every kind of test of the built-in packs says for itself what meeting it means.
func TestBuiltinKindsAreExplained(t *testing.T) {
	said := map[string]string{}
	for _, c := range Table() {
		if other, twice := said[c.Met]; twice {
			t.Errorf("%s and %s are met in the same words", c.ID, other)
		}
		said[c.Met] = c.ID
	}
	for _, name := range pack.Builtin() {
		source, err := pack.Source(name)
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range regexp.MustCompile(`competency = "([^"]*)"`).FindAllStringSubmatch(string(source), -1) {
			if !slices.ContainsFunc(Table(), func(c Competency) bool { return c.ID == m[1] }) {
				t.Errorf("pack %s: competency %q is not explained", name, m[1])
			}
		}
	}
}
