package main

import (
	"encoding/json"
	"math"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"nospark/grading"
	"nospark/scenarios/testrun"
)

// How a debrief prints its arithmetic, spaces folded. In large print a colon follows the name of a part and a full stop
// its points.
var (
	printedMark       = regexp.MustCompile(`(?:([\d.]+) (?:provisional )?mark, of 100|[Mm]ark ([\d.]+) of 100)`)
	printedEvidence   = regexp.MustCompile(`Evidence:? ([\d.]+) of (\d+)\.? (\d+) × e; e = (\d+)(?:/(\d+))?`)
	printedDiagnosis  = regexp.MustCompile(`Diagnosis:? ([\d.]+) of (\d+)\.? (\d+) × ([\d.]+)(?:/(\d+))?:`)
	printedEfficiency = regexp.MustCompile(`Efficiency:? ([\d.]+) of (\d+)\.? (\d+) × e × ([\d.]+) / \(([\d.]+) \+ 2 × ([\d.]+) lost\)`)
	printedVerdicts   = regexp.MustCompile(`Interpretation:? ([\d.]+) of (\d+)\.? (\d+) (×.*?) Lost `)
	printedFactor     = regexp.MustCompile(`× (?:\((\d+) − (\d+)\)/(\d+)|(\d+):)`)
	printedCounting   = regexp.MustCompile(`(\d+) verdicts? counts?, (\d+) (?:wrong|missing)`)
	printedStep       = regexp.MustCompile(`(right|wrong|missing) ([\d.]+) ([\d.]+) \d+ *→ *\d+|Judged: (?:. )?(right|wrong|missing)\. ([\d.]+) min, ([\d.]+) lost`)
	printedPath       = regexp.MustCompile(`\(\d+ *→ *\d+\)\.`)
	printedLost       = regexp.MustCompile(`Lost ([\d.]+) min = ([\d.]+) in steps \+ ([\d.]+) still needed when you concluded \+ ([\d.]+) for a wrong repair`)
)

// debriefText is the text of one debrief from its mark on.
type debriefText struct {
	t    *testing.T
	text string
}

// numbers gives what a pattern finds; "" counts as 1, like the missing lower half of a fraction.
func (d debriefText) numbers(pattern *regexp.Regexp) []float64 {
	d.t.Helper()
	m := pattern.FindStringSubmatch(d.text)
	if m == nil {
		d.t.Fatalf("%v is not in\n%s", pattern, d.text)
	}
	var all []float64
	for _, s := range m[1:] {
		x, err := strconv.ParseFloat(s, 64)
		switch {
		case s == "":
			x = 1
		case err != nil:
			x = math.NaN()
		}
		all = append(all, x)
	}
	return all
}

// byHand computes the mark from what is printed and checks every printed part of it, to the digit.
func (d debriefText) byHand() float64 {
	d.t.Helper()
	same := func(what string, got, printed float64) {
		d.t.Helper()
		if math.Abs(got-printed) > 0.05+1e-9 {
			d.t.Errorf("%s: %v by hand, printed %v in\n%s", what, got, printed, d.text)
		}
	}
	n := d.numbers(printedEvidence)
	e := n[3] / n[4]
	evidence, weights := n[2]*e, n[2]
	same("evidence", evidence, n[0])

	n = d.numbers(printedDiagnosis)
	diagnosis := n[2] * n[3] / n[4]
	weights += n[2]
	same("diagnosis", diagnosis, n[0])

	n = d.numbers(printedEfficiency)
	efficiency := n[2] * e * n[3] / (n[4] + 2*n[5])
	weights += n[2]
	same("efficiency", efficiency, n[0])
	lost := d.numbers(printedLost)
	if lost[0] != n[5] || math.Abs(lost[0]-lost[1]-lost[2]-lost[3]) > 0.015+1e-9 { // three roundings
		d.t.Errorf("lost minutes %v and %v in\n%s", n[5], lost, d.text)
	}

	m := printedVerdicts.FindStringSubmatch(d.text)
	if m == nil {
		d.t.Fatalf("no interpretation in\n%s", d.text)
	}
	n = d.numbers(printedVerdicts)
	interpretation := n[2]
	for _, f := range printedFactor.FindAllStringSubmatch(m[4], -1) {
		if f[4] != "" {
			interpretation *= d.number(f[4])
			continue
		}
		interpretation *= (d.number(f[1]) - d.number(f[2])) / d.number(f[3])
	}
	d.verdicts(m[4])
	weights += n[2]
	same("interpretation", interpretation, n[0])
	if weights != 100 {
		d.t.Errorf("weights sum to %v in\n%s", weights, d.text)
	}
	return evidence + diagnosis + efficiency + interpretation
}

