package grading_test

import (
	"fmt"
	"strings"
	"testing"

	"nospark/grading/adjust"
	"nospark/grading/submission"
	"nospark/scenarios/lab"
)

// bigLab is the lamp lab with more students: n sheets, faults in turn.
func bigLab(n int) *lab.Lab {
	lab := lampLab()
	four := lab.Sheets[:spareSheet]
	lab.Sheets = nil
	for i := range n {
		sheet := four[i%4]
		sheet.Code, sheet.Student = fmt.Sprintf("S%d", i), fmt.Sprintf("s%d", i)
		lab.Sheets = append(lab.Sheets, sheet)
	}
	return lab
}

func TestAlike(t *testing.T) {
	lab := bigLab(24)
	right := []int{switchRepair, switchRepair, lampRepair, groundRepair}
	honest := func() []submission.Row {
		var rows []submission.Row
		for i := range lab.Sheets {
			var tests []string
			for _, test := range []int{feed, ground, battery} {
				verdict := "+"
				if !lab.Tests[test].Bands[lab.Sheets[i].Lines[test].Band].Normal {
					verdict = "-"
				}
				tests = append(tests, fmt.Sprint(test, verdict))
			}
			rows = append(rows, hand(lab, i, right[i%4], tests...))
		}
		return rows
	}
	check := func(name string, want int, change func(rows []submission.Row)) {
		t.Helper()
		rows := honest()
		change(rows)
		r := grade(t, lab, adjust.Decisions{}, rows...)
		if len(r.Alike) != want {
			t.Errorf("%s: %v, want %d pairs", name, r.Alike, want)
		}
		for _, a := range r.Alike {
			if !strings.HasPrefix(a.Why, "please look: both have ") {
				t.Errorf("%s: %q", name, a.Why)
			}
		}
	}
	// The lamp sheets 2 and 6 have the same readings, and everything reads normal but the resistance.
	wrong := func(tests ...string) func(rows []submission.Row) {
		return func(rows []submission.Row) {
			rows[2] = hand(lab, 2, groundRepair, tests...)
			rows[6] = hand(lab, 6, groundRepair, tests...)
		}
	}
	check("honest", 0, func([]submission.Row) {})
	check("the same wrong repair alone", 0, wrong("1+", "2+"))
	check("the same wrong repair and one wrong verdict", 0, wrong("1-", "2+"))
	check("the same wrong repair and two wrong verdicts", 1, wrong("1-", "2-"))
	check("in another order", 0, func(rows []submission.Row) {
		rows[2], rows[6] = hand(lab, 2, groundRepair, "1-", "2-"), hand(lab, 6, groundRepair, "2-", "1-")
	})
	check("three wrong verdicts", 1, func(rows []submission.Row) {
		rows[2], rows[6] = hand(lab, 2, lampRepair, "0-", "1-", "2-"), hand(lab, 6, lampRepair, "0-", "1-", "2-")
	})
	// What many do is no sign of anything.
	check("four with the same errors", 0, func(rows []submission.Row) {
		for _, i := range []int{2, 6, 10, 14} {
			rows[i] = hand(lab, i, groundRepair, "0-", "1-", "2-")
		}
	})
}
