package gradebook

import (
	"bytes"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"nospark/scenarios/roster"
)

// All students are invented.
var rows = []Row{
	{Mark{StudentID: "A1", Value: 97, Has: true}, "Ann Example", "B", "graded"},
	{Mark{StudentID: "A2", Value: 0, Has: true}, "Sample, Bob", "B", "graded"},
	{Mark{StudentID: "A3", Value: 0, Has: false}, "=HYPERLINK(\"http://x.example\")", "+B", "blank"},
	{Mark{StudentID: "@4", Value: 66.666666, Has: true}, "Cy \"Sparky\" Case", "MW 8:00", "provisional"},
}

// The table as people get it: a missing mark is blank, a zero is a zero, and no name is a formula.
func TestCSV(t *testing.T) {
	got, err := CSV(rows)
	want := "id,name,section,mark,status\r\n" +
		"A1,Ann Example,B,97,graded\r\n" +
		"A2,\"Sample, Bob\",B,0,graded\r\n" +
		"A3,\"'=HYPERLINK(\"\"http://x.example\"\")\",'+B,,blank\r\n" +
		"'@4,\"Cy \"\"Sparky\"\" Case\",MW 8:00,67,provisional\r\n"
	if err != nil || string(got) != want {
		t.Errorf("got\n%s\n%v, want\n%s", got, err, want)
	}
	got, err = CSV([]Row{{Mark{StudentID: "A1", Value: 5, Has: true}, "Zo\u00eb", "B", "graded"}})
	want = "\ufeffid,name,section,mark,status\r\nA1,Zo\u00eb,B,5,graded\r\n"
	if err != nil || string(got) != want {
		t.Errorf("beyond ASCII: got %q, %v, want %q", got, err, want)
	}
	if _, err := CSV([]Row{{Mark: Mark{StudentID: "A1", Value: math.NaN(), Has: true}}}); err == nil ||
		!strings.Contains(err.Error(), `"A1" is NaN`) {
		t.Errorf("NaN: %v", err)
	}
}

// What we write as a table can serve as a class list again, with the names as
// they were.
func TestCSVReadsBackAsClassList(t *testing.T) {
	data, err := CSV(rows)
	if err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "gradebook.csv")
	if err := os.WriteFile(path, data, 0o644); err != nil {
		t.Fatal(err)
	}
	r, err := roster.Read(path, roster.Options{})
	if err != nil || len(r.Students) != len(rows) {
		t.Fatalf("%d students, %v", len(r.Students), err)
	}
	for i, s := range r.Students {
		if s.ID != rows[i].StudentID || s.Name != rows[i].Name || s.Section != rows[i].Section {
			t.Errorf("got %+v, want %+v", s, rows[i])
		}
	}
}

// Whole points, rounded at the half, at its edges one representable number apart.
func TestFormatMark(t *testing.T) {
	check := func(value float64, want string) {
		t.Helper()
		if got, err := formatMark(Mark{Value: value, Has: true}); got != want || err != nil {
			t.Errorf("%v: got %q, %v, want %q", value, got, err, want)
		}
	}
	check(0, "0")
	check(math.Copysign(0, -1), "0")
	check(-0.001, "0")
	check(100, "100")
	check(87.5, "88")
	check(math.Nextafter(87.5, 0), "87")
	check(1.0/3, "0")
	check(99.5, "100")
	check(-2.5, "-3")
	check(1e6, "1000000")
	if got, err := formatMark(Mark{Value: math.Inf(1)}); got != "" || err != nil {
		t.Errorf("a missing mark is written as %q, %v", got, err)
	}
}

// No reordering, no hidden state: the same rows give the same bytes.
func TestCSVIsDeterministic(t *testing.T) {
	a, _ := CSV(rows)
	b, _ := CSV(rows)
	if !bytes.Equal(a, b) {
		t.Error("two runs differ")
	}
}
