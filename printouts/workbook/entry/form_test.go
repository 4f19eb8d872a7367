package entry

import (
	"bytes"
	"fmt"
	"html"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"nospark/grading/submission"
	"nospark/printouts/workbook"
	"nospark/printouts/workbook/workbooktest"
	"nospark/scenarios/lab"
)

// makeForm makes the form of a lab.
func makeForm(t testing.TB, l *lab.Lab) []byte {
	t.Helper()
	data, err := Form(l)
	if err != nil {
		t.Fatal(err)
	}
	return data
}

// typed is what a person types, in the manners that people have.
func typed(l *lab.Lab) map[int]map[string]any {
	spare := len(l.Sheets) - 1
	return map[int]map[string]any{
		0: {"repair": exampleRepair(l), "step 1": "214KQ+", "step 2": "305HM-", "step 12": "001BB",
			"reasoning": 4, "safe": "yes"},
		1: {"repair": strings.ToLower(exampleRepair(l)), "step 1": "214 kq +", "step 2": "305hm\u2013",
			"safe": "No", "reasoning": "0"},
		2:     {"step 1": "21KQ+", "step 3": "214KQ+ 305HM-"},
		spare: {"id": "9001", "name": "Late Example", "repair": exampleRepair(l), "step 1": "214BB+"},
	}
}

// wantRows is what show writes of the entries that typed makes: whatever the manner, the same steps.
func wantRows(l *lab.Lab) string {
	r := exampleRepair(l)
	last := len(l.Sheets) - 1
	return fmt.Sprintf("0017|Testina Example|%s|%s|214KQ+ 305HM- 001BB|4|1\n", l.Sheets[0].Code, r) +
		fmt.Sprintf("0018|%s|%s|%s|214KQ+ 305HM-|0|0\n", workbooktest.SampleName(1), l.Sheets[1].Code, r) +
		fmt.Sprintf("0019|%s|%s||?21KQ+ 214KQ+ 305HM-|-1|-1\n", workbooktest.SampleName(2), l.Sheets[2].Code) +
		fmt.Sprintf("9001|Late Example|%s|%s|214BB+|-1|-1\n", l.Sheets[last].Code, r)
}

// show writes the rows in which something was entered, and checks that all others are there and empty.
func show(t testing.TB, l *lab.Lab, rows []submission.Row) string {
	t.Helper()
	if len(rows) != len(l.Sheets) {
		t.Errorf("%d rows read, %d sheets", len(rows), len(l.Sheets))
	}
	var b strings.Builder
	for i, r := range rows {
		if i < len(l.Sheets) {
			if s := l.Sheets[i]; r.Sheet != s.Code || s.Student != "" &&
				(r.Student != s.Student || r.Name != s.Name) {
				t.Errorf("row %d: %q %q %q, sheet is %q %q %q", i, r.Student, r.Name, r.Sheet, s.Student, s.Name,
					s.Code)
			}
		}
		if r.Empty() && r.Reasoning < 0 && r.Safe < 0 {
			continue
		}
		var steps []string
		for _, s := range r.Steps {
			if s.Line < 0 {
				steps = append(steps, "?"+s.Text)
				continue
			}
			steps = append(steps, fmt.Sprintf("%03d%s%s", s.Line, s.Letters, s.Judged))
		}
		fmt.Fprintf(&b, "%s|%s|%s|%s|%s|%d|%d\n", r.Student, r.Name, r.Sheet, r.Repair, strings.Join(steps, " "),
			r.Reasoning, r.Safe)
	}
	return b.String()
}

// A form is filled in and read, as it is and after another program has saved it, since most instructors use one that is
// not ours to test.
func TestEntryIsReadBack(t *testing.T) {
	l := workbooktest.SampleLab(24)
	filled := workbooktest.Fill(t, makeForm(t, l), typed(l))
	check := func(name string, data []byte) {
		t.Helper()
		rows, remarks := submission.ReadWorkbook("entry.xlsx", data)
		if got, want := show(t, l, rows), wantRows(l); got != want {
			t.Errorf("%s\n got:\n%s\nwant:\n%s", name, got, want)
		}
		if len(remarks) != 1 || !strings.Contains(remarks[0].What, "21KQ+") {
			t.Errorf("%s: remarks %+v", name, remarks)
		}
	}
	check("as written", filled)
	again, err := os.ReadFile(filepath.Join(workbooktest.Convert(t, "xlsx", filled), "book0.xlsx"))
	if err != nil {
		t.Fatal(err)
	}
	check("saved by LibreOffice", again)
	checkHelp(t, filled)
	checkHelp(t, again)
}

