package grading_test

import (
	"testing"

	"nospark/grading"
	"nospark/grading/adjust"
	"nospark/grading/labtest"
	"nospark/grading/submission"
	"nospark/scenarios/lab"
)

// The labs of labtest and what stands in them, by short names.
var (
	lampLab   = labtest.Lamp
	openLamp  = labtest.OpenLamp
	randomLab = labtest.Random
	manyLabs  = labtest.Many
	hand      = labtest.Hand
)

const (
	battery         = labtest.Battery
	feed            = labtest.Feed
	ground          = labtest.Ground
	resistance      = labtest.Resistance
	switchRepair    = labtest.SwitchRepair
	lampRepair      = labtest.LampRepair
	groundRepair    = labtest.GroundRepair
	switchOpenSheet = labtest.SwitchOpenSheet
	burntSheet      = labtest.BurntSheet
	lampSheet       = labtest.LampSheet
	groundSheet     = labtest.GroundSheet
	spareSheet      = labtest.SpareSheet
	feedCheck       = labtest.FeedCheck
	groundCheck     = labtest.GroundCheck
	endCheck        = labtest.EndCheck
)

// grade grades rows that must not fail.
func grade(t testing.TB, lab *lab.Lab, adjust adjust.Decisions, rows ...submission.Row) *grading.Result {
	t.Helper()
	r, err := grading.Grade(lab, rows, adjust)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// of finds a student's result.
func of(t testing.TB, r *grading.Result, student string) grading.StudentResult {
	t.Helper()
	for _, s := range r.Students {
		if s.Student == student {
			return s
		}
	}
	t.Fatalf("no result of student %s", student)
	return grading.StudentResult{}
}
