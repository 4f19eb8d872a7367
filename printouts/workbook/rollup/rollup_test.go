package rollup

import (
	"archive/zip"
	"bytes"
	"fmt"
	"io"
	"math"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"nospark/grading"
	"nospark/grading/competency"
	"nospark/grading/evidence"
	"nospark/printouts/workbook"
	"nospark/printouts/workbook/workbooktest"
	"nospark/scenarios/term"
)

// competencyBook makes the workbook of a term, with names or with codes.
func competencyBook(t testing.TB, autumn *competency.Term, names bool) []byte {
	t.Helper()
	data, err := Workbook(autumn, Options{Names: names})
	if err != nil {
		t.Fatal(err)
	}
	return data
}

// handTerm has three students whom one can count by hand, with ground tests in six labs.
func handTerm(t testing.TB) *competency.Term {
	t.Helper()
	key := term.Key{5}
	var files []competency.File
	for lab := range 6 {
		r := sampleRecord(lab, 0)
		for i, signs := range []string{"-+-+++", "+-+---", "++ +  "} {
			e := evidence.Entry{Student: fmt.Sprint(i + 1), Name: []string{"Ann Example", "Bo Example",
				"Cy Example"}[i], Sheet: fmt.Sprintf("K%d-BCD", i+2),
				Status: grading.Graded, Worked: true, Fault: "f", Repair: "r"}
			if c := signs[lab]; c != ' ' {
				e.Evidence = []evidence.Item{{Competency: "ground-integrity", Met: c == '+', Step: lab + 1,
					Test: "volts", Why: "because"}}
			}
			r.Students = append(r.Students, e)
		}
		data, err := r.Encode(key)
		if err != nil {
			t.Fatal(err)
		}
		files = append(files, competency.File{Name: r.FileName(), Data: data})
	}
	autumn := term.Term{ID: "test-term-1", Program: "P", Paper: "a4", Mastery: term.Mastery{Met: 4, Of: 5,
		Labs: 1}}
	return competency.Gather(files, competency.Options{Term: autumn, Key: &key})
}

// TestQuestion asks the workbook alone: who is not yet competent in ground tests, on how much evidence?
func TestQuestion(t *testing.T) {
	f := workbooktest.Open(t, competencyBook(t, handTerm(t), true))
	var answer []string
	for _, row := range workbooktest.Cells(t, f, standingSheet, false) {
		if row != nil && row[0] == "Ground tests (integrity)" {
			answer = append(answer, strings.Join(row[1:11], "|"))
		}
	}
	want := []string{ // by hand from the signs of handTerm, whose labs change between two packs
		"✗ not yet|S1|2|Bo Example|1 of 5|6|1|1|0|✓✗✓✗✗✗",
		"… too few|S1|3|Cy Example|3 of 3|3|2|2|0|✓✓✓",
		"✓ competent|S1|1|Ann Example|4 of 5|6|2|2|0|✗✓✗✓✓✓",
	}
	if !slices.Equal(answer, want) {
		t.Errorf("got\n%s\nwant\n%s", strings.Join(answer, "\n"), strings.Join(want, "\n"))
	}
	column := 0
	for i, title := range workbooktest.Cells(t, f, matrixSheet, false)[matrixHead-1] {
		if title == "Ground tests (integrity)" {
			column = i + 1
		}
	}
	for i, want := range []string{"✓ competent\n4 of 5, n 6", "✗ not yet\n1 of 5, n 6", "… too few\n3 of 3, n 3"} {
		if got := workbooktest.Value(t, f, matrixSheet, workbook.Ref(matrixHead+1+i, column)); got != want {
			t.Errorf("matrix of student %d: %q, want %q", i+1, got, want)
		}
	}
	if got := workbooktest.Value(t, f, matrixSheet,
		workbook.Ref(countRow, column)); got != "✓ 1  ✎ 0\n◊ 0  ✗ 1\n▲ 0  … 1" {
		t.Errorf("counts %q", got)
	}
	// Three students are too few for a share.
	for _, row := range workbooktest.Cells(t, f, programSheet, false) {
		if row != nil && row[0] == "Ground tests (integrity)" && (row[1] != "fewer than 5" || len(row) > 2 &&
			strings.Join(row[2:], "") != "") {
			t.Errorf("a group of three is shown: %q", row)
		}
	}
}