// checkHelp checks that the form's lists and hints are there, and still there after another program has saved it.
func checkHelp(t *testing.T, data []byte) {
	t.Helper()
	f := workbooktest.Open(t, data)
	rules, err := f.GetDataValidations(entrySheet)
	if err != nil {
		t.Fatal(err)
	}
	lists := map[string]string{}
	for _, r := range rules {
		column, _, _ := strings.Cut(r.Sqref, "7:")
		lists[column] = r.Type + " " + html.UnescapeString(r.Formula1)
	}
	for column, want := range map[string]string{"E": "list repair_codes", "R": `list "0,1,2,3,4"`,
		"S": "list yes_or_no"} {
		if lists[column] != want {
			t.Errorf("column %s has the rule %q, want %q", column, lists[column], want)
		}
	}
	formats, err := f.GetConditionalFormats(entrySheet)
	if err != nil {
		t.Fatal(err)
	}
	hints := 0
	for _, rules := range formats {
		hints += len(rules)
	}
	if hints != 3 {
		t.Errorf("%d hints, want 3: %v", hints, formats)
	}
	for cell, locked := range map[string]bool{"A7": true, "D7": true, "E7": false, "Q7": false, "S7": false,
		"A31": false, "D31": true} {
		id, err := f.GetCellStyle(entrySheet, cell)
		if err != nil {
			t.Fatal(err)
		}
		style, err := f.GetStyle(id)
		if err != nil {
			t.Fatal(err)
		}
		if got := style.Protection == nil || style.Protection.Locked; got != locked {
			t.Errorf("%s is locked: %v, want %v", cell, got, locked)
		}
	}
}

// A form in which nobody has typed says that nothing was handed in, and nothing else, from no student to a whole
// school.
func TestEntryUntouched(t *testing.T) {
	for _, students := range []int{0, 1, 24, 2000} {
		l := workbooktest.SampleLab(students)
		rows, remarks := submission.ReadWorkbook("entry.xlsx", makeForm(t, l))
		if got := show(t, l, rows); got != "" || len(remarks) > 0 {
			t.Errorf("%d students: rows %s, remarks %+v", students, got, remarks)
		}
	}
}

// All cells of the form, as text; equal labs give equal bytes, and nothing from outside becomes a formula.
func TestGoldenEntry(t *testing.T) {
	l := workbooktest.JudgedLab(12)
	data := makeForm(t, l)
	workbooktest.Golden(t, "entry", data)
	for range 10 {
		if !bytes.Equal(data, makeForm(t, l)) {
			t.Fatal("bytes differ")
		}
	}
	f := workbooktest.Open(t, data)
	for _, sheet := range f.GetSheetList() {
		for r, row := range workbooktest.Cells(t, f, sheet, false) {
			for c := range row {
				if text, err := f.GetCellFormula(sheet, workbook.Ref(r+1, c+1)); err != nil || text != "" {
					t.Errorf("%s %s: formula %q, %v", sheet, workbook.Ref(r+1, c+1), text, err)
				}
			}
		}
	}
}

// On paper the form fits the width of a page.
func TestEntryPages(t *testing.T) {
	first := workbooktest.Pages(t, filepath.Join(workbooktest.Convert(t, "pdf",
		makeForm(t, workbooktest.JudgedLab(24))),
		"book0.pdf"))[0]
	for _, want := range []string{"Entry form for", "Student Number 24", "safe"} {
		if !strings.Contains(first, want) {
			t.Errorf("the first page lacks %q:\n%s", want, first)
		}
	}
}

func BenchmarkEntry(b *testing.B) {
	l := workbooktest.SampleLab(2000)
	b.ReportAllocs()
	for b.Loop() {
		b.ReportMetric(float64(len(makeForm(b, l))), "bytes")
	}
}
