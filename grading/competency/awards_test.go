package competency

import (
	"fmt"
	"testing"

	"nospark/grading/competency/lists"
	"nospark/grading/evidence"
)

// TestProposals: an award stays when the rule would not give it any more; recomputation only proposes.
func TestProposals(t *testing.T) {
	term := newTerm()
	term.Mastery.Signed = false
	records := func(signs string) (list []*evidence.Record) {
		for i, c := range signs {
			list = append(list, rec(fmt.Sprintf("week%02d", i+1), fmt.Sprintf("2026-09-%02d", i+1), "A",
				"1 Ann: proof"+string(c)))
		}
		return list
	}
	check := func(signs, want string, awards ...lists.Award) *Term {
		t.Helper()
		g := gather(t, Options{Term: term, Awards: awards}, records(signs)...)
		award, look := g.Proposals()
		s := standing(t, g, "1", evidence.Proof)
		if got := fmt.Sprintf("%s, computed %s; %d to award, %d to look at", s.Status, s.Computed, len(award),
			len(look)); got != want {
			t.Errorf("%s: got %s, want %s", signs, got, want)
		}
		return g
	}
	g := check("+++++", "competent, computed competent; 1 to award, 0 to look at")
	p, _ := g.Proposals()
	if a := p[0].Award; a.Evidence != "week01 K2-BCD ✓; week02 K2-BCD ✓; week03 K2-BCD ✓; week04 K2-BCD ✓; "+
		"week05 K2-BCD ✓" ||
		a.Rule != RuleWords(term.Mastery) {
		t.Errorf("%+v", a)
	}
	award := lists.Award{Place: "awards.csv:2", Date: "2026-12-04", Student: "1", Competency: evidence.Proof,
		What: lists.Awarded}
	taken := award
	taken.What = lists.Withdrawn
	check("+++++", "competent, computed competent; 0 to award, 0 to look at", award)
	check("+++++--", "competent, computed not yet; 0 to award, 1 to look at", award)
	check("+++++--", "not yet, computed not yet; 0 to award, 0 to look at", award, taken)
	check("+++++", "competent, computed competent; 1 to award, 0 to look at", award, taken)
}