// TestCompetencyInLibreOffice lets another program read every cell, and work out the formulas anew: all values are
// those of the file.
func TestCompetencyInLibreOffice(t *testing.T) {
	data := competencyBook(t, sampleTerm(t, 6, 2, 6), true)
	f := workbooktest.Open(t, data)
	out := workbooktest.Convert(t, workbooktest.AllSheets, workbooktest.ForgetValues(t, workbooktest.Open(t, data)))
	for _, sheet := range f.GetSheetList() {
		theirs := workbooktest.ReadCSVSheet(t, filepath.Join(out, "book0"), sheet)
		cells := 0
		for r, row := range workbooktest.Cells(t, f, sheet, true) {
			for c, want := range row {
				got := ""
				if r < len(theirs) && c < len(theirs[r]) {
					got = theirs[r][c]
				}
				if !sameValue(got, want) {
					t.Errorf("%s %s: LibreOffice has %q, the file %q", sheet, workbook.Ref(r+1, c+1), got, want)
				}
				if want != "" {
					cells++
				}
			}
		}
		if cells < 4 {
			t.Errorf("%s has %d cells", sheet, cells)
		}
	}
}

// sameValue compares numbers as numbers; LibreOffice writes a share as a percentage and a day as a date.
func sameValue(a, b string) bool {
	if day, err := time.Parse(time.DateOnly, a); err == nil {
		a = fmt.Sprint(int(day.Sub(time.Date(1899, 12, 30, 0, 0, 0, 0, time.UTC)).Hours() / 24))
	}
	x, errX := strconv.ParseFloat(strings.TrimSuffix(a, "%"), 64)
	if strings.HasSuffix(a, "%") {
		x /= 100
	}
	y, errY := strconv.ParseFloat(b, 64)
	if errX == nil && errY == nil {
		return math.Abs(x-y) <= 1e-9*max(1, math.Abs(y))
	}
	return a == b
}

// TestCompetencyFormulas wants no formula but the counts of the matrix: names and tests that begin like one are texts.
func TestCompetencyFormulas(t *testing.T) {
	f := workbooktest.Open(t, competencyBook(t, sampleTerm(t, 6, 2, 6), true))
	counts := 0
	for _, sheet := range f.GetSheetList() {
		for r, row := range workbooktest.Cells(t, f, sheet, false) {
			for c := range row {
				text, err := f.GetCellFormula(sheet, workbook.Ref(r+1, c+1))
				if err != nil {
					t.Fatal(err)
				}
				switch {
				case text == "":
				case sheet == matrixSheet && r+1 == countRow:
					counts++
				default:
					t.Errorf("%s %s: formula %q", sheet, workbook.Ref(r+1, c+1), text)
				}
			}
		}
	}
	if counts != 12 {
		t.Errorf("%d formulas, want one for each of 12 competencies", counts)
	}
}

