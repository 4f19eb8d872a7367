package grading_test

import (
	"reflect"
	"testing"

	"nospark/grading"
)

// By hand, from the table of lampLab: best play (100); the battery first, which tells nothing and loses 1.0 minute,
// with a wrong verdict (85); a wrong guess without a test (0), which leaves the 3.0 minutes of best play and costs the
// 20.0 of the switch; one student hands in nothing.
func TestOverviewByHand(t *testing.T) {
	lab := lampLab()
	r := grade(t, lab, grading.Adjust{}, hand(lab, switchOpenSheet, switchRepair, "1-"),
		hand(lab, lampSheet, lampRepair, "0+", "1+", "2-"),
		hand(lab, groundSheet, switchRepair))
	o := grading.NewOverview(lab, r)
	// The ground of the lamp sheet is judged wrongly: 2 of the 2 telling steps are there, one verdict in two agrees: 15
	// x 1/2, in all 15 + 40 + 22.5 + 7.5.
	want := &grading.Overview{
		Graded: 3, Blank: 1, Marks: []float64{0, 85, 100}, Mean: 185.0 / 3, Median: 85,
		LostSteps: 10.0 / 3, LostEarly: 30.0 / 3, LostWrong: 200.0 / 3,
		Faults: []grading.OverviewFault{
			{Fault: 0, Students: 1, Right: 1, Mark: 100, Minutes: 20, Best: 20},
			{Fault: 2, Students: 1, Right: 1, Mark: 85, Minutes: 50, Best: 40},
			{Fault: 3, Students: 1, Right: 0, Mark: 0, Minutes: 0, Best: 40},
		},
		Idle:      []grading.OverviewTest{{Test: battery, Times: 1, Lost: 10}},
		Missed:    []grading.OverviewTest{{Test: feed, Times: 1, Lost: 10}},
		Misjudged: []grading.OverviewTest{{Test: ground, Times: 1, Of: 1}},
		Wrong:     []grading.OverviewRepair{{Repair: switchRepair, Students: 1}},
	}
	if !reflect.DeepEqual(o, want) {
		t.Errorf("overview\n%+v, want\n%+v", o, want)
	}
	if empty := grading.NewOverview(lab, grade(t, lab, grading.Adjust{})); empty.Blank != 4 || empty.Mean != 0 ||
		empty.Faults != nil {
		t.Errorf("overview of nothing: %+v", empty)
	}
}
