package gradebook

import (
	"encoding/csv"
	"math"
	"strings"
	"testing"

	"nospark/scenarios/tabular"
)

var marks = []Mark{{StudentID: "101", Value: 87.5, Has: true}, {StudentID: "102", Value: 0, Has: true},
	{StudentID: "103", Value: 0, Has: false}}

// fillCase is a template, the headings to look for, and what becomes of it with the marks above.
type fillCase struct {
	name, template, want string
	remarks              string // joined by a line feed
	id, mark             string // columns, "ID" and "Lab 5" if empty
}

// columns are the headings that a case looks for.
func (c fillCase) columns() (id, mark string) {
	if c.id == "" {
		return "ID", "Lab 5"
	}
	return c.id, c.mark
}

// Invented exports with the oddities that files of spreadsheets and gradebooks have: marks, line ends, quotes,
// encodings.
var fillCases = []fillCase{
	{name: "plain",
		template: "Student,ID,Lab 4,Lab 5\nAnn,101,90,\nBob,102,80,\nCy,103,70,\n",
		want:     "Student,ID,Lab 4,Lab 5\nAnn,101,90,88\nBob,102,80,0\nCy,103,70,\n"},
	{name: "everything else stays, however odd",
		template: "\ufeffsep=,\r\n\"Student\" , ID,\"Lab \"\"4\"\"\",\"Lab 5\",\"x\r\ny\"\r\nPoints " +
			"Possible,,100,100,\r\n" +
			" \"Ann, E\" , 101 ,\"90\",\"\", \"a\nb\" \r\n\r\nBo\"b,\"102\", 080,,=1+1\r\n,,,,\r\nCy,103,,55,",
		want: "\ufeffsep=,\r\n\"Student\" , ID,\"Lab \"\"4\"\"\",\"Lab 5\",\"x\r\ny\"\r\nPoints Possible,,100,100,\r\n" +
			" \"Ann, E\" , 101 ,\"90\",\"88\", \"a\nb\" \r\n\r\nBo\"b,\"102\", 080,0,=1+1\r\n,,,,\r\nCy,103,,55,",
		remarks: `line 10: "103" has no mark to transfer; "55" is left as it was`},
	{name: "CR alone, tabs",
		template: "ID\tLab 5\tx\r101\t\t1\r102\t\t2\r103\t\t3\r",
		want:     "ID\tLab 5\tx\r101\t88\t1\r102\t0\t2\r103\t\t3\r"},
	{name: "semicolons",
		template: "ID;Lab 5;a,b\n101;;1,5\n102;;2,5\n103;;\n",
		want:     "ID;Lab 5;a,b\n101;88;1,5\n102;0;2,5\n103;;\n"},
	{name: "short lines",
		template: "ID,a,b,Lab 5,c\n101\n102,\"x\"\r\n103,1\n",
		want:     "ID,a,b,Lab 5,c\n101,,,88\n102,\"x\",,0\r\n103,1\n"},
	{name: "marks replaced and missing lines told",
		template: "ID,Lab 5\n101,88\n102,12\n999,50\n",
		want:     "ID,Lab 5\n101,88\n102,0\n999,50\n",
		remarks: `line 3: mark of "102" was "12", now 0
line 4: id "999" is not a student of this lab; left as it was
student "103" has no line in the gradebook; there is no mark to transfer`},
	{name: "other headings; an apostrophe that protects nothing belongs to the id", id: "student id", mark: "LAB 5",
		template: "Student ID,Lab 5\n' 101,\n '102 ,\n103,\n",
		want:     "Student ID,Lab 5\n' 101,\n '102 ,\n103,\n",
		remarks: `line 2: id "' 101" is not a student of this lab; left as it was
line 3: id "'102" is not a student of this lab; left as it was
student "101" has no line in the gradebook; the mark is not transferred
student "102" has no line in the gradebook; the mark is not transferred`},
	{name: "Windows-1252", id: "Num\u00e9ro", mark: "Lab 5",
		template: "Num\xe9ro,Nom,Lab 5\n101,Zo\xeb,\n102,\x80,\n103,,\n",
		want:     "Num\xe9ro,Nom,Lab 5\n101,Zo\xeb,88\n102,\x80,0\n103,,\n"},
	{name: "exact heading goes before another case", id: "ID", mark: "lab 5",
		template: "ID,LAB 5,lab 5\n101,,\n102,,\n103,,\n",
		want:     "ID,LAB 5,lab 5\n101,,88\n102,,0\n103,,\n"},
}

