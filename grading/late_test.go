package grading_test

import (
	"strings"
	"testing"
)

// Handed in late is told of the student whom it names, and changes no mark.
func TestLate(t *testing.T) {
	row := hand(lampLab(), lampSheet, lampRepair, "1+", "2+")
	plain, err := adjusted(t, "", row)
	if err != nil {
		t.Fatal(err)
	}
	late := "[[late]]\nstudent = \"1003\"\nreason = \"came on Tuesday\"\n"
	r, err := adjusted(t, late, row)
	if err != nil {
		t.Fatal(err)
	}
	for i, m := range r.Marks {
		if m.Late != (m.Student == "1003") || m.Mark != plain.Marks[i].Mark || m.Status != plain.Marks[i].Status {
			t.Errorf("late: %+v, before %+v", m, plain.Marks[i])
		}
	}
	if _, err := adjusted(t, late+late, row); err == nil ||
		!strings.Contains(err.Error(), "a second [[late]] about the same") {
		t.Errorf("told twice: %v", err)
	}
	if _, err := adjusted(t, strings.Replace(late, "1003", "9999", 1), row); err == nil ||
		!strings.Contains(err.Error(), `student "9999"`) {
		t.Errorf("of nobody: %v", err)
	}
}
