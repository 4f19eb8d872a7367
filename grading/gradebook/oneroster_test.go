package gradebook

import (
	"archive/zip"
	"bytes"
	"encoding/csv"
	"io"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/rogpeppe/go-internal/txtar"

	"nospark/scenarios/roster"
)

// demo is invented.
func demo(version string) Package {
	day := func(d int) time.Time { return time.Date(2030, 2, d, 0, 0, 0, 0, time.UTC) }
	return Package{
		Version: version, TermID: "term-2030-spring",
		Lab: "week05", Title: "Lab 5, no spark", Description: "=not a formula here", Category: "Labs",
		ClassSourcedID: "c1", SchoolSourcedID: "s1", SessionSourcedID: "t1",
		Assigned: day(4), Due: day(4), Scored: day(5),
		Modified: time.Date(2030, 2, 5, 14, 30, 0, 0, time.FixedZone("", -5*3600)),
		Max:      100,
		Marks: []Mark{{StudentID: "u2", Value: 87.5, Has: true}, {StudentID: "u1", Value: 0, Has: true},
			{StudentID: "u3", Value: 55, Has: false}},
	}
}

// unzip returns the files of a package in their order.
func unzip(t *testing.T, data []byte) []txtar.File {
	t.Helper()
	r, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		t.Fatal(err)
	}
	var files []txtar.File
	for _, f := range r.File {
		rc, err := f.Open()
		if err != nil {
			t.Fatal(err)
		}
		content, err := io.ReadAll(rc) // checks the checksum
		if err != nil {
			t.Fatal(err)
		}
		rc.Close()
		files = append(files, txtar.File{Name: f.Name, Data: content})
	}
	return files
}

// The files differ from testdata in their line ends only: CR LF.
func TestPackageGolden(t *testing.T) {
	for _, version := range []string{"1.1", "1.2"} {
		data, err := demo(version).Zip()
		if err != nil {
			t.Fatal(err)
		}
		files := unzip(t, data)
		for i, f := range files {
			if n := bytes.Count(f.Data, []byte("\n")); n != bytes.Count(f.Data, []byte("\r\n")) ||
				!bytes.HasSuffix(f.Data, []byte("\r\n")) {
				t.Errorf("%s: not all lines end in CR LF", f.Name)
			}
			files[i].Data = bytes.ReplaceAll(f.Data, []byte("\r"), nil)
		}
		path := filepath.Join("testdata", "oneroster-"+version+".txtar")
		want, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		if got := txtar.Format(&txtar.Archive{Files: files}); string(got) != string(want) {
			t.Errorf("%s: got\n%s", path, got)
		}
	}
}

// Headings as published (1EdTech OneRoster CSV binding 1.2, and 1.1 where it
// differs), written out as one line each.
func TestHeadings(t *testing.T) {
	check := func(columns []string, want string) {
		t.Helper()
		if got := strings.Join(columns, ","); got != want {
			t.Errorf("got %s, want %s", got, want)
		}
	}
	check(lineItemColumns["1.2"],
		"sourcedId,status,dateLastModified,title,description,assignDate,dueDate,classSourcedId,categorySourcedId,academicSessionSourcedId,resultValueMin,resultValueMax,schoolSourcedId")
	check(lineItemColumns["1.1"],
		"sourcedId,status,dateLastModified,title,description,assignDate,dueDate,classSourcedId,categorySourcedId,gradingPeriodSourcedId,resultValueMin,resultValueMax")
	check(categoryColumns["1.2"], "sourcedId,status,dateLastModified,title,weight")
	check(categoryColumns["1.1"], "sourcedId,status,dateLastModified,title")
	check(resultColumns["1.2"],
		"sourcedId,status,dateLastModified,lineItemSourcedId,studentSourcedId,scoreStatus,score,scoreDate,comment,textScore,classSourcedId,inProgress,incomplete,late,missing")
	// From memory.
	check(resultColumns["1.1"],
		"sourcedId,status,dateLastModified,lineItemSourcedId,studentSourcedId,scoreStatus,score,scoreDate,comment")
}

