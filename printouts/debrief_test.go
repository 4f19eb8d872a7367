package printouts

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"nospark/grading"
	"nospark/grading/adjust"
	"nospark/grading/bestplay"
	"nospark/grading/submission"
	"nospark/printouts/instructor"
	"nospark/printouts/paper"
	"nospark/printouts/paper/charts"
	"nospark/printouts/paper/debriefs"
	"nospark/printouts/wording"
)

func TestGoldenDebriefs(t *testing.T) {
	lab, result := lampClass(t)
	golden(t, "debriefs.pdf.txt", squeezed(pagesOf(t, must(t)(debriefs.PDF(lab, result)))))
	for i, want := range []float64{100, 70 + 30*4.5/6.5} { // by hand, see lampClass
		if got := result.Students[i].Mark; math.Abs(got-want) > 1e-9 {
			t.Errorf("mark %v, want %v", got, want)
		}
	}
}

// The arithmetic as it is printed.
var (
	printedE          = regexp.MustCompile(`(\d+) × e; e = (\d+)(?:/(\d+))?`)
	printedEfficiency = regexp.MustCompile(`(\d+) × e × ([\d.]+) / \(([\d.]+) \+ 2 × ([\d.]+) lost\)`)
	printedDiagnosis  = regexp.MustCompile(`(\d+) × ([\d.]+)(?:/(\d+))?: (?:the right|not right|no repair|what was)`)
	printedVerdicts   = regexp.MustCompile(`(\d+) × \((\d+) − (\d+)\)/(\d+) × \((\d+) − (\d+)\)/(\d+): (\d+) verdicts? counts?, (\d+) (?:wrong|missing)`)
	printedNone       = regexp.MustCompile(`\d+ × 0: (?:no step told anything|no test was written down|(\d+) verdicts? counts?, (\d+) (?:wrong|missing))`)
	printedStep       = regexp.MustCompile(`(right|wrong|missing) +([\d.]+) +([\d.]+) +\d+ *→ *\d+`)
	printedPath       = regexp.MustCompile(`\(\d+\s*→\s*\d+\)\.`)
)

// byHand computes a mark from nothing but the text of a debrief.
func byHand(t *testing.T, text string) float64 {
	t.Helper()
	number := func(s string) float64 {
		x, err := strconv.ParseFloat(s, 64)
		if err != nil {
			t.Fatalf("%q in the arithmetic of\n%s", s, text)
		}
		return x
	}
	m := printedE.FindStringSubmatch(text)
	if m == nil {
		t.Fatalf("no e in\n%s", text)
	}
	e := number(m[2])
	if m[3] != "" {
		e /= number(m[3])
	}
	mark := number(m[1]) * e
	m = printedDiagnosis.FindStringSubmatch(text)
	if m == nil {
		t.Fatalf("no diagnosis in\n%s", text)
	}
	share := number(m[2])
	if m[3] != "" {
		share /= number(m[3])
	}
	mark += number(m[1]) * share
	m = printedEfficiency.FindStringSubmatch(text)
	if m == nil {
		t.Fatalf("no efficiency in\n%s", text)
	}
	mark += number(m[1]) * e * number(m[2]) / (number(m[3]) + 2*number(m[4]))
	if m = printedVerdicts.FindStringSubmatch(text); m != nil {
		mark += number(m[1]) * (number(m[2]) - number(m[3])) / number(m[4]) * (number(m[5]) - number(m[6])) / number(m[7])
	} else if !printedNone.MatchString(text) {
		t.Fatalf("no interpretation in\n%s", text)
	}
	return mark
}

// verdictsByHand counts verdicts on a page from the table of steps alone, as the second line of the interpretation
// says: right ones where the step lost all its minutes do not count, and of the rest no more than best play has
// steps. It tells whether all that is on the page.
func verdictsByHand(t *testing.T, page string) (counting, wrong int, ok bool) {
	t.Helper()
	if strings.Contains(page, "without room here") {
		return 0, 0, false
	}
	for _, m := range printedStep.FindAllStringSubmatch(page, -1) {
		minutes, err1 := strconv.ParseFloat(m[2], 64)
		lost, err2 := strconv.ParseFloat(m[3], 64)
		if err1 != nil || err2 != nil {
			t.Fatal(err1, err2)
		}
		switch {
		case m[1] != "right":
			wrong++
			counting++
		case lost < minutes:
			counting++
		}
	}
	return min(counting, len(printedPath.FindAllString(page, -1))), wrong, true
}

// TestVerdictsByHand: the verdicts that count and those that are wrong can be counted in the table of steps.
func TestVerdictsByHand(t *testing.T) {
	fewer := 0
	for _, name := range []string{"single-coil", "lamp"} {
		lab, result := playedClass(t, name, 24)
		for i, page := range pagesOf(t, must(t)(debriefs.PDF(lab, result))) {
			counting, wrong, ok := verdictsByHand(t, page)
			said := []string(nil)
			if m := printedVerdicts.FindStringSubmatch(page); m != nil {
				said = m[8:]
			} else if m := printedNone.FindStringSubmatch(page); m != nil && m[1] != "" {
				said = m[1:]
			}
			if !ok || said == nil {
				continue
			}
			if want := []string{fmt.Sprint(counting), fmt.Sprint(wrong)}; !slices.Equal(said, want) {
				t.Errorf("sheet %s: %v verdicts count and are wrong, by hand %v in\n%s", result.Students[i].Sheet,
					said, want, page)
			}
			if strings.Contains(page, "no more count than best play has steps") {
				fewer++
			}
		}
	}
	if fewer == 0 {
		t.Error("no page has verdicts that do not count")
	}
}

