package competency

import (
	"fmt"
	"slices"
	"strings"

	"nospark/grading/competency/lists"
	"nospark/scenarios/term"
)

// acceptable tells why a signature cannot count, whoever it is for; "" when it can.
func (t *Term) acceptable(s *lists.SignOff) string {
	signers := t.Term.Signers
	same := func(name string) bool { return strings.EqualFold(strings.TrimSpace(name), strings.TrimSpace(s.By)) }
	switch {
	case t.Today != "" && s.Date > t.Today:
		return fmt.Sprintf("the date %s is in the future", s.Date)
	case len(signers) > 0 && !slices.ContainsFunc(signers, same):
		return fmt.Sprintf("%q may not sign; signers of term.toml names %s", s.By, strings.Join(signers, ", "))
	}
	return ""
}

// Since is the day of the lab with which the rule was first met, signature aside; "" when it never was. Hands-on
// competencies have no signature from paper, so none comes here.
func (s *Standing) Since(rule term.Mastery) string {
	rule.Signed = false
	for n := 1; n <= len(s.Opportunities); n++ {
		then := Standing{Opportunities: s.Opportunities[:n]}
		if then.judge(rule, false); then.Status == Competent {
			return s.Opportunities[n-1].Record.Date
		}
	}
	return ""
}

// checkSignatures tells of signatures that the evidence does not bear. One from before the evidence was there signs
// nothing.
func (g *gathering) checkSignatures() {
	for i := range g.t.Students {
		for k := range g.t.Students[i].Standings {
			own := &g.t.Students[i].Standings[k]
			if own.Signed == nil {
				continue
			}
			who := fmt.Sprintf("%s of student %s", g.t.Competencies[k].ID, g.t.Students[i].ID)
			switch day := own.Since(g.t.Term.Mastery); {
			case day == "":
				g.problem(own.Signed.Place, "it counts once the evidence is there and is signed then",
					"%s is signed, but the rule is not met yet", who)
				own.Signed = nil
			case own.Signed.Date < day:
				g.problem(own.Signed.Place, "correct the date, or sign again; it does not count",
					"%s is signed on %s, before the rule was met on %s", who, own.Signed.Date, day)
				own.Signed = nil
			}
		}
	}
}
