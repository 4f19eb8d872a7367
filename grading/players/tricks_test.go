package players_test

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"nospark/grading"
	"nospark/grading/bestplay"
	"nospark/grading/players"
	"nospark/grading/submission"
	"nospark/scenarios/isolation"
	"nospark/scenarios/lab"
	"nospark/scenarios/testrun"
)

// TestGuessing has a class of every lab name repairs without a test, and after a test that tells nothing: any repair
// that the complaint allows, one by its prior chance, the commonest, and the one that happens to be right on most
// sheets. The means are exact.
func TestGuessing(t *testing.T) {
	var table strings.Builder
	for _, l := range builtinLabs(t) {
		s, err := bestplay.NewSuspects(l.lab, l.lab.Sheets[0].Complaint, nil, nil)
		if err != nil {
			t.Fatal(err)
		}
		start := s.All()
		chance := make([]float64, len(l.lab.Repairs)) // prior, of each repair
		total := 0.0
		for h := range s.Rows(start).All() {
			w := float64(l.lab.Hypotheses[h].Weight)
			chance[l.lab.Faults[l.lab.Hypotheses[h].Fault].Repair] += w
			total += w
		}
		fmt.Fprintf(&table, "%-13s %-17s", l.pack, l.complaint)
		for _, first := range [][]int{nil, worthless(l.lab, s, start)} {
			marks := make([]float64, len(l.lab.Repairs))
			any, prior := 0.0, 0.0
			for r := range l.lab.Repairs {
				var rows []submission.Row
				for i := range l.lab.Sheets {
					rows = append(rows, handIn(l.lab, i, r, first, 0))
				}
				marks[r] = meanMark(graded(t, l.lab, rows))
				if chance[r] > 0 {
					any += marks[r] / float64(len(s.Repairs(start)))
				}
				prior += marks[r] * chance[r] / total
			}
			for _, m := range []float64{any, prior, marks[slices.Index(chance, slices.Max(chance))],
				slices.Max(marks)} {
				fmt.Fprintf(&table, " %5.1f", m)
				if m >= 25 && len(s.Repairs(start)) > 1 { // with one repair there is nothing to guess, only to prove
					t.Errorf("%s: after tests %v guessers average %.1f", l.name(), first, m)
				}
			}
		}
		table.WriteByte('\n')
	}
	t.Logf("mean mark of a class that guesses, without a test and after a worthless one: any repair, by chance, the "+
		"commonest, the luckiest\n%s", table.String())
}

// worthless is the cheapest test that all suspects answer alike, nothing if there is none.
func worthless(lab *lab.Lab, s *bestplay.Suspects, start isolation.Set) []int {
	best := -1
	for t, test := range lab.Tests {
		if !s.Tells(start, t) && (best < 0 || test.Minutes < lab.Tests[best].Minutes) {
			best = t
		}
	}
	if best < 0 {
		return nil
	}
	return []int{best}
}

// handIn writes a row. Verdicts are those of somebody who misjudges a share of all tests, always the same on a sheet.
func handIn(lab *lab.Lab, sheet, repair int, tests []int, miss float64) submission.Row {
	s := lab.Sheets[sheet]
	row := submission.Row{Place: "sheet " + s.Code, Student: s.Student, Reasoning: -1, Safe: -1,
		Repair: lab.Repairs[repair].Code + lab.Repairs[repair].Letters}
	for _, t := range tests {
		line := s.Lines[t]
		band := lab.Tests[t].Bands[line.Band]
		judged := "-"
		switch wrong := rand.New(rand.NewPCG(uint64(sheet), uint64(t))).Float64() < miss; {
		case band.Silent:
			judged = ""
		case band.Normal != wrong:
			judged = "+"
		}
		row.Steps = append(row.Steps, submission.Step{Place: "a step", Text: "a step", Line: line.Number,
			Letters: line.Letters, Judged: judged})
	}
	return row
}

