// Package labtest makes small labs for tests, whose marks can be worked out by hand, and random ones. It is no part of
// the program.
package labtest

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strconv"
	"strings"
	"testing"

	"nospark/grading/bestplay"
	"nospark/grading/submission"
	"nospark/scenarios/lab"
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
// Best play: feed (2 minutes); if it is normal, which has 5 chances in 10, lamp or ground remain and the ground (2
// minutes) decides. V = 2 + 5/10 x 2 = 3.0 minutes. Every other test first:
//
//	battery     1 + 3.0                                           = 4.0, loses 1.0
//	ground      2 + 9/10 x V(two switches, lamp) = 2 + 9/10 x 2   = 3.8, loses 0.8
//	resistance  5 + 6/10 x V(two switches, ground) = 5 + 6/10 x 2 = 6.2, loses 3.2
const (
	Battery = iota
	Feed
	Ground
	Resistance
)

const (
	SwitchRepair = iota
	LampRepair
	GroundRepair
)

// The sheets of the lamp lab: one of each fault, then a spare that hides the open lamp as well.
const (
	SwitchOpenSheet = iota
	BurntSheet
	LampSheet
	GroundSheet
	SpareSheet
)

// Lamp is graded by the rule of labs before cases and checks; OpenLamp has both.
func Lamp() *lab.Lab {
	two := []lab.Band{{Name: "normal", Normal: true}, {Name: "low"}}
	three := []lab.Band{{Name: "normal", Normal: true}, {Name: "dropped"}, {Name: "none"}}
	l := &lab.Lab{
		Format: lab.FirstWithCases - 1, Name: "lamp", Title: "A lamp does not light", Date: "2026-10-05", Rows: 12,
		Points: []lab.Point{
			{Number: 1, ID: "bat", Label: "battery positive post", Role: "battery"},
			{Number: 2, ID: "sw", Label: "switch, lamp side", Role: "switched-feed"},
			{Number: 3, ID: "gnd", Label: "lamp ground terminal", Role: "ground"},
		},
		Tests: []lab.Test{
			{ID: "battery", Label: "volts at the battery", Instrument: "voltmeter", Condition: "switch on", Minutes: 10,
				Column: -1, Point: 0, Compare: -1, Bands: two, Spec: "at least 12.0 V"},
			{ID: "lamp-feed", Label: "volts at the switch, lamp side", Instrument: "voltmeter", Condition: "switch on",
				Minutes: 20, Column: -1, Point: 1, Compare: -1, Bands: three, Spec: "within 0.5 V of the battery"},
			{ID: "lamp-ground", Label: "volts at the lamp ground", Instrument: "voltmeter", Condition: "switch on",
				Minutes: 20, Column: -1, Point: 2, Compare: -1, Bands: three, Spec: "at most 0.4 V"},
			{ID: "lamp-resistance", Label: "ohms of the lamp", Instrument: "ohmmeter", Condition: "switch off",
				Minutes: 50, Column: -1, Point: -1, Compare: -1, Bands: two, Spec: "at most 20 ohm",
				Unplugged: []string{"lamp"}},
		},
		Repairs: []lab.Repair{
			{ID: "replace-switch", Label: "Replace the switch", Code: "11", Letters: "BD", Minutes: 200},
			{ID: "replace-lamp", Label: "Replace the lamp", Code: "12", Letters: "HM", Minutes: 50},
			{ID: "clean-ground", Label: "Clean the lamp ground", Code: "13", Letters: "KQ", Minutes: 100},
		},
		Complaints: []lab.Complaint{{ID: "out", Label: "The lamp does not light."}},
		Faults: []lab.Fault{
			{ID: "switch-open", Label: "Switch contacts open", Repair: SwitchRepair, Parts: []string{"switch"}},
			{ID: "switch-burnt", Label: "Burnt switch contacts", Repair: SwitchRepair, Parts: []string{"switch"}},
			{ID: "lamp-open", Label: "Lamp filament open", Repair: LampRepair, Parts: []string{"lamp"}},
			{ID: "ground-corroded", Label: "Corroded lamp ground", Repair: GroundRepair, Parts: []string{"ground"}},
		},
		Hypotheses: []lab.Hypothesis{
			{Fault: 0, Weight: 3, Bands: "0200"},
			{Fault: 1, Weight: 2, Bands: "0100"},
			{Fault: 2, Weight: 4, Bands: "0001"},
			{Fault: 3, Weight: 1, Bands: "0010"},
		},
		Rubric: lab.Rubric{Evidence: 15, Diagnosis: 40, Efficiency: 30, Interpretation: 15},
	}
	for i := range 5 {
		sheet := lab.Sheet{Code: fmt.Sprintf("K%d-BCD", i+2), Student: fmt.Sprintf("100%d", i+1), Name: "Student " +
			string(rune('A'+i)), Section: "B", Truth: i}
		if i == SpareSheet {
			sheet.Student, sheet.Name, sheet.Section, sheet.Truth = "", "", "", 2
		}
		for t := range l.Tests {
			sheet.Lines = append(sheet.Lines, lab.Line{
				Number: 100*(t+1) + 10*i + 7, Letters: string([]byte{"BCDFG"[i], "KLMN"[t]}),
				Reading: fmt.Sprintf("reading %d", t),
				Band:    l.Hypotheses[sheet.Truth].Band(t),
			})
		}
		l.Sheets = append(l.Sheets, sheet)
	}
	return l
}