// TestCodes looks for names and ids in everything that a workbook with codes holds.
func TestCodes(t *testing.T) {
	autumn := sampleTerm(t, 4, 2, 6)
	data := competencyBook(t, autumn, false)
	archive, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		t.Fatal(err)
	}
	var all strings.Builder
	for _, part := range archive.File {
		r, err := part.Open()
		if err != nil {
			t.Fatal(err)
		}
		if _, err := io.Copy(&all, r); err != nil {
			t.Fatal(err)
		}
	}
	f := workbooktest.Open(t, data)
	var texts strings.Builder
	for _, sheet := range f.GetSheetList() {
		for _, row := range workbooktest.Cells(t, f, sheet, false) {
			texts.WriteString(strings.Join(row, "\n") + "\n")
		}
	}
	for _, s := range autumn.Students {
		if !strings.Contains(texts.String(), s.Code) {
			t.Errorf("code %s is missing", s.Code)
		}
		if strings.Contains(texts.String(), "\n"+s.ID+"\n") || strings.Contains(texts.String(), s.Name) ||
			strings.Contains(all.String(), ">"+s.ID+"<") {
			t.Errorf("id %s or name %q is in the workbook", s.ID, s.Name)
		}
	}
	if list := f.GetSheetList(); slices.Contains(list, problemsSheet) {
		t.Error("the problems, which can hold names, are in a workbook with codes")
	}
	// In order of their codes, so that the order tells nothing.
	var codes []string
	for _, row := range workbooktest.Cells(t, f, evidenceSheet, false)[4:] {
		if row[0] == "2026-09-01" && row[2] == "S1" && !slices.Contains(codes, row[3]) {
			codes = append(codes, row[3])
		}
	}
	if len(codes) < 4 || !slices.IsSorted(codes) {
		t.Errorf("codes %q", codes)
	}
	autumn.Students[0].Code = ""
	if _, err := Workbook(autumn, Options{}); err == nil {
		t.Error("codes without a key")
	}
}

// TestCompetencySameBytes makes a workbook several times: an order taken from a map shows only now and then.
func TestCompetencySameBytes(t *testing.T) {
	book := competencyBook(t, sampleTerm(t, 4, 2, 6), true)
	for range 5 {
		if !bytes.Equal(book, competencyBook(t, sampleTerm(t, 4, 2, 6), true)) {
			t.Fatal("bytes differ")
		}
	}
}

// TestCompetencyOfNothing makes a workbook of a term without records, and of one without evidence.
func TestCompetencyOfNothing(t *testing.T) {
	autumn := term.Term{ID: "test-term-1", Program: "P", Mastery: term.DefaultMastery()}
	competencyBook(t, competency.Gather(nil, competency.Options{Term: autumn}), true)
	r := sampleRecord(0, 0)
	r.Students = append(r.Students, evidence.Entry{Student: "1", Status: grading.Blank})
	data, err := r.Encode(term.Key{})
	if err != nil {
		t.Fatal(err)
	}
	f := workbooktest.Open(t, competencyBook(t, competency.Gather([]competency.File{{Name: "a.json", Data: data}},
		competency.Options{Term: autumn}), true))
	if got := workbooktest.Value(t, f, matrixSheet, workbook.Ref(matrixHead+1, 6)); got != "… too few\n0 of 0, n 0" {
		t.Errorf("standing %q", got)
	}
}

// TestCompetencyPages prints the workbook: no column may be too narrow, and the matrix of a class of 24 fits one page.
func TestCompetencyPages(t *testing.T) {
	out := workbooktest.Convert(t, "pdf", competencyBook(t, sampleTerm(t, 6, 1, 24), true))
	first := workbooktest.Pages(t, filepath.Join(out, "book0.pdf"))[1] // after the coordinator's
	if n := len(workbooktest.Pages(t, filepath.Join(out, "book0.pdf"))); n > 40 {
		t.Errorf("%d pages", n)
	}
	for _, want := range []string{"Competency: Automotive Technology", "Student Number 24", "Safe working",
		"relay-logic"} {
		if !strings.Contains(first, want) {
			t.Errorf("the page of the matrix lacks %q", want)
		}
	}
}

// benchmarkCompetency tells the size of the file too, since it has to go through the mail.
func benchmarkCompetency(b *testing.B, labs, sections, students int) {
	autumn := sampleTerm(b, labs, sections, students)
	b.ReportAllocs()
	for b.Loop() {
		b.ReportMetric(float64(len(competencyBook(b, autumn, true))), "bytes")
	}
}

// Three sections of 24 with 15 labs, and a school of 2,000.
func BenchmarkCompetency(b *testing.B)       { benchmarkCompetency(b, 15, 3, 24) }
func BenchmarkCompetencySchool(b *testing.B) { benchmarkCompetency(b, 15, 20, 100) }

// All cells of the workbook, as text.
func TestGoldenCompetency(t *testing.T) {
	workbooktest.Golden(t, "competency", competencyBook(t, sampleTerm(t, 6, 2, 6), true))
}