// Marks go into their cells and nowhere else; filling again changes nothing.
func TestFillTemplate(t *testing.T) {
	for _, c := range fillCases {
		id, mark := c.columns()
		got, remarks, err := FillTemplate([]byte(c.template), Columns{ID: id, Mark: mark}, marks)
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		if string(got) != c.want {
			t.Errorf("%s: got\n%q\nwant\n%q", c.name, got, c.want)
		}
		if got := joinRemarks(remarks); got != c.remarks {
			t.Errorf("%s: remarks\n%s\nwant\n%s", c.name, got, c.remarks)
		}
		again, _, err := FillTemplate(got, Columns{ID: id, Mark: mark}, marks)
		if err != nil || string(again) != string(got) {
			t.Errorf("%s: filling again gives\n%q\n%v", c.name, again, err)
		}
	}
}

// joinRemarks writes remarks one a line.
func joinRemarks(remarks []Remark) string {
	var lines []string
	for _, r := range remarks {
		lines = append(lines, r.String())
	}
	return strings.Join(lines, "\n")
}

// What cannot be read with certainty is refused, by line, without output: a gradebook half filled is worse than none.
func TestFillTemplateErrors(t *testing.T) {
	check := func(name, template, want string, marks ...Mark) {
		t.Helper()
		got, remarks, err := FillTemplate([]byte(template), Columns{ID: "ID", Mark: "Lab 5"}, marks)
		if err == nil || err.Error() != want {
			t.Errorf("%s: got %v, want %s", name, err, want)
		}
		if got != nil || remarks != nil {
			t.Errorf("%s: an error comes with output", name)
		}
	}
	one := Mark{StudentID: "101", Value: 1, Has: true}
	check("empty", "", "the file is empty; the first line has to hold the headings")
	check("blank", "\n\n", "the file is empty; the first line has to hold the headings")
	check("no id", "\nNumber,Lab 5\n", `line 2: no column "ID"; there are ["Number" "Lab 5"]`)
	check("no mark", "ID,Lab 4\n", `line 1: no column "Lab 5"; there are ["ID" "Lab 4"]`)
	check("headings twice", "ID,Lab 5,Lab 5\n", `line 1: two columns are headed "Lab 5"; rename one of them`)
	check("id twice", "ID,Lab 5\n101,\n101 ,\n", `line 3: id "101" is already in line 2; remove one of them`, one)
	check("open quote", "ID,Lab 5\n101,\n\"102,\n", "line 3: a cell begins with a quote but does not end with one", one)
	check("text after quote", "ID,Lab 5\n\"101\"x,\n",
		`line 2: a quoted cell is followed by 'x' instead of the separator ','`, one)
	const damaged = "the file is damaged UTF-16; export it again, or save it as CSV, UTF-8"
	check("UTF-16 that ends inside a character", "\xff\xfeI\x00D", damaged)
	check("half of a pair", "\xff\xfeI\x00\x00\xd8D\x00", damaged)
	check("not text", "ID,Lab 5\n\x00", "the file is not text; save it as CSV, UTF-8")
	check("two marks", "ID,Lab 5\n", `student "a1" has two marks or no id`, Mark{StudentID: "A1", Value: 1, Has: true},
		Mark{StudentID: "a1", Value: 2, Has: true})
	check("no finite mark", "ID,Lab 5\n101,\n", `mark of student "101" is +Inf, want a finite number`,
		Mark{StudentID: "101", Value: math.Inf(1), Has: true})
	if _, _, err := FillTemplate([]byte("ID,x\n"), Columns{ID: "ID", Mark: "id"}, nil); err == nil ||
		!strings.Contains(err.Error(), "cannot hold both") {
		t.Errorf("one column for both: %v", err)
	}
}