// Hand writes what the student of a sheet hands in. tests are like "2+": index of the test and verdict.
func Hand(lab *lab.Lab, sheet int, repair int, tests ...string) submission.Row {
	s := lab.Sheets[sheet]
	row := submission.Row{Place: fmt.Sprintf("entry.xlsx, row %d", sheet+2), Student: s.Student, Reasoning: -1,
		Safe: -1}
	if repair >= 0 {
		row.Repair = lab.Repairs[repair].Code + lab.Repairs[repair].Letters
	}
	for i, test := range tests {
		verdict := strings.TrimLeft(test, "0123456789")
		t, err := strconv.Atoi(strings.TrimSuffix(test, verdict))
		if err != nil || !slices.Contains([]string{"", "+", "-"}, verdict) {
			panic(fmt.Sprintf("%q is no test with a verdict", test))
		}
		line := s.Lines[t]
		row.Steps = append(row.Steps, submission.Step{
			Place: fmt.Sprintf("entry.xlsx, %c%d", 'G'+i, sheet+2), Text: fmt.Sprintf("%03d%s%s", line.Number,
				line.Letters, verdict),
			Line: line.Number, Letters: line.Letters, Judged: verdict,
		})
	}
	return row
}

// Random makes a lab whose bands, weights and minutes are drawn; nothing about it is special except that something
// needs testing, and that no repair is right in more than six cases of ten. Every hypothesis has a sheet.
func Random(r *rand.Rand) *lab.Lab {
	for {
		if lab := tryLab(r); lab != nil {
			return lab
		}
	}
}

func tryLab(r *rand.Rand) *lab.Lab {
	hypotheses, tests, repairs := 4+r.IntN(7), 3+r.IntN(5), 3+r.IntN(3)
	l := &lab.Lab{
		Name: "random", Complaints: []lab.Complaint{{ID: "c"}},
		Rubric: lab.Rubric{Evidence: 15, Diagnosis: 40, Efficiency: 30, Interpretation: 15},
	}
	for i := range repairs {
		l.Repairs = append(l.Repairs, lab.Repair{ID: fmt.Sprint("r", i), Label: fmt.Sprint("Repair ", i),
			Code: fmt.Sprint(10 + i), Letters: "BC", Minutes: 10 + r.Int64N(300)})
		l.Faults = append(l.Faults, lab.Fault{ID: fmt.Sprint("f", i), Label: fmt.Sprint("Fault ", i), Repair: i})
	}
	for i := range tests {
		test := lab.Test{ID: fmt.Sprint("t", i), Label: fmt.Sprint("test ", i), Minutes: 5 + r.Int64N(50), Column: -1,
			Point: -1, Compare: -1}
		for b := range 2 + r.IntN(2) {
			test.Bands = append(test.Bands, lab.Band{Name: fmt.Sprint(b), Normal: b == 0, Silent: b == 2 &&
				r.IntN(2) == 0})
		}
		l.Tests = append(l.Tests, test)
	}
	var total int64
	for i := range hypotheses {
		h := lab.Hypothesis{Fault: i % repairs, Weight: 1 + r.Int64N(9)}
		var bands strings.Builder
		for _, test := range l.Tests {
			bands.WriteByte('0' + byte(r.IntN(len(test.Bands))*r.IntN(2)))
		}
		h.Bands = bands.String()
		total += h.Weight
		l.Hypotheses = append(l.Hypotheses, h)
		sheet := lab.Sheet{Code: fmt.Sprint("S", i), Student: fmt.Sprint("student ", i), Truth: i}
		for t, number := range r.Perm(900)[:tests] {
			sheet.Lines = append(sheet.Lines, lab.Line{Number: 100 + number,
				Letters: string([]byte{byte('B' + i), byte('B' + t)}), Band: h.Band(t)})
		}
		l.Sheets = append(l.Sheets, sheet)
	}
	s, err := bestplay.NewSuspects(l, 0, nil, nil)
	if err != nil || s.Proven(s.All()) {
		return nil
	}
	right := make([]int64, repairs) // the weight of the faults for which a repair counts as right
	for h := range l.Hypotheses {
		for _, repair := range s.Repairs(s.Inseparable(s.All(), h)) {
			right[repair] += l.Hypotheses[h].Weight
		}
	}
	if 10*slices.Max(right) > 6*total {
		return nil
	}
	return l
}

// Many runs a check on random labs of a fixed seed.
func Many(t *testing.T, n int, check func(t *testing.T, r *rand.Rand, lab *lab.Lab)) {
	t.Helper()
	for seed := range n {
		r := rand.New(rand.NewPCG(uint64(seed), 1))
		check(t, r, Random(r))
		if t.Failed() {
			t.Fatalf("seed %d", seed)
		}
	}
}
