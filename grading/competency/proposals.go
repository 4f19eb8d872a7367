package competency

import (
	"fmt"
	"strings"

	"nospark/grading/competency/lists"
	"nospark/grading/evidence"
)

// Proposal is a line that the register might get: recomputation proposes, a person decides.
type Proposal struct {
	Student    *Student
	Competency evidence.Competency
	Award      lists.Award
}

// Proposals lists who is competent by the rule without an award, and whose award the rule would not give now.
func (t *Term) Proposals() (award, look []Proposal) {
	for i := range t.Students {
		s := &t.Students[i]
		for c := range s.Standings {
			x := &s.Standings[c]
			a := lists.Award{Student: s.ID, Competency: t.Competencies[c].ID, What: lists.Awarded, Rule: RuleWords(t.Term.Mastery),
				Evidence: x.window()}
			if x.Signed != nil {
				a.By = x.Signed.By
			}
			p := Proposal{s, t.Competencies[c], a}
			switch {
			case x.Computed == Competent && x.Award == nil:
				award = append(award, p)
			case x.Computed != Competent && x.Award != nil:
				look = append(look, p)
			}
		}
	}
	return award, look
}

// window writes the opportunities that the rule looks at, oldest first.
func (s *Standing) window() string {
	var list []string
	for _, o := range s.Opportunities[len(s.Opportunities)-s.Window:] {
		list = append(list, fmt.Sprintf("%s %s %s", o.Record.Lab, o.Entry.Sheet, Sign(o.Evidence.Met)))
	}
	return strings.Join(list, "; ")
}
