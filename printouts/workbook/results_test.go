package workbook

import (
	"bytes"
	"encoding/csv"
	"flag"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"nospark/grading"
	"nospark/scenarios/lab"
)

var update = flag.Bool("update", false, "write the golden files anew")

// results makes the workbook of a graded lab.
func results(t testing.TB, lab *lab.Lab, r *grading.Result) []byte {
	t.Helper()
	data, err := Results(lab, r)
	if err != nil {
		t.Fatal(err)
	}
	return data
}

// judgedLab has all six parts of the mark.
func judgedLab(students int) *lab.Lab {
	l := sampleLab(students)
	l.Rubric = lab.Rubric{Evidence: 15, Diagnosis: 35, Efficiency: 25, Interpretation: 10, Reasoning: 10, Safety: 5}
	return l
}

// allSheets makes LibreOffice write every sheet as a CSV file with raw values, after it has worked out all formulas.
const allSheets = "csv:Text - txt - csv (StarCalc):44,34,76,1,,0,false,false,false,false,false,-1"

// readSheet reads one of those files; book is as convert names it.
func readSheet(t testing.TB, book, sheet string) [][]string {
	t.Helper()
	data, err := os.ReadFile(book + "-" + sheet + ".csv")
	if err != nil {
		t.Fatal(err)
	}
	r := csv.NewReader(bytes.NewReader(data))
	r.FieldsPerRecord = -1
	rows, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	return rows
}

