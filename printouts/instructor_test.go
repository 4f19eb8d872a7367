package printouts

import (
	"encoding/json"
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"nospark/grading/bestplay"
	"nospark/printouts/instructor"
	"nospark/printouts/paper"
	"nospark/printouts/paper/charts"
	"nospark/printouts/wording"
	"nospark/scenarios/isolation"
	"nospark/scenarios/lab"
	"nospark/scenarios/pack/packtest"
)

func TestGoldenInstructor(t *testing.T) {
	lab, result := lampClass(t)
	key, err := bestplay.NewKey(lab)
	if err != nil {
		t.Fatal(err)
	}
	tree, err := bestplay.LabTree(lab, lab.Sheets[0].Complaint)
	if err != nil {
		t.Fatal(err)
	}
	golden(t, "key.pdf.txt", squeezed(pagesOf(t, must(t)(paper.PDF(instructor.Key(lab, key))))))
	golden(t, "chart.pdf.txt", squeezed(pagesOf(t,
		must(t)(charts.PDF(charts.Cover{Program: lab.Program, Date: lab.Date, Paper: lab.Paper}, tree)))))
	golden(t, "overview.pdf.txt", squeezed(pagesOf(t, must(t)(paper.PDF(instructor.Overview(lab, result))))))
	golden(t, "howto.pdf.txt", squeezed(pagesOf(t, must(t)(paper.PDF(instructor.HowTo(lab))))))
}

// TestInstructorsPapersOfBuiltinPacks prints what an instructor gets of every built-in pack.
func TestInstructorsPapersOfBuiltinPacks(t *testing.T) {
	for i, name := range packtest.Packs(t) {
		lab := classLab(t, name, 5, "spares = 1\n")
		lab.Paper = []string{"letter", "a4"}[i%2]
		checkKey(t, lab)
		checkChart(t, lab)
		lab.Technique.Forbid = []string{"ohmmeter", "scan-ect", "gap-gauge", "duty", "frequency"}
		for _, lab.Paper = range []string{"letter", "a4"} {
			if pages := pagesOf(t, must(t)(paper.PDF(instructor.HowTo(lab)))); len(pages) != 1 {
				t.Errorf("%s on %s: how to run it takes %d pages", name, lab.Paper, len(pages))
			} else if text := strings.Join(strings.Fields(pages[0]), " "); strings.Contains(text, lab.Faults[0].Label) {
				t.Errorf("%s: the page that may lie open names a fault", name)
			}
		}
	}
}

// checkKey: every sheet stands once on the list and once as a block that is not cut, with all of best play.
func checkKey(t *testing.T, lab *lab.Lab) {
	t.Helper()
	key, err := bestplay.NewKey(lab)
	if err != nil {
		t.Fatal(err)
	}
	pages := pagesOf(t, must(t)(paper.PDF(instructor.Key(lab, key))))
	for i, s := range lab.Sheets {
		var on []int
		for n, text := range pages {
			if strings.Contains(text, s.Code) {
				on = append(on, n)
			}
		}
		if len(on) != 2 || on[0] > 1 {
			t.Errorf("%s: sheet %s is on pages %v, want the list and its own", lab.Pack.Name, s.Code, on)
			continue
		}
		for _, p := range key.Sheets[i].Path {
			if l := s.Lines[p.Test]; !strings.Contains(pages[on[1]], wording.Line(l.Number)+l.Letters) {
				t.Errorf("%s: line %s%s of sheet %s is not on its page", lab.Pack.Name, wording.Line(l.Number),
					l.Letters, s.Code)
			}
		}
	}
}

var (
	goesOn    = regexp.MustCompile(`(from )?step (\d+), page (\d+)`)
	endOfPage = regexp.MustCompile(`page (\d+) of (\d+)`)
)

// checkChart: a way that is cut goes on at one place, which is on the page that it names, and names the place
// where it was cut; every end has its repair.
func checkChart(t *testing.T, lab *lab.Lab) {
	t.Helper()
	tree, err := bestplay.LabTree(lab, lab.Sheets[0].Complaint)
	if err != nil {
		t.Fatal(err)
	}
	pages := pagesOf(t, must(t)(charts.PDF(charts.Cover{Paper: lab.Paper}, tree)))
	number := func(s string) int { n, _ := strconv.Atoi(s); return n }
	cut, on := map[int]int{}, 0 // step at which a way goes on -> page
	begins := func(step, page int) bool {
		return page >= 1 && page <= len(pages) &&
			regexp.MustCompile(fmt.Sprintf(`(?m)^ *%d `, step)).MatchString(pages[page-1])
	}
	for _, text := range pages {
		for _, m := range goesOn.FindAllStringSubmatch(text, -1) {
			step, page := number(m[2]), number(m[3])
			if !begins(step, page) {
				t.Errorf("%s: %q, but the step is not there", lab.Pack.Name, m[0])
			}
			if m[1] != "" {
				on++
			} else {
				cut[step] = page
			}
		}
		if !endOfPage.MatchString(text) {
			t.Errorf("%s: a page has no number", lab.Pack.Name)
		}
	}
	if len(cut) != on {
		t.Errorf("%s: %d ways are cut, %d go on", lab.Pack.Name, len(cut), on)
	}
	all := strings.Join(pages, " ")
	for _, n := range tree.Nodes {
		for _, r := range n.Repairs {
			if !strings.Contains(all, r.Code) {
				t.Errorf("%s: repair %s %s is not on the chart", lab.Pack.Name, r.Label, r.Code)
			}
		}
		if !n.End() && !regexp.MustCompile(fmt.Sprintf(`(?m)^ *%d `, n.Step)).MatchString(all) {
			t.Errorf("%s: step %d is not on the chart", lab.Pack.Name, n.Step)
		}
	}
}