// readTable reads a file by its headings, as a receiver would.
func readTable(t *testing.T, files []txtar.File, name string) []map[string]string {
	t.Helper()
	i := slices.IndexFunc(files, func(f txtar.File) bool { return f.Name == name })
	if i < 0 {
		t.Fatalf("no %s", name)
	}
	cells, err := csv.NewReader(bytes.NewReader(files[i].Data)).ReadAll()
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	var lines []map[string]string
	for _, c := range cells[1:] {
		line := map[string]string{}
		for k, heading := range cells[0] {
			line[heading] = c[k]
		}
		lines = append(lines, line)
	}
	return lines
}

// A receiver finds everything that a line refers to, and exactly the marks
// that there are.
func TestPackageReadsBack(t *testing.T) {
	for _, version := range []string{"1.1", "1.2"} {
		data, err := demo(version).Zip()
		if err != nil {
			t.Fatal(err)
		}
		files := unzip(t, data)
		if files[0].Name != "manifest.csv" {
			t.Errorf("%s: %s comes first", version, files[0].Name)
		}
		state := map[string]string{}
		for _, line := range readTable(t, files, "manifest.csv") {
			if name, ok := strings.CutPrefix(line["propertyName"], "file."); ok && line["value"] != "absent" {
				state[name+".csv"] = line["value"]
			}
		}
		for _, f := range files[1:] {
			if state[f.Name] != "delta" {
				t.Errorf("%s: the manifest calls %s %q", version, f.Name, state[f.Name])
			}
		}
		if len(state) != len(files)-1 {
			t.Errorf("%s: manifest %v, but there are %d files", version, state, len(files))
		}
		category := readTable(t, files, "categories.csv")[0]
		item := readTable(t, files, "lineItems.csv")[0]
		if item["categorySourcedId"] != category["sourcedId"] {
			t.Errorf("%s: category %q, want %q", version, item["categorySourcedId"], category["sourcedId"])
		}
		got := map[string]string{}
		for _, line := range readTable(t, files, "results.csv") {
			if line["lineItemSourcedId"] != item["sourcedId"] || line["status"] != "active" {
				t.Errorf("%s: result %v", version, line)
			}
			got[line["studentSourcedId"]] = line["score"]
		}
		if len(got) != 2 || got["u1"] != "0" || got["u2"] != "88" {
			t.Errorf("%s: marks %v", version, got)
		}
	}
}

// Our package of marks is no class list, and the reader of class lists says so.
func TestPackageIsNoClassList(t *testing.T) {
	data, err := demo("1.1").Zip()
	if err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "marks.zip")
	if err := os.WriteFile(path, data, 0o644); err != nil {
		t.Fatal(err)
	}
	_, err = roster.Read(path, roster.Options{})
	if err == nil || !strings.Contains(err.Error(), "classes.csv, enrollments.csv, users.csv missing") {
		t.Errorf("got %v", err)
	}
}

// The same marks give the same bytes, and the zip is one that every reader takes.
func TestPackageBytes(t *testing.T) {
	first, err := demo("1.2").Zip()
	if err != nil {
		t.Fatal(err)
	}
	turned := demo("1.2")
	slices.Reverse(turned.Marks)
	turned.Modified = turned.Modified.In(time.FixedZone("", 9*3600)) // the same instant
	second, err := turned.Zip()
	if err != nil || !bytes.Equal(first, second) {
		t.Errorf("another order of the marks gives other bytes (%v)", err)
	}
	r, err := zip.NewReader(bytes.NewReader(first), int64(len(first)))
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range r.File {
		// Bit 3: sizes follow the data. Readers of streams refuse that in
		// uncompressed files (PKWARE APPNOTE 4.4.4).
		if f.Method != zip.Store || f.Flags&8 != 0 {
			t.Errorf("%s: method %d, flags %#x", f.Name, f.Method, f.Flags)
		}
		if y := f.Modified.UTC().Year(); y != 1980 {
			t.Errorf("%s: year %d", f.Name, y)
		}
	}
}