// checkFill holds for every template: without marks nothing changes, and with
// them only bytes of cells in the mark column do.
func checkFill(t *testing.T, data, idColumn, markColumn string) {
	t.Helper()
	same, _, err := FillTemplate([]byte(data), Columns{ID: idColumn, Mark: markColumn, Worth: 100}, nil)
	if err != nil {
		return
	}
	if string(same) != data {
		t.Errorf("without marks %q becomes %q", data, same)
	}
	before, err := readTemplate([]byte(data), Columns{ID: idColumn, Mark: markColumn, Worth: 100})
	if err != nil {
		t.Fatal(err)
	}
	var marks []Mark
	seen := map[string]bool{}
	for _, l := range before.lines[1:] {
		if key := idKey(before.at(l, before.id)); key != "" && !before.isPoints(l) && !seen[key] {
			marks = append(marks, Mark{StudentID: before.at(l, before.id), Value: 77, Has: true})
			seen[key] = true
		}
	}
	filled, _, err := FillTemplate([]byte(data), Columns{ID: idColumn, Mark: markColumn, Worth: 100}, marks)
	if err != nil && strings.HasPrefix(err.Error(), "column ") { // it holds something else than marks
		return
	}
	if err != nil {
		t.Fatalf("%q: %v", data, err)
	}
	after, err := readTemplate(filled, Columns{ID: idColumn, Mark: markColumn, Worth: 100})
	if err != nil {
		t.Fatalf("%q becomes %q: %v", data, filled, err)
	}
	if len(after.lines) != len(before.lines) {
		t.Fatalf("%q becomes %q: %d lines were %d", data, filled, len(after.lines), len(before.lines))
	}
	for i, l := range before.lines {
		now := after.lines[i]
		isStudent := i > 0 && idKey(before.at(l, before.id)) != "" && !before.isPoints(l)
		for k := range max(len(l.cells), len(now.cells)) {
			was, is := before.at(l, k), after.at(now, k)
			switch {
			case isStudent && k == before.mark:
				if !sameNumber(is, "77") {
					t.Errorf("%q becomes %q: mark is %q", data, filled, is)
				}
			case was != is:
				t.Errorf("%q becomes %q: cell %q became %q", data, filled, was, is)
			case k < len(l.cells) && string(before.data[l.cells[k].start:l.cells[k].end]) !=
				string(after.data[now.cells[k].start:now.cells[k].end]):
				t.Errorf("%q becomes %q: bytes of cell %q changed", data, filled, was)
			}
		}
	}
}

// The property of the fuzz target, on the cases of the table.
func TestOnlyTargetCellsChange(t *testing.T) {
	for _, c := range fillCases {
		id, mark := c.columns()
		checkFill(t, c.template, id, mark)
	}
}

// Whatever a gradebook looks like, only the marks change.
func FuzzFillTemplate(f *testing.F) {
	for _, c := range fillCases {
		id, mark := c.columns()
		f.Add(c.template, id, mark)
	}
	f.Fuzz(func(t *testing.T, data, idColumn, markColumn string) {
		checkFill(t, data, idColumn, markColumn)
	})
}

// The standard library's reader is the oracle for the cells of well-formed
// files.
func FuzzSplit(f *testing.F) {
	for _, c := range fillCases {
		f.Add(c.template)
	}
	f.Fuzz(func(t *testing.T, data string) {
		// The oracle drops carriage returns and blank lines and keeps blanks.
		if strings.ContainsAny(data, "\r \t\v\f\u0085\u00a0") || strings.Contains("\n"+data+"\n", "\n\n") {
			return
		}
		r := csv.NewReader(strings.NewReader(data))
		r.FieldsPerRecord = -1
		want, err := r.ReadAll()
		if err != nil {
			return
		}
		lines, err := split([]byte(data), 0, ',')
		if err != nil || len(lines) != len(want) {
			t.Fatalf("%q: %d lines, %v, want %d", data, len(lines), err, len(want))
		}
		for i, l := range lines {
			if len(l.cells) != len(want[i]) {
				t.Fatalf("%q: line %d has %d cells, want %q", data, i, len(l.cells), want[i])
			}
			for k, c := range l.cells {
				if got := c.value([]byte(data)); got != strings.TrimSpace(want[i][k]) {
					t.Errorf("%q: cell %q, want %q", data, got, want[i][k])
				}
			}
		}
	})
}

// A table of our own is a template as well.
func TestFillOwnTable(t *testing.T) {
	data, err := CSV([]Row{{Mark{StudentID: "+101", Value: 0, Has: false}, "=Ann", "B", "blank"}})
	if err != nil {
		t.Fatal(err)
	}
	got, remarks, err := FillTemplate(data, Columns{ID: "id", Mark: "mark"},
		[]Mark{{StudentID: "+101", Value: 42, Has: true}})
	want := "id,name,section,mark,status\r\n'+101,'=Ann,B,42,blank\r\n"
	if err != nil || remarks != nil || string(got) != want {
		t.Errorf("got %q, %v, %v, want %q", got, remarks, err, want)
	}
	if tabular.Neutralize("=Ann") != "'=Ann" {
		t.Error("the sample no longer needs protection")
	}
}