// TestMarksByHand: whatever a student did, the printed numbers give the printed mark.
func TestMarksByHand(t *testing.T) {
	lab, result := playedClass(t, "single-coil", 24)
	pages := pagesOf(t, must(t)(debriefs.PDF(lab, result)))
	if len(pages) != len(result.Students) {
		t.Fatalf("%d pages for %d students", len(pages), len(result.Students))
	}
	for i, s := range result.Students {
		got := byHand(t, pages[i])
		if math.Abs(got-s.Mark) > 0.05 {
			t.Errorf("sheet %s: %v by hand, the mark is %v", s.Sheet, got, s.Mark)
		}
		if !strings.Contains(pages[i], wording.Points(s.Mark)) {
			t.Errorf("sheet %s: the mark %s is not on the page", s.Sheet, wording.Points(s.Mark))
		}
	}
}

// TestNameOnTheStripAlone: cut off, a debrief shows its code and nobody's name. Nothing handed in: the fault stays
// hidden.
func TestNameOnTheStripAlone(t *testing.T) {
	lab, result := lampClass(t)
	for i := range result.Students { // names that pdftotext gives back letter by letter
		result.Students[i].Name = fmt.Sprintf("Quentin Quill %c", 'A'+i)
	}
	for i, page := range pagesOf(t, must(t)(debriefs.PDF(lab, result))) {
		s := result.Students[i]
		if strings.Count(page, s.Name) != 1 ||
			!strings.Contains(strings.SplitN(page, "\n", 3)[0]+strings.SplitN(page, "\n", 3)[1], s.Name) ||
			strings.Count(page, s.Student) != 1 {
			t.Errorf("sheet %s: the name or the id is not on the strip alone:\n%s", s.Sheet, page)
		}
		if strings.Count(page, s.Sheet) < 2 || !strings.Contains(page, "watches") {
			t.Errorf("sheet %s lacks its code or the cautions", s.Sheet)
		}
		if s.Status != grading.Blank && s.Status != grading.Excused {
			continue
		}
		for _, f := range lab.Faults {
			if strings.Contains(page, f.Label) || f.Note != "" && strings.Contains(page, f.Note) {
				t.Errorf("sheet %s handed nothing in, its page says %q", s.Sheet, f.Label)
			}
		}
		for _, r := range lab.Repairs {
			if strings.Contains(page, r.Label) || strings.Contains(page, r.Code+r.Letters) {
				t.Errorf("sheet %s handed nothing in, its page says %q", s.Sheet, r.Label)
			}
		}
	}
}

// TestOnePageWhateverHappens: long routes and long texts, on both papers. Twelve steps, as many as the record has
// lines, are all shown as long as the texts are of the usual length.
func TestOnePageWhateverHappens(t *testing.T) {
	lab, _ := playedClass(t, "single-coil", 2)
	s := lab.Sheets[0]
	check := func(paper string, steps, shown int, reason string) {
		t.Helper()
		lab.Paper = paper
		row := submission.Row{Student: s.Student, Repair: lab.Repairs[0].Code + lab.Repairs[0].Letters,
			Reasoning: -1, Safe: -1}
		for i := range steps {
			row.Steps = append(row.Steps, rightly(lab, s, i*7%len(lab.Tests)))
		}
		adjust := adjust.Decisions{Accept: []adjust.Accept{{Repair: lab.Repairs[0].Code, Student: s.Student,
			Reason: reason}}}
		pages := pagesOf(t, must(t)(debriefs.PDF(lab, graded(t, lab, []submission.Row{row}, adjust))))
		if len(pages) != 2 {
			t.Errorf("%s, %d steps: %d pages for two students", paper, steps, len(pages))
		}
		if !regexp.MustCompile(fmt.Sprintf(`(?m)^ *%d +\d{3}`, shown)).MatchString(pages[0]) {
			t.Errorf("%s: of %d steps not even %d are shown:\n%s", paper, steps, shown, pages[0])
		}
		for _, want := range []string{"What was wrong", "Your best step", "Next time", "How the mark comes about", "pacemakers", "page 1 of 1"} {
			if !strings.Contains(pages[0], want) {
				t.Errorf("%s, %d steps: %q is missing", paper, steps, want)
			}
		}
	}
	for _, paper := range []string{"letter", "a4"} {
		check(paper, 1, 1, "as good")
		check(paper, 12, 12, "as good")
		check(paper, 120, 10, "as good") // the line about those without room takes its own
	}
	long := strings.Repeat("a text of many words that somebody wrote ", 12)
	lab.Complaints[s.Complaint].Label = long
	for i := range lab.Faults {
		lab.Faults[i].Note, lab.Faults[i].Label = long, long[:180]
	}
	for i := range lab.Repairs {
		lab.Repairs[i].Label = long[:150]
	}
	lab.Sheets[0].Name = strings.Repeat("Bartholomew ", 20)
	check("letter", 12, 8, long+long)
	check("a4", 40, 8, long+long)
}