// route is the way of a student who proved a repair.
type route struct {
	sheet, repair int
	tests         []int
}

// routes are those of students of a skill who proved their repair.
func routes(t *testing.T, frozen *lab.Lab, s *bestplay.Suspects, skill players.Skill, n int) []route {
	t.Helper()
	var all []route
	for i, row := range played(t, frozen, skill, n) {
		r := route{sheet: i, repair: frozen.Faults[frozen.Hypotheses[frozen.Sheets[i].Truth].Fault].Repair}
		set := s.Start(&frozen.Sheets[i])
		for _, step := range row.Steps {
			test := slices.IndexFunc(frozen.Sheets[i].Lines, func(l lab.Line) bool { return l.Number == step.Line })
			r.tests = append(r.tests, test)
			set = s.After(set, test, frozen.Sheets[i].Lines[test].Band)
		}
		if s.Proven(set) {
			all = append(all, r)
		}
	}
	return all
}

// fewFaults is up to how many faults a complaint is small.
const fewFaults = 8

// TestTricksDoNotPay changes what students hand in who proved their repair: verdicts left out, and cheap tests added
// before the first step or after the last. Some judge every reading rightly, some misjudge one of ten, some three of
// five, the added tests too.
//
// No row gains by a verdict left out. Padding is checked in the mean of each skill under each complaint, over all
// suspects by their prior: a cheap test that happens to hit may save a single student minutes, as in life. Where few
// faults are to be told apart, a cheap test that tells something is no trick but a better first step than a walk makes,
// so there such tests are not held against the lab.
func TestTricksDoNotPay(t *testing.T) {
	n := testrun.Times(t, 4, 1) // students of each skill on each suspect
	worst := -100.0
	for _, l := range builtinLabs(t) {
		big := l.everySuspect(n)
		s, err := bestplay.NewSuspects(big, big.Sheets[0].Complaint, nil, nil)
		if err != nil {
			t.Fatal(err)
		}
		for _, skill := range players.Skills()[:3] {
			way := routes(t, big, s, skill, n)
			for _, miss := range []float64{0, 0.1, 0.6} {
				skipping(t, l.name(), big, way, miss)
				mean := tried(t, big, way, miss, func(r route) []int { return r.tests })
				for _, p := range paddings(big, s) {
					gain := tried(t, big, way, miss, p.change) - mean
					worst = max(worst, gain)
					few := l.report.Complaints[0].Faults < fewFaults && strings.Contains(p.name, "tell something")
					if gain > 0 && !few {
						t.Errorf("%s, %s who misjudges %.0f %%, %s: %.3f points gained", l.name(), skill, 100*miss,
							p.name, gain)
					}
				}
			}
		}
	}
	t.Logf("summary: padding changes the mean mark of a skill by %.3f points at best", worst)
}

// everySuspect is the lab with n sheets of each suspect of its complaint, which begin with nothing known.
func (l builtinLab) everySuspect(n int) *lab.Lab {
	big := *l.lab
	big.Sheets, big.Cases = nil, []lab.Case{{}}
	complaint := l.lab.Sheets[0].Complaint
	for h := range l.lab.Suspects(complaint).All() {
		for k := range n {
			sheet := lab.Sheet{Code: fmt.Sprintf("H%d-%d", h, k), Student: fmt.Sprintf("student %d-%d", h, k),
				Complaint: complaint, Truth: h}
			for t := range l.lab.Tests {
				sheet.Lines = append(sheet.Lines, lab.Line{Number: 100 + t, Letters: "BC",
					Band: l.lab.Hypotheses[h].Band(t)})
			}
			big.Sheets = append(big.Sheets, sheet)
		}
	}
	return &big
}