// TestChartOfPlainMatrix: no lab is needed, and without codes and words the names stand for themselves.
func TestChartOfPlainMatrix(t *testing.T) {
	in := bestplay.TreeInput{
		Title: "Two bulbs", Complaint: "One is dark",
		Tests: []bestplay.TreeTest{{ID: "swap", Name: "change the bulbs",
			Bands: []bestplay.TreeBand{{Name: "fault moves", Normal: true}, {Name: "fault stays"}}}},
		Repairs: []bestplay.TreeRepair{{Label: "Replace the bulb"}, {Label: "Clean the socket"}},
		Faults:  []string{"bulb broken", "socket corroded"},
		Problem: isolation.Problem{Weight: []int64{3, 1}, Repair: []int{0, 1}, Minutes: []int64{10},
			Band: [][]uint8{{0, 1}}},
	}
	in.Start = in.Start.With(0).With(1)
	tree, err := bestplay.NewTree(in)
	if err != nil {
		t.Fatal(err)
	}
	text := squeezed(pagesOf(t, must(t)(charts.PDF(charts.Cover{}, tree))))
	for _, want := range []string{"change the bulbs", "fault moves 75 %", "fault stays 25 %", "Replace the bulb",
		"socket corroded", "1 min of testing on average"} {
		if !strings.Contains(text, want) {
			t.Errorf("%q is missing in\n%s", want, text)
		}
	}
	if _, err := json.Marshal(tree); err != nil {
		t.Error(err)
	}
	// Nothing to test: the chart says so.
	in.Problem.Repair = []int{0, 0}
	if tree, err = bestplay.NewTree(in); err != nil {
		t.Fatal(err)
	}
	if text := squeezed(pagesOf(t, must(t)(charts.PDF(charts.Cover{}, tree)))); !strings.Contains(text,
		"Nothing needs testing: Replace the bulb") {
		t.Errorf("a chart without tests:\n%s", text)
	}
}

// TestManyReadings: a test whose every reading means another repair stays on the page.
func TestManyReadings(t *testing.T) {
	for _, n := range []int{2, 8, 12, 30} {
		in := bestplay.TreeInput{Title: "Many", Complaint: "Something",
			Tests: []bestplay.TreeTest{{ID: "all", Name: "look at it"}}}
		in.Problem.Minutes, in.Problem.Band = []int64{10}, [][]uint8{nil}
		for i := range n {
			in.Tests[0].Bands = append(in.Tests[0].Bands,
				bestplay.TreeBand{Name: fmt.Sprint("reading ", i),
					Words: "some words about it that take their room", Normal: i == 0})
			in.Repairs = append(in.Repairs, bestplay.TreeRepair{Label: fmt.Sprintf("Replace part %d of all the "+
				"parts there are in it", i), Code: fmt.Sprint(10+i, "BC")})
			in.Faults = append(in.Faults, fmt.Sprint("part ", i, " is broken"))
			in.Problem.Weight, in.Problem.Repair = append(in.Problem.Weight, 1), append(in.Problem.Repair, i)
			in.Problem.Band[0] = append(in.Problem.Band[0], uint8(i))
			in.Start = in.Start.With(i)
		}
		tree, err := bestplay.NewTree(in)
		if err != nil {
			t.Fatal(err)
		}
		pdf := must(t)(charts.PDF(charts.Cover{}, tree))
		pages := pagesOf(t, pdf)
		for i := range n {
			if len(pages) != 1 || !strings.Contains(pages[0], fmt.Sprint("reading ", i)) ||
				!strings.Contains(pages[0], fmt.Sprintf("part %d of", i)) {
				t.Errorf("%d readings: reading %d is missing, or %d pages", n, i, len(pages))
			}
		}
		for _, m := range regexp.MustCompile(`yMax="([\d.]+)">part<`).FindAllStringSubmatch(tool(t, "pdftotext",
			"-bbox", saved(t, pdf), "-"), -1) {
			// where the cautions of a letter page begin, in points
			if bottom, _ := strconv.ParseFloat(m[1], 64); bottom > 690 {
				t.Errorf("%d readings: an end reaches down to %v", n, bottom)
			}
		}
	}
}