// checkMarks compares the marks that LibreOffice shows in a book with the engine's. tried are the weights in the row "try", nil for those of the
// rubric; the marks under them are worked out here from the parts.
func checkMarks(t *testing.T, lab *lab.Lab, result *grading.Result, book string, tried []float64) {
	t.Helper()
	for _, sheet := range []string{"Scores", "Steps", "Faults", "Tests", "Class", "Problems", "Read me"} {
		for i, row := range readSheet(t, book, sheet) {
			for _, cell := range row {
				if strings.HasPrefix(cell, "Err:") || strings.HasPrefix(cell, "#") {
					t.Errorf("%s, row %d: %q", sheet, i+1, cell)
				}
			}
		}
	}
	r := &report{lab: lab, result: result}
	parts := r.parts()
	columns := scoreColumns(parts)
	rows := readSheet(t, book, "Scores")[scoresHead:]
	n := 0
	for _, s := range result.Students {
		if s.Student == "" && s.Status == grading.Blank {
			continue
		}
		row := rows[n]
		n++
		cell := func(title string) string { return row[place(columns, title)-1] }
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

// The marks must be the engine's, and the formulas must give them from their parts in another program than the one that wrote them.
func TestMarksInLibreOffice(t *testing.T) {
	lab := judgedLab(40)
	result := sampleResult(lab)
	data := results(t, lab, result)
	f := open(t, data)
	tried := []float64{10, 40, 10, 10, 20, 10}
	columns := scoreColumns((&report{lab: lab}).parts())
	for i, w := range tried {
		if err := f.SetCellValue(scoresSheet, at(tryRow, place(columns, "right")+1+i), w); err != nil {
			t.Fatal(err)
		}
	}
	out := convert(t, allSheets, forget(t, open(t, data)), forget(t, f))
	checkMarks(t, lab, result, filepath.Join(out, "book0"), nil)
	checkMarks(t, lab, result, filepath.Join(out, "book1"), tried)
}

// forget drops the values stored beside formulas, so that another program has to work them out.
func forget(t testing.TB, f *excelize.File) []byte {
	t.Helper()
	if err := f.UpdateLinkedValue(); err != nil {
		t.Fatal(err)
	}
	var out bytes.Buffer
	if err := f.Write(&out); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

// The values stored beside the formulas are what programs show that work out nothing.
func TestStoredValuesOfFormulas(t *testing.T) {
	lab := judgedLab(40)
	result := sampleResult(lab)
	f := open(t, results(t, lab, result))
	columns := scoreColumns((&report{lab: lab}).parts())
	formulas, set := 0, 0
	for row := scoresHead + 1; row <= scoresHead+40; row++ {
		mark, again := value(t, f, scoresSheet, at(row, place(columns, "mark"))), value(t, f, scoresSheet, at(row, place(columns, "mark with these weights")))
		if again == "" {
			continue
		}
		formulas++
		if strings.HasPrefix(value(t, f, scoresSheet, at(row, place(columns, "remarks"))), "mark set") {
			set++ // the parts say something else
		} else if mark != again {
			t.Errorf("row %d: mark %q, stored value of its formula %q", row, mark, again)
		}
	}
	if formulas < 20 || set != 2 {
		t.Errorf("%d formulas, %d of marks that were set", formulas, set)
	}
}

// Texts from outside stay texts: the only formulas are those of the marks and of the two sums of weights.
func TestTextsAreNoFormulas(t *testing.T) {
	lab := sampleLab(24)
	for name, data := range map[string][]byte{"entry": entry(t, lab), "results": results(t, lab, sampleResult(lab))} {
		f := open(t, data)
		for _, sheet := range f.GetSheetList() {
			rows, err := f.GetRows(sheet)
			if err != nil {
				t.Fatal(err)
			}
			for r, row := range rows {
				for c := range row {
					text, err := f.GetCellFormula(sheet, at(r+1, c+1))
					if err != nil {
						t.Fatal(err)
					}
					if text != "" && !strings.HasPrefix(text, "SUM(") && !strings.HasPrefix(text, "IF(SUMPRODUCT(") {
						t.Errorf("%s, %s %s: formula %q", name, sheet, at(r+1, c+1), text)
					}
				}
			}
		}
	}
	f := open(t, results(t, lab, sampleResult(lab)))
	for i := range 11 {
		if got := value(t, f, scoresSheet, at(scoresHead+1+i, 3)); got != sampleName(i) {
			t.Errorf("name %q, want %q", got, sampleName(i))
		}
	}
}

// Equal values must give equal bytes, however the library orders its maps.
func TestSameBytes(t *testing.T) {
	lab := sampleLab(24)
	result := sampleResult(lab)
	form, book := entry(t, lab), results(t, lab, result)
	for i := range 20 {
		if !bytes.Equal(form, entry(t, lab)) || !bytes.Equal(book, results(t, lab, result)) {
			t.Fatalf("bytes differ at repetition %d", i)
		}
	}
}

// golden compares all cells of a workbook with a file of testdata: text that a person can compare, a line per row.
func golden(t *testing.T, name string, data []byte) {
	t.Helper()
	f := open(t, data)
	var b strings.Builder
	for _, sheet := range f.GetSheetList() {
		fmt.Fprintf(&b, "== %s\n", sheet)
		for _, row := range cellsOf(t, f, sheet, false) {
			line := strings.ReplaceAll(strings.Join(row, " | "), "\n", " / ")
			b.WriteString(strings.TrimRight(line, " |") + "\n")
		}
	}
	path := filepath.Join("testdata", name+".txt")
	if *update {
		if err := os.WriteFile(path, []byte(b.String()), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if got := b.String(); got != string(want) {
		t.Errorf("%s differs from %s:\n%s", name, path, difference(got, string(want)))
	}
}

// All cells of the three workbooks, as text.
func TestGolden(t *testing.T) {
	lab := judgedLab(12)
	golden(t, "entry", entry(t, lab))
	golden(t, "results", results(t, lab, sampleResult(lab)))
	golden(t, "competency", competencyBook(t, sampleTerm(t, 6, 2, 6), true))
}

// difference shows the first lines that differ.
func difference(got, want string) string {
	g, w := strings.Split(got, "\n"), strings.Split(want, "\n")
	for i := range min(len(g), len(w)) {
		if g[i] != w[i] {
			return fmt.Sprintf("line %d\n got: %s\nwant: %s", i+1, g[i], w[i])
		}
	}
	return fmt.Sprintf("%d lines, want %d", len(g), len(w))
}

// On paper no column may be too narrow for its numbers, which shows as a row of ###, and every sheet must fit its width.
func TestPages(t *testing.T) {
	pdftotext, err := exec.LookPath("pdftotext")
	if err != nil {
		if os.Getenv("CI") == "true" {
			t.Fatal("pdftotext is missing")
		}
		t.Skip("pdftotext is missing")
	}
	lab := judgedLab(24)
	out := convert(t, "pdf", entry(t, lab), results(t, lab, sampleResult(lab)))
	check := func(book, heading, last string) {
		t.Helper()
		text, err := exec.Command(pdftotext, "-layout", filepath.Join(out, book), "-").Output()
		if err != nil {
			t.Fatal(err)
		}
		if strings.Contains(string(text), "###") {
			t.Errorf("%s: a column is too narrow", book)
		}
		first, _, _ := strings.Cut(string(text), "\f")
		if !strings.Contains(first, heading) || !strings.Contains(first, "Student Number 24") || !strings.Contains(first, last) {
			t.Errorf("%s: the first page lacks its heading, its last student or its last column:\n%s", book, first)
		}
	}
	check("book0.pdf", "Entry form for", "safe")
	check("book1.pdf", "Scores: ", "lost")
}

// A lab that nobody worked on has results too: empty cells, no zeros, and no division by nobody.
func TestEmptyResults(t *testing.T) {
	l := sampleLab(3)
	none := &grading.Result{Lab: l.Name, Title: l.Title, Date: l.Date}
	for i, s := range l.Sheets {
		none.Students = append(none.Students, grading.StudentResult{Sheet: s.Code, Student: s.Student, Name: s.Name, Index: i, Status: grading.Blank, Repair: -1, Reasoning: -1, Safe: -1})
	}
	f := open(t, results(t, l, none))
	columns := scoreColumns((&report{lab: l}).parts())
	for i := range 3 {
		for c := place(columns, "status") + 1; c <= len(columns); c++ {
			if got := value(t, f, scoresSheet, at(scoresHead+1+i, c)); got != "" {
				t.Errorf("%s of a sheet that was not handed in is %q", columns[c-1].title, got)
			}
		}
	}
	if got := value(t, f, scoresSheet, at(scoresHead+4, 1)); got != "" {
		t.Errorf("a spare that nobody used has a row: %q", got)
	}
	results(t, &lab.Lab{}, &grading.Result{})
}

func BenchmarkResults(b *testing.B) {
	lab := sampleLab(2000)
	result := sampleResult(lab)
	b.ReportAllocs()
	for b.Loop() {
		b.ReportMetric(float64(len(results(b, lab, result))), "bytes")
	}
}

func BenchmarkEntry(b *testing.B) {
	lab := sampleLab(2000)
	b.ReportAllocs()
	for b.Loop() {
		b.ReportMetric(float64(len(entry(b, lab))), "bytes")
	}
}
