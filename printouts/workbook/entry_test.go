package workbook

import (
	"bytes"
	"fmt"
	"html"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"nospark/grading/submission"
	"nospark/scenarios/lab"
)

// entry makes the form of a lab.
func entry(t testing.TB, lab *lab.Lab) []byte {
	t.Helper()
	data, err := Entry(lab)
	if err != nil {
		t.Fatal(err)
	}
	return data
}

// open reads a workbook with the library.
func open(t testing.TB, data []byte) *excelize.File {
	t.Helper()
	f, err := excelize.OpenReader(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { f.Close() })
	return f
}

// value reads a cell as shown.
func value(t testing.TB, f *excelize.File, sheet, cell string) string {
	t.Helper()
	v, err := f.GetCellValue(sheet, cell)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// office finds LibreOffice. In continuous integration it must be there.
func office(t testing.TB) string {
	t.Helper()
	path, err := exec.LookPath("soffice")
	if err != nil {
		if os.Getenv("CI") == "true" {
			t.Fatal("soffice is missing")
		}
		t.Skip("soffice is missing")
	}
	return path
}

// convert lets LibreOffice write workbooks in another format and returns the folder with what it wrote: book0, book1 and so on. One start
// of the program does them all, since starting takes most of the time.
func convert(t testing.TB, format string, books ...[]byte) string {
	t.Helper()
	soffice := office(t)
	dir := t.TempDir()
	out := filepath.Join(dir, "out")
	args := []string{"-env:UserInstallation=file://" + filepath.Join(dir, "profile"), "--headless", "--convert-to", format, "--outdir", out}
	for i, data := range books {
		in := filepath.Join(dir, fmt.Sprintf("book%d.xlsx", i))
		if err := os.WriteFile(in, data, 0o600); err != nil {
			t.Fatal(err)
		}
		args = append(args, in)
	}
	if text, err := exec.Command(soffice, args...).CombinedOutput(); err != nil {
		t.Fatalf("soffice: %v\n%s", err, text)
	}
	return out
}

// fill types into the form as a person would, by heading and sheet of the lab.
func fill(t testing.TB, lab *lab.Lab, data []byte, entries map[int]map[string]any) []byte {
	t.Helper()
	f := open(t, data)
	for sheet, cells := range entries {
		for c, title := range entryColumns(lab) {
			v, ok := cells[title]
			if !ok {
				continue
			}
			if err := f.SetCellValue(entrySheet, at(entryHead+1+sheet, c+1), v); err != nil {
				t.Fatal(err)
			}
		}
	}
	var out bytes.Buffer
	if err := f.Write(&out); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

// typed is what a person types, in the manners that people have.
func typed(lab *lab.Lab) map[int]map[string]any {
	spare := len(lab.Sheets) - 1
	return map[int]map[string]any{
		0:     {"repair": exampleRepair(lab), "step 1": "214KQ+", "step 2": "305HM-", "step 12": "001BB", "reasoning": 4, "safe": "yes"},
		1:     {"repair": strings.ToLower(exampleRepair(lab)), "step 1": "214 kq +", "step 2": "305hm\u2013", "safe": "No", "reasoning": "0"},
		2:     {"step 1": "21KQ+", "step 3": "214KQ+ 305HM-"},
		spare: {"id": "9001", "name": "Late Example", "repair": exampleRepair(lab), "step 1": "214BB+"},
	}
}

// wantRows is what show writes of the entries that typed makes: whatever the manner, the same steps.
func wantRows(lab *lab.Lab) string {
	r := exampleRepair(lab)
	last := len(lab.Sheets) - 1
	return fmt.Sprintf("0017|Testina Example|%s|%s|214KQ+ 305HM- 001BB|4|1\n", lab.Sheets[0].Code, r) +
		fmt.Sprintf("0018|%s|%s|%s|214KQ+ 305HM-|0|0\n", sampleName(1), lab.Sheets[1].Code, r) +
		fmt.Sprintf("0019|%s|%s||?21KQ+ 214KQ+ 305HM-|-1|-1\n", sampleName(2), lab.Sheets[2].Code) +
		fmt.Sprintf("9001|Late Example|%s|%s|214BB+|-1|-1\n", lab.Sheets[last].Code, r)
}

// show writes the rows in which something was entered, and checks that all others are there and empty.
func show(t testing.TB, lab *lab.Lab, rows []submission.Row) string {
	t.Helper()
	if len(rows) != len(lab.Sheets) {
		t.Errorf("%d rows read, %d sheets", len(rows), len(lab.Sheets))
	}
	var b strings.Builder
	for i, r := range rows {
		if i < len(lab.Sheets) {
			if s := lab.Sheets[i]; r.Sheet != s.Code || s.Student != "" && (r.Student != s.Student || r.Name != s.Name) {
				t.Errorf("row %d: %q %q %q, sheet is %q %q %q", i, r.Student, r.Name, r.Sheet, s.Student, s.Name, s.Code)
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
		fmt.Fprintf(&b, "%s|%s|%s|%s|%s|%d|%d\n", r.Student, r.Name, r.Sheet, r.Repair, strings.Join(steps, " "), r.Reasoning, r.Safe)
	}
	return b.String()
}

// A form is filled in and read, as it is and after another program has saved it, since most instructors use one that is not ours to test.
func TestEntryIsReadBack(t *testing.T) {
	lab := sampleLab(24)
	filled := fill(t, lab, entry(t, lab), typed(lab))
	check := func(name string, data []byte) {
		t.Helper()
		rows, remarks := submission.ReadWorkbook("entry.xlsx", data)
		if got, want := show(t, lab, rows), wantRows(lab); got != want {
			t.Errorf("%s\n got:\n%s\nwant:\n%s", name, got, want)
		}
		if len(remarks) != 1 || !strings.Contains(remarks[0].What, "21KQ+") {
			t.Errorf("%s: remarks %+v", name, remarks)
		}
	}
	check("as written", filled)
	again, err := os.ReadFile(filepath.Join(convert(t, "xlsx", filled), "book0.xlsx"))
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
	f := open(t, data)
	rules, err := f.GetDataValidations(entrySheet)
	if err != nil {
		t.Fatal(err)
	}
	lists := map[string]string{}
	for _, r := range rules {
		column, _, _ := strings.Cut(r.Sqref, "7:")
		lists[column] = r.Type + " " + html.UnescapeString(r.Formula1)
	}
	for column, want := range map[string]string{"E": "list repair_codes", "R": `list "0,1,2,3,4"`, "S": "list yes_or_no"} {
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
	for cell, locked := range map[string]bool{"A7": true, "D7": true, "E7": false, "Q7": false, "S7": false, "A31": false, "D31": true} {
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

// A form in which nobody has typed says that nothing was handed in, and nothing else, from no student to a whole school.
func TestEntryUntouched(t *testing.T) {
	for _, students := range []int{0, 1, 24, 2000} {
		lab := sampleLab(students)
		rows, remarks := submission.ReadWorkbook("entry.xlsx", entry(t, lab))
		if got := show(t, lab, rows); got != "" || len(remarks) > 0 {
			t.Errorf("%d students: rows %s, remarks %+v", students, got, remarks)
		}
		csv, err := EntryCSV(lab)
		if err != nil {
			t.Fatal(err)
		}
		rows, remarks = submission.ReadCSV("entry.csv", csv)
		if got := show(t, lab, rows); got != "" || len(remarks) > 0 {
			t.Errorf("%d students as CSV: rows %s, remarks %+v", students, got, remarks)
		}
	}
}