// TestLargeDebrief: 18 pt throughout, the name on a page of its own, and all that the others read.
func TestLargeDebrief(t *testing.T) {
	lab, result := playedClass(t, "single-coil", 2)
	plain := pagesOf(t, must(t)(debriefs.PDF(lab, result)))
	for i := range lab.Sheets {
		lab.Sheets[i].LargePrint = true
	}
	pdf := must(t)(debriefs.PDF(lab, result))
	pages := pagesOf(t, pdf)
	s := result.Students[0]
	if !strings.Contains(pages[0], s.Name) || strings.Contains(strings.Join(pages[1:3], ""), s.Name) {
		t.Errorf("the name is not on the first page alone:\n%s", pages[0])
	}
	text := strings.Join(strings.Fields(strings.Join(pages, " ")), " ")
	for _, want := range []string{wording.Points(s.Mark), "Next time", "Best play to this fault", "pacemakers",
		"from your work order"} {
		if !strings.Contains(text, want) {
			t.Errorf("%q is missing", want)
		}
	}
	operation := regexp.MustCompile(`/F\S+ ([\d.]+) Tf| Td `)
	for i, content := range contents(t, pdf) {
		size := 0.0 // set at the beginning of a page, before the text, to what the library likes
		for _, m := range operation.FindAllStringSubmatch(content, -1) {
			if m[1] != "" {
				size, _ = strconv.ParseFloat(m[1], 64)
			} else if size < 18 {
				t.Fatalf("page %d has text of %g pt", i+1, size)
			}
		}
	}
	if len(plain) != 2 || byHand(t, text) == 0 {
		t.Errorf("%d plain pages", len(plain))
	}
}

// TestBottomOfTheDebrief: nothing is placed below the end of the page.
func TestBottomOfTheDebrief(t *testing.T) {
	lab, result := playedClass(t, "single-coil", 24)
	pdf := saved(t, must(t)(debriefs.PDF(lab, result)))
	text := tool(t, "pdftotext", "-bbox", pdf, "-")
	for _, m := range regexp.MustCompile(`xMin="([\d.]+)" yMin="([\d.]+)" xMax="([\d.]+)" yMax="([\d.]+)"`).FindAllStringSubmatch(text, -1) {
		right, _ := strconv.ParseFloat(m[3], 64)
		bottom, _ := strconv.ParseFloat(m[4], 64)
		if right > 612-12*72/25.4+1 || bottom > 792-10*72/25.4 { // margins of 12 and 10 mm of a letter page in points
			t.Errorf("a word reaches to %g, %g", right, bottom)
		}
	}
}

func TestFilesOfTheInstructor(t *testing.T) {
	lab, result := lampClass(t)
	key, err := bestplay.NewKey(lab)
	if err != nil {
		t.Fatal(err)
	}
	tree, err := bestplay.LabTree(lab, lab.Sheets[0].Complaint)
	if err != nil {
		t.Fatal(err)
	}
	for name, print := range map[string]func() ([]byte, error){
		"debriefs": func() ([]byte, error) { return debriefs.PDF(lab, result) },
		"key":      func() ([]byte, error) { return paper.PDF(instructor.Key(lab, key)) },
		"chart": func() ([]byte, error) {
			return charts.PDF(charts.Cover{Program: lab.Program, Date: lab.Date, Paper: "a4"}, tree)
		},
		"how to":   func() ([]byte, error) { return paper.PDF(instructor.HowTo(lab)) },
		"overview": func() ([]byte, error) { return paper.PDF(instructor.Overview(lab, result)) },
	} {
		a, b := must(t)(print()), must(t)(print())
		if string(a) != string(b) {
			t.Errorf("%s: printed twice, two files", name)
		}
		if out := tool(t, "qpdf", "--check", saved(t, a)); !strings.Contains(out,
			"No syntax or stream encoding errors found") {
			t.Errorf("%s: %s", name, out)
		}
		if text := strings.Join(strings.Fields(fmt.Sprint(pagesOf(t, a))), " "); !strings.Contains(text, "watches") ||
			!strings.Contains(text, "supervising instructor") {
			t.Errorf("%s: no cautions", name)
		}
	}
	lab.Date = "soon"
	for name, print := range map[string]func() ([]byte, error){
		"debriefs": func() ([]byte, error) { return debriefs.PDF(lab, result) },
		"chart":    func() ([]byte, error) { return charts.PDF(charts.Cover{Date: "soon"}, tree) },
	} {
		if _, err := print(); err == nil || !strings.Contains(err.Error(), `"soon"`) {
			t.Errorf("%s: error of a wrong date: %v", name, err)
		}
	}
}
