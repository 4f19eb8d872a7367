package results

import (
	"bytes"
	"math"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"nospark/grading"
	"nospark/printouts/workbook"
	"nospark/printouts/workbook/workbooktest"
	"nospark/scenarios/lab"
)

// results makes the workbook of a graded lab.
func results(t testing.TB, l *lab.Lab, r *grading.Result) []byte {
	t.Helper()
	data, err := Workbook(l, r)
	if err != nil {
		t.Fatal(err)
	}
	return data
}

// checkMarks compares the marks that LibreOffice shows in a book with the engine's. tried are the weights in the row
// "try", nil for those of the rubric; the marks under them are worked out here from the parts.
func checkMarks(t *testing.T, l *lab.Lab, result *grading.Result, book string, tried []float64) {
	t.Helper()
	for _, sheet := range []string{"Scores", "Steps", "Suspects", "Faults", "Tests", "Class", "Problems", "Read me"} {
		for i, row := range workbooktest.ReadCSVSheet(t, book, sheet) {
			for _, cell := range row {
				if strings.HasPrefix(cell, "Err:") || strings.HasPrefix(cell, "#") {
					t.Errorf("%s, row %d: %q", sheet, i+1, cell)
				}
			}
		}
	}
	r := &report{lab: l, result: result}
	parts := r.parts()
	columns := scoreColumns(parts)
	rows := workbooktest.ReadCSVSheet(t, book, "Scores")[scoresHead:]
	n := 0
	for _, s := range result.Students {
		if s.Student == "" && s.Status == grading.Blank {
			continue
		}
		row := rows[n]
		n++
		cell := func(title string) string { return row[workbook.ColumnIndex(columns, title)-1] }
		if cell("sheet") != s.Sheet || cell("name") != s.Name {
			t.Fatalf("row %d is of %q %q, student is %q %q", n, cell("sheet"), cell("name"), s.Sheet, s.Name)
		}
		if !marked(&s) {
			if got := cell("mark") + cell("mark with these weights") + cell("lost") + cell("evidence"); got != "" {
				t.Errorf("%s is %s but has %q", s.Sheet, s.Status, got)
			}
			continue
		}
		near(t, s.Sheet+" mark", cell("mark"), s.Mark)
		if !worked(&s) {
			continue
		}
		want, weights := 0.0, 0.0
		total := 0.0
		for i, p := range parts {
			weight := float64(p.weight)
			if tried != nil {
				weight = tried[i]
			}
			total += weight
			if v := p.points(&s); !math.IsNaN(v) {
				want += v / float64(p.weight) * weight
				weights += weight
			}
		}
		near(t, s.Sheet+" mark with these weights", cell("mark with these weights"), want*total/weights)
		near(t, s.Sheet+" lost", cell("lost"), s.Lost/10)
		if tried == nil && !s.Set {
			near(t, s.Sheet+" sum of parts", cell("mark with these weights"), s.Mark)
		}
	}
	if n != len(rows) {
		t.Errorf("%d rows for %d students", len(rows), n)
	}
}

// near compares a number of a cell with the one it should be, to what arithmetic in another order may differ.
func near(t *testing.T, what, got string, want float64) {
	t.Helper()
	v, err := strconv.ParseFloat(got, 64)
	if err != nil || math.Abs(v-want) > 1e-9*max(1, math.Abs(want)) {
		t.Errorf("%s: %q, want %v", what, got, want)
	}
}

// The marks must be the engine's, and the formulas must give them from their parts in another program than the one that
// wrote them.
func TestMarksInLibreOffice(t *testing.T) {
	l := workbooktest.JudgedLab(40)
	result := sampleResult(l)
	data := results(t, l, result)
	f := workbooktest.Open(t, data)
	tried := []float64{10, 40, 10, 10, 20, 10}
	columns := scoreColumns((&report{lab: l}).parts())
	for i, w := range tried {
		if err := f.SetCellValue(scoresSheet, workbook.Ref(tryRow, workbook.ColumnIndex(columns, "right")+1+i),
			w); err != nil {
			t.Fatal(err)
		}
	}
	out := workbooktest.Convert(t, workbooktest.AllSheets, workbooktest.ForgetValues(t, workbooktest.Open(t, data)),
		workbooktest.ForgetValues(t, f))
	checkMarks(t, l, result, filepath.Join(out, "book0"), nil)
	checkMarks(t, l, result, filepath.Join(out, "book1"), tried)
}