// number reads a printed number.
func (d debriefText) number(text string) float64 {
	d.t.Helper()
	x, err := strconv.ParseFloat(text, 64)
	if err != nil {
		d.t.Fatal(err)
	}
	return x
}

// compared is how many interpretations have been compared with their table of steps.
var compared int

// verdicts counts in the table of steps which verdicts count and which are wrong, and compares that with the line of
// the interpretation. Right ones where the step lost all its minutes do not count, and of the rest no more than best
// play has steps.
func (d debriefText) verdicts(interpretation string) {
	d.t.Helper()
	said := printedCounting.FindStringSubmatch(interpretation)
	if said == nil || strings.Contains(d.text, "without room here") {
		return
	}
	if _, path, _ := strings.Cut(d.text, "Best play to this fault"); strings.Contains(path, "…") {
		return // cut off for want of room, so its steps cannot be counted on paper
	}
	counting, wrong := 0, 0
	for _, m := range printedStep.FindAllStringSubmatch(d.text, -1) {
		verdict, minutes, lost := m[1]+m[4], d.number(m[2]+m[5]), d.number(m[3]+m[6])
		if verdict != "right" {
			wrong++
		}
		if verdict != "right" || lost < minutes {
			counting++
		}
	}
	counting = min(counting, len(printedPath.FindAllString(d.text, -1)))
	compared++
	if d.number(said[1]) != float64(counting) || d.number(said[2]) != float64(wrong) {
		d.t.Errorf("%s; by hand %d count, %d wrong, in\n%s", said[0], counting, wrong, d.text)
	}
}

// TestEveryMarkByHand takes nothing but the printed debriefs of the demo's labs and computes every mark anew, to the
// printed digit.
func TestEveryMarkByHand(t *testing.T) {
	testrun.Long(t, "builds and grades every lab of the demo")
	dir := filepath.Join(t.TempDir(), "demo")
	command(t, exitDone, "demo", dir)
	labs, err := filepath.Glob(filepath.Join(dir, "labs", "*"))
	if err != nil || len(labs) == 0 {
		t.Fatalf("labs %v, %v", labs, err)
	}
	count, weighed := 0, 0
	for _, lab := range labs {
		var result grading.Result
		if err := json.Unmarshal([]byte(command(t, exitDone, "grade", lab, "--json")), &result); err != nil {
			t.Fatal(err)
		}
		text := strings.Join(strings.Fields(strings.Join(pages(t, filepath.Join(lab, "graded", "debriefs.pdf"), "-raw"),
			" ")), " ")
		at := printedMark.FindAllStringSubmatchIndex(text, -1)
		next := 0
		shares := sharesByHand(t, filepath.Join(lab, "graded", "results.xlsx"))
		for _, s := range result.Students {
			if s.Status != grading.Graded && s.Status != grading.Provisional {
				continue
			}
			if next == len(at) {
				t.Fatalf("%s: %d marks are printed, there are more", lab, len(at))
			}
			end := len(text)
			if next+1 < len(at) {
				end = at[next+1][0]
			}
			d := debriefText{t, text[at[next][0]:end]}
			m := printedMark.FindStringSubmatch(d.text)
			printed, err := strconv.ParseFloat(m[1]+m[2], 64)
			if err != nil {
				t.Fatal(err)
			}
			if got := d.byHand(); math.Abs(got-printed) > 0.05+1e-9 {
				t.Errorf("%s, sheet %s: %v by hand, printed %v", lab, s.Sheet, got, printed)
			}
			if math.Abs(s.Mark-printed) > 0.05+1e-9 {
				t.Errorf("%s, sheet %s: printed %v, graded %v", lab, s.Sheet, printed, s.Mark)
			}
			if e, ok := shares[s.Sheet]; ok {
				weighed++
				d.shares(e, s)
			} else if len(s.Steps) > 0 {
				t.Errorf("%s: sheet %s has no suspects in the workbook", lab, s.Sheet)
			}
			next++
			count++
		}
		if next != len(at) {
			t.Errorf("%s: %d marks are printed, want %d", lab, len(at), next)
		}
	}
	if compared < count/2 {
		t.Errorf("of %d marks only %d have verdicts that could be counted", count, compared)
	}
	t.Logf("summary: %d marks of %d labs computed by hand from the debriefs, %d with the verdicts counted anew, %d with "+
		"e and c from the workbook's weights", count, len(labs), compared, weighed)
}

