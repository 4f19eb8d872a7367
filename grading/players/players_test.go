package players_test

import (
	"fmt"
	"math/rand/v2"
	"reflect"
	"testing"

	"nospark/grading"
	"nospark/grading/adjust"
	"nospark/grading/players"
	"nospark/grading/submission"
	"nospark/scenarios/lab"
)

// chain is an invented lab: a feed in twelve stages, each of which may be open, with one voltage at every point, one
// test that proves the last stage alone, and one that tells nothing.
func chain() *lab.Lab {
	bands := []lab.Band{{Name: "normal", Normal: true}, {Name: "none"}}
	l := &lab.Lab{
		Name: "chain", Complaints: []lab.Complaint{{ID: "dead"}},
		Rubric: lab.Rubric{Evidence: 15, Diagnosis: 40, Efficiency: 30, Interpretation: 15},
	}
	const stages = 12
	test := func(id string, point int, minutes int64) {
		l.Tests = append(l.Tests, lab.Test{ID: id, Label: id, Minutes: minutes, Column: -1, Point: point, Compare: -1,
			Bands: bands})
	}
	for i := range stages {
		name := string(rune('a' + i))
		l.Points = append(l.Points, lab.Point{Number: i + 1, ID: name, Label: name})
		test("volts-"+name, i, 10)
		test("lamp-"+name, i, 30)
		l.Repairs = append(l.Repairs, lab.Repair{ID: name, Label: name, Code: fmt.Sprint(10 + i), Letters: "BC",
			Minutes: 100})
		l.Faults = append(l.Faults, lab.Fault{ID: name, Label: name, Repair: i})
	}
	test("nothing", -1, 5)
	for i := range stages {
		h := lab.Hypothesis{Fault: i, Weight: int64(1 + i)}
		for point := range stages {
			band := "0"
			if point >= i {
				band = "1"
			}
			h.Bands += band + band
		}
		h.Bands += "0"
		l.Hypotheses = append(l.Hypotheses, h)
	}
	for i := range 96 {
		sheet := lab.Sheet{Code: string(rune('A'+i/10)) + string(rune('0'+i%10)), Student: string(rune('a'+i/10)) +
			string(rune('0'+i%10)), Truth: i % stages}
		for t := range l.Tests {
			sheet.Lines = append(sheet.Lines, lab.Line{Number: 100 + t, Letters: "BC",
				Band: l.Hypotheses[i%stages].Band(t)})
		}
		l.Sheets = append(l.Sheets, sheet)
	}
	return l
}

func class(t testing.TB, lab *lab.Lab) *players.Class {
	t.Helper()
	c, err := players.New(lab)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// Better skill earns better marks: the order of the class averages is that of the skills.
func TestSkillsInOrder(t *testing.T) {
	lab := chain()
	c := class(t, lab)
	r := rand.New(rand.NewPCG(1, 2))
	last := 101.0
	for _, skill := range players.Skills() {
		var rows []submission.Row
		for i := range lab.Sheets {
			rows = append(rows, c.Play(i, skill, r.IntN))
		}
		result, err := grading.Grade(lab, rows, adjust.Decisions{})
		if err != nil {
			t.Fatal(err)
		}
		mean := 0.0
		for _, s := range result.Students {
			if s.Status != grading.Graded {
				t.Errorf("%s of student %s is %s: %s", skill, s.Student, s.Status, s.Why)
			}
			mean += s.Mark / float64(len(result.Students))
		}
		t.Logf("%s: %.1f", skill, mean)
		if mean >= last {
			t.Errorf("%s averages %.1f, the skill before %.1f", skill, mean, last)
		}
		last = mean
	}
}

// The walker visits the points in order, from where it begins, and stops where the fault is proven.
func TestWalkerWalks(t *testing.T) {
	lab := chain()
	// begins at the eleventh point; the first test of each, rightly judged
	draws := []int{10, 0, 1, 0, 1, 0, 1, 0, 1, 0, 1}
	row := class(t, lab).Play(2, players.Walker, func(n int) int {
		d := draws[0]
		draws = append(draws[1:], d)
		return min(d, n-1)
	})
	var tests []int
	for _, step := range row.Steps {
		tests = append(tests, step.Line-100)
	}
	// The fault is at the third point. At the eleventh there is no voltage, so the fault is there or before, and the
	// twelfth is passed over; then come a, b and c: tests 20, 0, 2 and 4.
	if !reflect.DeepEqual(tests, []int{20, 0, 2, 4}) || row.Repair != "12BC" {
		t.Errorf("tests %v, repair %s", tests, row.Repair)
	}
}

// A player sees no more than its readings: two sheets that answer every question alike get the same row, whatever they
// hide.
func TestPlayersDoNotLook(t *testing.T) {
	lab := chain()
	lab.Hypotheses[1].Bands = lab.Hypotheses[0].Bands
	for i := range lab.Sheets {
		for t := range lab.Tests {
			lab.Sheets[i].Lines[t].Band = lab.Hypotheses[lab.Sheets[i].Truth].Band(t)
		}
	}
	lab.Sheets[1].Student, lab.Sheets[1].Code = lab.Sheets[0].Student, lab.Sheets[0].Code
	c := class(t, lab)
	for _, skill := range players.Skills() {
		a := c.Play(0, skill, rand.New(rand.NewPCG(3, 4)).IntN)
		b := c.Play(1, skill, rand.New(rand.NewPCG(3, 4)).IntN)
		if !reflect.DeepEqual(a, b) {
			t.Errorf("%s: %+v and %+v", skill, a, b)
		}
	}
}

func TestSameDrawsSameRow(t *testing.T) {
	lab := chain()
	for _, skill := range players.Skills() {
		a := class(t, lab).Play(3, skill, rand.New(rand.NewPCG(5, 6)).IntN)
		b := class(t, lab).Play(3, skill, rand.New(rand.NewPCG(5, 6)).IntN)
		if !reflect.DeepEqual(a, b) {
			t.Errorf("%s: %+v and %+v", skill, a, b)
		}
	}
}