// The values stored beside the formulas are what programs show that work out nothing.
func TestStoredValuesOfFormulas(t *testing.T) {
	l := workbooktest.JudgedLab(40)
	result := sampleResult(l)
	f := workbooktest.Open(t, results(t, l, result))
	columns := scoreColumns((&report{lab: l}).parts())
	formulas, set := 0, 0
	for row := scoresHead + 1; row <= scoresHead+40; row++ {
		mark, again := workbooktest.Value(t, f, scoresSheet, workbook.Ref(row, workbook.ColumnIndex(columns, "mark"))),
			workbooktest.Value(t, f, scoresSheet,
				workbook.Ref(row, workbook.ColumnIndex(columns, "mark with these weights")))
		if again == "" {
			continue
		}
		formulas++
		if strings.HasPrefix(workbooktest.Value(t, f, scoresSheet,
			workbook.Ref(row, workbook.ColumnIndex(columns, "remarks"))), "mark set") {
			set++ // the parts say something else
		} else if mark != again {
			t.Errorf("row %d: mark %q, stored value of its formula %q", row, mark, again)
		}
	}
	if formulas < 20 || set != 2 {
		t.Errorf("%d formulas, %d of marks that were set", formulas, set)
	}
}

// Texts from outside stay texts: the only formulas are those of the marks and sums.
func TestTextsAreNoFormulas(t *testing.T) {
	l := workbooktest.SampleLab(24)
	f := workbooktest.Open(t, results(t, l, sampleResult(l)))
	for _, sheet := range f.GetSheetList() {
		for r, row := range workbooktest.Cells(t, f, sheet, false) {
			for c := range row {
				text, err := f.GetCellFormula(sheet, workbook.Ref(r+1, c+1))
				if err != nil {
					t.Fatal(err)
				}
				if text != "" && !strings.HasPrefix(text, "SUM(") && !strings.HasPrefix(text, "SUBTOTAL(") &&
					!strings.HasPrefix(text, "IF(SUMPRODUCT(") {
					t.Errorf("%s %s: formula %q", sheet, workbook.Ref(r+1, c+1), text)
				}
			}
		}
	}
	for i := range 11 {
		if got := workbooktest.Value(t, f, scoresSheet,
			workbook.Ref(scoresHead+1+i, 3)); got != workbooktest.SampleName(i) {
			t.Errorf("name %q, want %q", got, workbooktest.SampleName(i))
		}
	}
}

// Equal values must give equal bytes, however the library orders its maps.
func TestSameBytes(t *testing.T) {
	l := workbooktest.SampleLab(24)
	result := sampleResult(l)
	book := results(t, l, result)
	for i := range 20 {
		if !bytes.Equal(book, results(t, l, result)) {
			t.Fatalf("bytes differ at repetition %d", i)
		}
	}
}

// A lab that nobody worked on has results too: empty cells, no zeros, and no division by nobody.
func TestEmptyResults(t *testing.T) {
	l := workbooktest.SampleLab(3)
	none := &grading.Result{Lab: l.Name, Title: l.Title, Date: l.Date}
	for i, s := range l.Sheets {
		none.Students = append(none.Students, grading.StudentResult{Sheet: s.Code, Student: s.Student, Name: s.Name,
			Index: i, Status: grading.Blank, Repair: -1, Reasoning: -1, Safe: -1})
	}
	f := workbooktest.Open(t, results(t, l, none))
	columns := scoreColumns((&report{lab: l}).parts())
	for i := range 3 {
		for c := workbook.ColumnIndex(columns, "status") + 1; c <= len(columns); c++ {
			if got := workbooktest.Value(t, f, scoresSheet, workbook.Ref(scoresHead+1+i, c)); got != "" {
				t.Errorf("%s of a sheet that was not handed in is %q", columns[c-1].Title, got)
			}
		}
	}
	if got := workbooktest.Value(t, f, scoresSheet, workbook.Ref(scoresHead+4, 1)); got != "" {
		t.Errorf("a spare that nobody used has a row: %q", got)
	}
	results(t, &lab.Lab{}, &grading.Result{})
}

func BenchmarkResults(b *testing.B) {
	l := workbooktest.SampleLab(2000)
	result := sampleResult(l)
	b.ReportAllocs()
	for b.Loop() {
		b.ReportMetric(float64(len(results(b, l, result))), "bytes")
	}
}

// All cells of the results, as text.
func TestGoldenResults(t *testing.T) {
	l := workbooktest.JudgedLab(12)
	workbooktest.Golden(t, "results", results(t, l, sampleResult(l)))
}

// On paper the scores fit the width of a page.
func TestResultsPages(t *testing.T) {
	l := workbooktest.JudgedLab(24)
	first := workbooktest.Pages(t, filepath.Join(workbooktest.Convert(t, "pdf", results(t, l, sampleResult(l))),
		"book0.pdf"))[0]
	for _, want := range []string{"Scores: ", "Student Number 24", "lost"} {
		if !strings.Contains(first, want) {
			t.Errorf("the first page lacks %q:\n%s", want, first)
		}
	}
}

// Every chart says in words what it shows, for those who hear the page.
func TestChartsHaveWords(t *testing.T) {
	l := workbooktest.SampleLab(12)
	drawing := workbooktest.Part(t, results(t, l, sampleResult(l)), "xl/drawings/drawing1.xml")
	charts, words := strings.Count(drawing, "<xdr:graphicFrame"), strings.Count(drawing, `descr="Columns: `)
	if charts != 2 || words != charts {
		t.Errorf("%d charts, %d of them with words", charts, words)
	}
}
