package evidence

import (
	"fmt"
	"testing"

	"nospark/grading"
	"nospark/grading/adjust"
	"nospark/grading/submission"
	"nospark/scenarios/lab"
	"nospark/scenarios/term"
)

// The lamp lab has the circuit of the smallest pack: battery, switch, lamp, ground. Its numbers can be checked by hand.
//
//	weight  hypothesis   repair  battery  feed        ground     resistance
//	3       switch open  switch  normal   none -      normal     normal
//	2       burnt        switch  normal   dropped -   normal     normal
//	4       lamp open    lamp    normal   normal      normal     open -
//	1       corroded     ground  normal   normal      dropped -  normal
//	minutes                      1        2           2          5
//
// Best play: feed (2 minutes); if it is normal, which has 5 chances in 10, ground (2 minutes) decides. V = 3.0 minutes,
// the reference, so that 1.5 minutes may be lost. First steps other than feed lose: battery 1.0, ground 0.8, resistance
// 3.2.
const (
	battery = iota
	feed
	ground
	resistance
)

const (
	switchRepair = iota
	lampRepair
	groundRepair
	bulbRepair // no fault of the complaint needs it
)

// The sheets: one of each fault, then a spare that hides the open lamp as well.
const (
	switchSheet = iota
	burntSheet
	lampSheet
	groundSheet
	spareSheet
)

// lampLab is the lab of the table above, as if it had been built.
func lampLab() *lab.Lab {
	two := []lab.Band{{Name: "normal", Normal: true}, {Name: "low"}}
	three := []lab.Band{{Name: "normal", Normal: true}, {Name: "dropped"}, {Name: "none"}}
	test := func(id, label string, minutes int64, bands []lab.Band, competency string) lab.Test {
		return lab.Test{ID: id, Label: label, Instrument: "voltmeter", Condition: "switch on", Minutes: minutes,
			Column: -1, Point: -1, Compare: -1,
			Bands: bands, Competency: competency}
	}
	l := &lab.Lab{
		Format: lab.Format, Term: "test-term-1", Program: "Automotive Technology", Name: "week05",
		Title: "A lamp does not light", Date: "2026-10-05",
		Rows: 12, Pack: lab.PackRef{Name: "lamp", Version: 1},
		Tests: []lab.Test{
			test("battery", "volts at the battery", 10, two, "source-voltage"),
			test("lamp-feed", "volts at the switch, lamp side", 20, three, "voltage-drop"),
			test("lamp-ground", "volts at the lamp ground", 20, three, "ground-integrity"),
			test("lamp-resistance", "ohms of the lamp", 50, two, "component-test"),
		},
		Repairs: []lab.Repair{
			{ID: "replace-switch", Label: "Replace the switch", Code: "11", Letters: "BD", Minutes: 200},
			{ID: "replace-lamp", Label: "Replace the lamp", Code: "12", Letters: "HM", Minutes: 50},
			{ID: "clean-ground", Label: "Clean the lamp ground", Code: "13", Letters: "KQ", Minutes: 100},
			{ID: "charge-battery", Label: "Charge the battery", Code: "14", Letters: "RS", Minutes: 300},
		},
		Complaints: []lab.Complaint{{ID: "out", Label: "The lamp does not light."}},
		Faults: []lab.Fault{
			{ID: "switch-open", Label: "Switch contacts open", Repair: switchRepair},
			{ID: "switch-burnt", Label: "Burnt switch contacts", Repair: switchRepair},
			{ID: "lamp-open", Label: "Lamp filament open", Repair: lampRepair},
			{ID: "ground-corroded", Label: "Corroded lamp ground", Repair: groundRepair},
		},
		Hypotheses: []lab.Hypothesis{{Fault: 0, Weight: 3, Bands: "0200"}, {Fault: 1, Weight: 2, Bands: "0100"},
			{Fault: 2, Weight: 4, Bands: "0001"},
			{Fault: 3, Weight: 1, Bands: "0010"}},
		Rubric: term.DefaultRubric(),
	}
	for i := range 5 {
		s := lab.Sheet{Code: fmt.Sprintf("K%d-BCD", i+2), Student: fmt.Sprintf("100%d", i+1), Name: "Student " +
			string(rune('A'+i)), Section: "B", Truth: i}
		if i == spareSheet {
			s.Student, s.Name, s.Section, s.Truth = "", "", "", 2
		}
		for t := range l.Tests {
			s.Lines = append(s.Lines, lab.Line{Number: 100*(t+1) + 10*i + 7,
				Letters: string([]byte{"BCDFG"[i], "KLMN"[t]}), Reading: fmt.Sprintf("reading %d", t),
				Band: l.Hypotheses[s.Truth].Band(t)})
		}
		l.Sheets = append(l.Sheets, s)
	}
	return l
}

// hand writes what the student of a sheet hands in. steps are like "2+": index of the test and verdict; "2+!" has wrong
// letters.
func hand(l *lab.Lab, sheet, repair int, steps ...string) submission.Row {
	s := l.Sheets[sheet]
	row := submission.Row{Place: fmt.Sprintf("entry.xlsx, row %d", sheet+2), Student: s.Student, Reasoning: -1,
		Safe: -1}
	if repair >= 0 {
		row.Repair = l.Repairs[repair].Code + l.Repairs[repair].Letters
	}
	for _, text := range steps {
		line := s.Lines[text[0]-'0']
		step := submission.Step{Text: text, Line: line.Number, Letters: line.Letters}
		for _, c := range text[1:] {
			if c == '!' {
				step.Letters = "ZZ"
			} else {
				step.Judged = string(c)
			}
		}
		row.Steps = append(row.Steps, step)
	}
	return row
}

// grade grades rows that must not fail.
func grade(t testing.TB, l *lab.Lab, adjust adjust.Decisions, rows ...submission.Row) *grading.Result {
	t.Helper()
	r, err := grading.Grade(l, rows, adjust)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// entryOf finds a student in records.
func entryOf(t testing.TB, records []*Record, student string) Entry {
	t.Helper()
	for _, r := range records {
		for _, e := range r.Students {
			if e.Student == student {
				return e
			}
		}
	}
	t.Fatalf("no record of student %s", student)
	return Entry{}
}