// handedIn grades routes whose tests and verdicts are changed.
func handedIn(t *testing.T, lab *lab.Lab, way []route, miss float64, change func(route) []int,
	judge func(i int, row *submission.Row)) []grading.StudentResult {
	t.Helper()
	var rows []submission.Row
	for i, r := range way {
		row := handIn(lab, r.sheet, r.repair, change(r), miss)
		judge(i, &row)
		rows = append(rows, row)
	}
	return slices.DeleteFunc(graded(t, lab, rows),
		func(s grading.StudentResult) bool { return s.Status == grading.Blank })
}

func asMade(r route) []int { return r.tests }

func asJudged(int, *submission.Row) {}

// tried is the mean mark of routes whose tests are changed, by the prior of what the sheets hide.
func tried(t *testing.T, lab *lab.Lab, way []route, miss float64, change func(route) []int) float64 {
	t.Helper()
	sum, total := 0.0, 0.0
	for _, s := range handedIn(t, lab, way, miss, change, asJudged) {
		w := float64(lab.Hypotheses[lab.Sheets[s.Index].Truth].Weight)
		sum += w * s.Mark
		total += w
	}
	return sum / total
}

// skipping leaves out all verdicts of each row, and a single one.
func skipping(t *testing.T, name string, lab *lab.Lab, way []route, miss float64) {
	t.Helper()
	base := handedIn(t, lab, way, miss, asMade, asJudged)
	compare := func(what string, less []grading.StudentResult) {
		t.Helper()
		for i, s := range less {
			if s.Mark > base[i].Mark {
				t.Errorf("%s, student %s without %s: %.3f instead of %.3f", name, s.Student, what, s.Mark, base[i].Mark)
			}
		}
	}
	compare("verdicts", handedIn(t, lab, way, miss, asMade, func(_ int, row *submission.Row) {
		for k := range row.Steps {
			row.Steps[k].Judged = ""
		}
	}))
	compare("a verdict", handedIn(t, lab, way, miss, asMade,
		func(i int, row *submission.Row) { row.Steps[i%len(row.Steps)].Judged = "" }))
}

// padding is a way to make a route longer by cheap tests.
type padding struct {
	name   string
	change func(route) []int
}

// paddings adds one, two or four tests: before the first step the cheapest of all, or the cheapest of those that tell
// something at that moment; after the last the cheapest that were not made. A test of the route that comes earlier that
// way is not made again.
func paddings(lab *lab.Lab, s *bestplay.Suspects) []padding {
	var all []padding
	for _, n := range []int{1, 2, 4} {
		first := func(telling bool) func(route) []int {
			return func(r route) []int {
				set := s.Start(&lab.Sheets[r.sheet])
				var tests []int
				for range n {
					if t := cheapest(lab, tests, func(t int) bool {
						return !telling ||
							s.Lost(set, t) < float64(lab.Tests[t].Minutes)
					}); t >= 0 {
						tests = append(tests, t)
						set = s.After(set, t, lab.Sheets[r.sheet].Lines[t].Band)
					}
				}
				return append(tests, slices.DeleteFunc(slices.Clone(r.tests),
					func(t int) bool { return slices.Contains(tests, t) })...)
			}
		}
		last := func(r route) []int {
			tests := slices.Clone(r.tests)
			for range n {
				if t := cheapest(lab, tests, func(int) bool { return true }); t >= 0 {
					tests = append(tests, t)
				}
			}
			return tests
		}
		all = append(all, padding{fmt.Sprintf("%d cheap tests first", n), first(false)},
			padding{fmt.Sprintf("%d cheap tests that tell something first", n),
				first(true)}, padding{fmt.Sprintf("%d cheap tests last", n), last})
	}
	return all
}

// cheapest is the cheapest test that was not made and will do, the first of equals; -1 for none.
func cheapest(lab *lab.Lab, made []int, do func(t int) bool) int {
	best := -1
	for t := range lab.Tests {
		if (best < 0 || lab.Tests[t].Minutes < lab.Tests[best].Minutes) && !slices.Contains(made, t) && do(t) {
			best = t
		}
	}
	return best
}
