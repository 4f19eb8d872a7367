package outcomes

import (
	"nospark/grading/competency"
	"nospark/grading/statistics"
)

// DecisionsOf says how consistent the count of the rule is for a competency: over the students with a full window.
func DecisionsOf(t *competency.Term, competency int) statistics.Consistency {
	rule := t.Term.Mastery
	counts := make([]int, rule.Of+1)
	for i := range t.Students {
		if x := &t.Students[i].Standings[competency]; x.Window == rule.Of {
			counts[x.MetInWindow]++
		}
	}
	return statistics.DecisionConsistency(counts, rule.Met)
}

// LeastForKappa is how many students with full windows a kappa needs; below, the table by true rate says more.
const LeastForKappa = 100