// shares compares e and c with those that the workbook's weights give, and e with the fraction that the debrief prints.
func (d debriefText) shares(by suspectSums, s grading.StudentResult) {
	d.t.Helper()
	e := 0.0
	switch {
	case by.others > 0:
		e = by.ruledOut / by.others
		if n := d.numbers(printedEvidence); n[3] != by.ruledOut || n[4] != by.others {
			d.t.Errorf("sheet %s: e = %v/%v by the workbook, in\n%s", s.Sheet, by.ruledOut, by.others, d.text)
		}
	case s.LostEarly == 0:
		e = 1
	}
	if math.Abs(e-s.Evidence) > 1e-12 || math.Abs(by.right/by.left-s.Share) > 1e-12 {
		d.t.Errorf("sheet %s: e %v and c %v by the workbook, graded %v and %v", s.Sheet, e, by.right/by.left, s.Evidence,
			s.Share)
	}
}

// suspectSums are sums over the suspects of a sheet.
type suspectSums struct{ others, ruledOut, right, left float64 }

// sharesByHand adds up the weights in the workbook's sheet of suspects, as its first lines say, from the weights of the
// suspects and their checks and what is left of each: the columns that are sums themselves are left alone.
func sharesByHand(t *testing.T, book string) map[string]suspectSums {
	t.Helper()
	f, err := excelize.OpenFile(book)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := f.GetRows("Suspects")
	if err != nil {
		t.Fatal(err)
	}
	const head = 4
	column := map[string]int{}
	for i, title := range rows[head] {
		column[title] = i
	}
	all := map[string]suspectSums{}
	for _, row := range rows[head+1:] {
		number := func(title string) float64 {
			x, err := strconv.ParseFloat(row[column[title]], 64)
			if err != nil {
				t.Fatalf("%s: %v", title, err)
			}
			return x
		}
		s := all[row[0]]
		weight, checks, owed := number("weight"), number("checks owed"), number("checks still owed")
		each := 0.0
		if checks > 0 {
			each = number("their weight") / checks
		}
		right, left := row[column["counts as right"]] == "yes", row[column["still possible"]] == "yes"
		s.others += checks * each
		s.ruledOut += (checks - owed) * each
		s.left += owed * each
		if !right {
			s.others += weight
		}
		switch {
		case left && right:
			s.left, s.right = s.left+weight, s.right+weight
		case left:
			s.left += weight
		case !right:
			s.ruledOut += weight
		}
		if got := number("counts for e"); math.Abs(got-checks*each-weight*one(!right)) > 1e-9 {
			t.Errorf("%s: %v counts for e in %v", row[0], got, row)
		}
		all[row[0]] = s
	}
	return all
}

// one is 1 for true.
func one(yes bool) float64 {
	if yes {
		return 1
	}
	return 0
}
