package competency

import (
	"fmt"
	"slices"

	"nospark/grading"
	"nospark/grading/competency/lists"
	"nospark/scenarios/roster"
	"nospark/scenarios/tabular"
)

// Find gives the standing of a student, by the id or as a spreadsheet leaves it, in a competency; nil for none.
func (t *Term) Find(student, competency string) *Standing {
	c := -1
	for i := range t.Competencies {
		if tabular.Fold(t.Competencies[i].ID) == tabular.Fold(competency) {
			c = i
		}
	}
	bare, many := -1, 0
	for i := range t.Students {
		if t.Students[i].ID == student && c >= 0 {
			return &t.Students[i].Standings[c]
		}
		if roster.BareID(t.Students[i].ID) == roster.BareID(student) {
			bare, many = i, many+1
		}
	}
	if many == 1 && c >= 0 {
		return &t.Students[bare].Standings[c]
	}
	return nil
}

// Signable gives, of the signatures that the term was read with, the awards that follow from them, how many are awarded
// already, and why the others are not: one that the evidence does not bear, of the wrong person or day, or twice there.
func (t *Term) Signable(list []lists.SignOff) (lines []lists.Award, already int, look []grading.Problem) {
	told := map[string]grading.Problem{}
	for _, p := range t.Problems {
		told[p.Place] = p
	}
	byPlace := map[string]lists.Award{}
	propose, _ := t.Proposals()
	for i := range t.Students {
		s := &t.Students[i]
		for c := range s.Standings {
			x := &s.Standings[c]
			if x.Signed == nil {
				continue
			}
			k := slices.IndexFunc(propose, func(p Proposal) bool {
				return p.Student == s && p.Competency.ID == t.Competencies[c].ID
			})
			if k >= 0 {
				a := propose[k].Award
				a.Date = x.Signed.Date
				byPlace[x.Signed.Place] = a
			}
		}
	}
	for i := range list {
		at := list[i].Place
		a, ok := byPlace[at]
		x := t.Find(list[i].Student, list[i].Competency)
		switch p, wrong := told[at]; {
		case ok:
			lines = append(lines, a)
		case wrong:
			look = append(look, p)
		case x != nil && x.Award != nil:
			already++
		case x != nil && x.Signed != nil && x.Signed.Place != at:
			look = append(look, grading.Problem{Place: at, What: fmt.Sprintf("%s of student %s stands there twice, "+
				"also in %s",
				list[i].Competency, list[i].Student, x.Signed.Place), Do: "nothing; the later day counts"})
		case x != nil:
			look = append(look, grading.Problem{Place: at, What: fmt.Sprintf("%s of student %s: %s",
				list[i].Competency, list[i].Student, x.Why(t.Term.Mastery)), Do: "sign when the rule is met again"})
		default:
			look = append(look, grading.Problem{Place: at, What: "nobody is meant", Do: "correct id and competency"})
		}
	}
	return lines, already, look
}
