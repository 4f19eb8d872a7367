package review_test

import (
	"reflect"
	"testing"

	"nospark/grading"
	"nospark/grading/adjust"
	"nospark/grading/labtest"
	"nospark/grading/review"
	"nospark/grading/submission"
	"nospark/scenarios/lab"
)

// graded grades rows that must not fail.
func graded(t *testing.T, lab *lab.Lab, rows ...submission.Row) *grading.Result {
	t.Helper()
	r, err := grading.Grade(lab, rows, adjust.Decisions{})
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// By hand, from the table of labtest.Lamp: best play (100); the battery first, which tells nothing and loses 1.0
// minute, with a wrong verdict (85); a wrong guess without a test (0), which leaves the 3.0 minutes of best play and costs the
// 20.0 of the switch; one student hands in nothing.
func TestOverviewByHand(t *testing.T) {
	lab := labtest.Lamp()
	r := graded(t, lab, labtest.Hand(lab, labtest.SwitchOpenSheet, labtest.SwitchRepair, "1-"),
		labtest.Hand(lab, labtest.LampSheet, labtest.LampRepair, "0+", "1+", "2-"),
		labtest.Hand(lab, labtest.GroundSheet, labtest.SwitchRepair))
	o := review.NewOverview(lab, r)
	// The ground of the lamp sheet is judged wrongly: 2 of the 2 telling steps are there, one verdict in two agrees: 15
	// x 1/2, in all 15 + 40 + 22.5 + 7.5.
	want := &review.Overview{
		Graded: 3, Blank: 1, Marks: []float64{0, 85, 100}, Mean: 185.0 / 3, Median: 85,
		LostSteps: 10.0 / 3, LostEarly: 30.0 / 3, LostWrong: 200.0 / 3,
		Faults: []review.OverviewFault{
			{Fault: 0, Students: 1, Right: 1, Mark: 100, Minutes: 20, Best: 20},
			{Fault: 2, Students: 1, Right: 1, Mark: 85, Minutes: 50, Best: 40},
			{Fault: 3, Students: 1, Right: 0, Mark: 0, Minutes: 0, Best: 40},
		},
		Idle:      []review.OverviewTest{{Test: labtest.Battery, Times: 1, Lost: 10}},
		Missed:    []review.OverviewTest{{Test: labtest.Feed, Times: 1, Lost: 10}},
		Misjudged: []review.OverviewTest{{Test: labtest.Ground, Times: 1, Of: 1}},
		Wrong:     []review.OverviewRepair{{Repair: labtest.SwitchRepair, Students: 1}},
	}
	if !reflect.DeepEqual(o, want) {
		t.Errorf("overview\n%+v, want\n%+v", o, want)
	}
	if empty := review.NewOverview(lab, graded(t, lab)); empty.Blank != 4 || empty.Mean != 0 ||
		empty.Faults != nil {
		t.Errorf("overview of nothing: %+v", empty)
	}
}
