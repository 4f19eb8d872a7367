package players_test

import (
	"fmt"
	"slices"
	"testing"

	"nospark/grading/players"
	"nospark/grading/submission"
	"nospark/scenarios/lab"
)

// openLamp is a lamp with a switch before it and a ground behind it. Before the lamp is sold its feed and its ground
// must have been looked at, before the switch its end at the battery.
//
//	weight  fault        repair  battery  feed      ground     resistance
//	15      switch open  switch  normal   none -    normal     normal
//	10      burnt        switch  normal   dropped - normal     normal
//	20      lamp open    lamp    normal   normal    normal     open -
//	5       corroded     ground  normal   normal    dropped -  normal
//	minutes                      1        2         2          5
//
// There is a sheet of each; a fifth hides the lamp and says on its work order that the feed is normal.
func openLamp() *lab.Lab {
	two := []lab.Band{{Name: "normal", Normal: true}, {Name: "dropped"}, {Name: "none"}}
	l := &lab.Lab{
		Format: lab.Format, Name: "open-lamp", Complaints: []lab.Complaint{{ID: "out"}},
		Rubric: lab.Rubric{Evidence: 15, Diagnosis: 40, Efficiency: 30, Interpretation: 15},
		Checks: []lab.Check{
			{What: "feed", Part: "lamp", Point: 1, Tests: []int{1}},
			{What: "ground", Part: "lamp", Point: 2, Tests: []int{2}},
			{What: "end", Part: "switch", Point: 0, Tests: []int{0}},
		},
		Cases: []lab.Case{{}, {Known: []lab.Known{{Test: 1, Band: 0}}}},
	}
	for i, id := range []string{"battery", "feed", "ground", "resistance"} {
		l.Points = append(l.Points, lab.Point{Number: i + 1, ID: id, Label: id})
		l.Tests = append(l.Tests, lab.Test{ID: id, Label: id, Minutes: []int64{10, 20, 20, 50}[i], Column: -1, Point: i,
			Compare: -1, Bands: two})
	}
	for i, id := range []string{"switch", "lamp", "ground"} {
		l.Repairs = append(l.Repairs, lab.Repair{ID: id, Label: id, Code: fmt.Sprint(10 + i), Letters: "BC",
			Minutes: 100})
	}
	for i, repair := range []int{0, 0, 1, 2} {
		l.Faults = append(l.Faults, lab.Fault{ID: fmt.Sprint("f", i), Repair: repair})
	}
	l.Hypotheses = []lab.Hypothesis{
		{Fault: 0, Weight: 15, Bands: "0200", Checks: []int{2}},
		{Fault: 1, Weight: 10, Bands: "0100", Checks: []int{2}},
		{Fault: 2, Weight: 20, Bands: "0001", Checks: []int{0, 1}}, {Fault: 3, Weight: 5, Bands: "0010"},
	}
	for i, truth := range []int{0, 1, 2, 3, 2} {
		sheet := lab.Sheet{Code: fmt.Sprint("S", i), Student: fmt.Sprint(i), Truth: truth, Case: i / 4}
		for t := range l.Tests {
			sheet.Lines = append(sheet.Lines, lab.Line{Number: 100 + t, Letters: "BC",
				Band: l.Hypotheses[truth].Band(t)})
		}
		l.Sheets = append(l.Sheets, sheet)
	}
	return l
}

// first draws the first of everything.
func first(int) int { return 0 }

// worked is a row in short: tests, then the repair.
func worked(row submission.Row) string {
	text := ""
	for _, step := range row.Steps {
		text += []string{"battery", "feed", "ground", "resistance"}[step.Line-100] + step.Judged + " "
	}
	return text + map[string]string{"10BC": "switch", "11BC": "lamp", "12BC": "ground"}[row.Repair]
}

// What each of them does, by hand. Sheets: switch open, burnt, lamp, corroded, and the lamp whose feed is known.
func TestWaysByHand(t *testing.T) {
	l := openLamp()
	check := func(c *players.Class, skill players.Skill, want ...string) {
		t.Helper()
		var got []string
		for i := range l.Sheets {
			got = append(got, worked(c.Play(i, skill, first)))
		}
		if !slices.Equal(got, want) {
			t.Errorf("%s\n got %q\nwant %q", skill, got, want)
		}
	}
	c := class(t, l)
	check(c, players.Expert, "feed- battery+ switch", "feed- battery+ switch", "feed+ ground+ lamp",
		"feed+ ground- ground", "ground+ lamp")
	// The lamp needs a feed and a ground. Where the feed is bad the way leads back to the switch, of which only the end
	// at the battery is owed.
	check(c, players.Technician, "feed- battery+ switch", "feed- battery+ switch", "feed+ ground+ lamp",
		"feed+ ground- ground", "ground+ lamp")
	// The switch is sold without a look at its other end.
	check(c, players.List, "feed- switch", "feed- switch", "feed+ ground+ lamp", "feed+ ground- ground", "ground+ lamp")
	// The test that its own fault makes abnormal.
	check(c, players.Told, "feed- switch", "feed- switch", "resistance- lamp", "ground- ground", "resistance- lamp")
	check(c, players.PartsChanger, "switch", "switch", "switch", "switch", "lamp")
	// The chart on the board begins with the feed; the last sheet has it from the work order.
	check(c, players.Chart, "feed- battery+ switch", "feed- battery+ switch", "feed+ ground+ lamp",
		"feed+ ground- ground", "ground+ lamp")

	// A pool of the open switch and the lamp: the feed tells them apart, and whatever else it may be is taken for the
	// lamp.
	c.UsePool([]int{0, 2})
	check(c, players.List, "feed- switch", "feed- switch", "feed+ lamp", "feed+ lamp", "lamp")
	// A pool of the corroded ground and the open switch. Neither drops the feed: then all that does counts.
	c.UsePool([]int{0, 3})
	check(c, players.List, "feed- switch", "feed- switch", "feed+ ground", "feed+ ground", "ground")

	// Somebody else's lab, in which the feed took ten minutes. Its chart, in tenths times weight, begins with the
	// battery, 10 x 63; then the ground, 20 x 58; then the resistance, 50 x 49, and for the lamp the feed, 100 x 24:
	// 6640. The feed in place of the resistance makes it 6690, the ground before the battery 6650, the feed first 7180.
	other := openLamp()
	other.Tests[1].Minutes = 100
	if err := c.UseChart(other); err != nil {
		t.Fatal(err)
	}
	check(c, players.Chart, "battery+ ground+ resistance+ switch", "battery+ ground+ resistance+ switch",
		"battery+ ground+ resistance- feed+ lamp",
		"battery+ ground- ground", "battery+ ground+ resistance- lamp")
	// A chart that asks for a test which this lab does not have ends in a guess.
	other.Tests[0].ID = "volts"
	if got := worked(c.Play(0, players.Chart, first)); got != "switch" {
		t.Errorf("a chart of other tests: %q", got)
	}
}

// Nobody but the one who was told knows the hidden fault: with another truth and the same readings all others do the
// same.
func TestOnlyTheToldKnow(t *testing.T) {
	l := openLamp()
	c := class(t, l)
	for _, skill := range players.All() {
		for i := range l.Sheets {
			before := worked(c.Play(i, skill, first))
			truth := l.Sheets[i].Truth
			l.Sheets[i].Truth = 2 + truth%2 // the lamp or the ground, which both fit every case
			if after := worked(c.Play(i, skill, first)); skill != players.Told && after != before {
				t.Errorf("%s on sheet %d: %q, with another truth %q", skill, i, before, after)
			}
			l.Sheets[i].Truth = truth
		}
	}
}
