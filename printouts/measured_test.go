package printouts

import (
	"math/rand/v2"
	"regexp"
	"strings"
	"testing"

	"nospark/grading/adjust"
	"nospark/grading/submission"
)

// TestNotMeasuredIsTrue: a debrief never says that a point was not measured when one of its own steps is at that point.
// Routes are random, so many readings are taken that prove nothing, as volts without load at a poor ground.
func TestNotMeasuredIsTrue(t *testing.T) {
	lab := classLab(t, "reluctor", 24, "")
	r := rand.New(rand.NewPCG(3, 4))
	var rows []submission.Row
	for i, s := range lab.Sheets {
		row := submission.Row{Student: s.Student, Reasoning: -1, Safe: -1}
		repair := lab.Repairs[lab.Faults[lab.Hypotheses[lab.Sheets[i].Truth].Fault].Repair]
		row.Repair = repair.Code + repair.Letters
		for _, test := range r.Perm(len(lab.Tests))[:12] {
			row.Steps = append(row.Steps, rightly(lab, s, test))
		}
		rows = append(rows, row)
	}
	unmeasured := regexp.MustCompile(`at point (\d+) \([^)]*\) was not measured:`)
	told, vain := 0, 0
	for _, s := range graded(t, lab, rows, adjust.Decisions{}).Students {
		for _, remark := range s.Remarks {
			vain += strings.Count(remark, "but not with a test that proves this repair")
			for _, m := range unmeasured.FindAllStringSubmatch(remark, -1) {
				told++
				for i, step := range s.Steps {
					if name := lab.TestName(step.Test); strings.HasPrefix(name, "at "+m[1]+":") {
						t.Errorf("student %s: %q, but step %d is %s", s.Student, m[0], i+1, name)
					}
				}
			}
		}
	}
	if told == 0 || vain == 0 {
		t.Errorf("%d points told as not measured, %d as measured in vain: the routes try nothing", told, vain)
	}
}