// A second export corrects the first: same names, later date. Everything that
// is another thing has another name.
func TestSourcedIDs(t *testing.T) {
	names := func(p Package) (item, category string, results []string) {
		t.Helper()
		data, err := p.Zip()
		if err != nil {
			t.Fatal(err)
		}
		files := unzip(t, data)
		for _, line := range readTable(t, files, "results.csv") {
			results = append(results, line["sourcedId"])
		}
		return readTable(t, files, "lineItems.csv")[0]["sourcedId"],
			readTable(t, files, "categories.csv")[0]["sourcedId"], results
	}
	item, category, results := names(demo("1.2"))

	// Computed with Python: sha256 of the length-prefixed names, then the bits of
	// version and variant (RFC 9562, section 5.8).
	if want := "9fd2405d-b6e4-820f-84a8-343d5839302b"; item != want {
		t.Errorf("line item %s, want %s", item, want)
	}

	later := demo("1.2")
	later.Modified = later.Modified.Add(time.Hour)
	later.Title = "Lab 5, renamed"
	later.Marks = []Mark{{StudentID: "u1", Value: 50, Has: true}, {StudentID: "u2", Value: 90, Has: true}}
	item2, category2, results2 := names(later)
	if item2 != item || category2 != category || !slices.Equal(results2, results) {
		t.Error("a later export has other names")
	}

	differ := func(what string, change func(p *Package), sameCategory bool) {
		t.Helper()
		p := demo("1.2")
		change(&p)
		item2, category2, results2 := names(p)
		if item2 == item || slices.Contains(results, results2[0]) || (category2 == category) != sameCategory {
			t.Errorf("another %s: item %s, category %s, results %s", what, item2, category2, results2)
		}
	}
	differ("term", func(p *Package) { p.TermID = "term-2030-fall" }, false)
	differ("lab", func(p *Package) { p.Lab = "week06" }, true)
	differ("class", func(p *Package) { p.ClassSourcedID = "c2" }, true)
}

// Every error names what is wrong and comes without a package.
func TestPackageErrors(t *testing.T) {
	check := func(want string, change func(p *Package)) {
		t.Helper()
		p := demo("1.2")
		change(&p)
		data, err := p.Zip()
		if err == nil || !strings.Contains(err.Error(), want) || data != nil {
			t.Errorf("got %v, want an error with %q", err, want)
		}
	}
	check(`version "1.0", want 1.1 or 1.2`, func(p *Package) { p.Version = "1.0" })
	check("no sourcedId of the class", func(p *Package) { p.ClassSourcedID = "" })
	check("no sourcedId of the school", func(p *Package) { p.SchoolSourcedID = "" })
	check("no sourcedId of the grading period", func(p *Package) { p.SessionSourcedID = "" })
	check("no title", func(p *Package) { p.Title = "" })
	check("a date is missing", func(p *Package) { p.Modified = time.Time{} })
	check("due 2030-02-03, before it is assigned 2030-02-04", func(p *Package) { p.Due = p.Due.AddDate(0, 0, -1) })
	check("highest mark NaN", func(p *Package) { p.Max = math.NaN() })
	check(`mark of student "u2" is 88, want 0 to 50`, func(p *Package) { p.Max = 50 })
	check(`mark of student "u9" is -1, want 0 to 100`,
		func(p *Package) { p.Marks = []Mark{{StudentID: "u9", Value: -1, Has: true}} })
	check(`mark of student "u9" is NaN`, func(p *Package) {
		p.Marks = []Mark{{StudentID: "u9", Value: math.NaN(),
			Has: true}}
	})
	check(`student "u1" has two marks`, func(p *Package) {
		p.Marks = append(p.Marks, Mark{StudentID: "u1", Value: 3,
			Has: true})
	})
	check("a mark has no student", func(p *Package) { p.Marks = []Mark{{StudentID: "", Value: 3, Has: true}} })

	old := demo("1.1")
	old.SchoolSourcedID = ""
	if _, err := old.Zip(); err != nil {
		t.Errorf("1.1 needs no school: %v", err)
	}
}
