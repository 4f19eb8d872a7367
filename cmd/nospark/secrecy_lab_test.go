package main

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"nospark/grading"
	"nospark/grading/adjust"
	"nospark/grading/players"
	"nospark/grading/submission"
	"nospark/printouts/paper/debriefs"
	"nospark/printouts/paper/readings"
	"nospark/scenarios/draw"
	"nospark/scenarios/handout"
	"nospark/scenarios/lab"
	"nospark/scenarios/pack"
	"nospark/scenarios/pack/packtest"
	"nospark/scenarios/term"
	"nospark/scenarios/testrun"
	"nospark/scenarios/vehicle"
)

// alike gives the complaint that most faults of a pack have, and two of them.
func alike(t *testing.T, name string) (complaint string, faults [2]string) {
	t.Helper()
	p, err := pack.Load(name)
	if err != nil {
		t.Fatal(err)
	}
	m, err := vehicle.NewMatrix(p)
	if err != nil {
		t.Fatal(err)
	}
	of := make([][]string, len(p.Complaints))
	for _, r := range m.Rows {
		if r.Fault >= 0 && r.Complaint >= 0 && !slices.Contains(of[r.Complaint], p.Faults[r.Fault].ID) {
			of[r.Complaint] = append(of[r.Complaint], p.Faults[r.Fault].ID)
		}
	}
	most := 0
	for c := range of {
		if len(of[c]) > len(of[most]) {
			most = c
		}
	}
	return p.Complaints[most].ID, [2]string(of[most])
}

// twins builds two labs for every pack named that differ in nothing but the fault they hide, under one key, and hands
// over their folders. Each lab hides one fault in all its sheets, which begin with the complaint alone: known readings
// are part of the problem posed.
func twins(t *testing.T, packs []string, check func(t *testing.T, folders [2]string)) {
	testrun.Slow(t, "builds labs with every file")
	for _, name := range packs {
		t.Run(name, func(t *testing.T) {
			dir, _ := schoolTerm(t, 4)
			plan := func(file, more string) string {
				path := filepath.Join(dir, "plans", file+".toml")
				put(t, path, fmt.Sprintf("name = \"lab\"\ntitle = \"Lab\"\ndate = 2026-09-07\npack = %q\nspares = "+
					"1\nknown = 0\nlarge_print = [\"100002\"]\n%s", name, more))
				return path
			}
			complaint, faults := alike(t, name)
			folder := filepath.Join(dir, term.LabsFolder, "lab")
			var folders [2]string
			for i := range folders {
				nospark(t, "build", plan("one", fmt.Sprintf("complaint = %q\nfaults = [%q]\n", complaint, faults[i])))
				folders[i] = filepath.Join(dir, fmt.Sprint("twin", i))
				if err := os.Rename(folder, folders[i]); err != nil {
					t.Fatal(err)
				}
			}
			check(t, folders)
		})
	}
}

// Every byte that students get is the same whatever fault is hidden, the readings sheets apart, which the partners
// hold; so is the entry form. Who has the program and all of these files learns nothing.
func TestHandoutsAreTheSameForEveryFault(t *testing.T) {
	twins(t, packtest.Packs(t), func(t *testing.T, folders [2]string) {
		same, readings := 0, 0
		var names [2][]string
		for i, folder := range folders {
			for _, sub := range []string{"handouts", "partners", "entries"} {
				for _, path := range filesBelow(t, filepath.Join(folder, sub)) {
					names[i] = append(names[i], strings.TrimPrefix(path, folder))
				}
			}
		}
		if !slices.Equal(names[0], names[1]) {
			t.Fatalf("other files: %v and %v", names[0], names[1])
		}
		for _, name := range append(names[0], "/instructor/pairing.pdf") {
			var data [2][]byte
			for i, folder := range folders {
				var err error
				if data[i], err = os.ReadFile(folder + name); err != nil {
					t.Fatal(err)
				}
			}
			switch equal := bytes.Equal(data[0], data[1]); {
			case strings.HasPrefix(name, "/partners/"):
				readings++
				if equal {
					t.Errorf("%s is the same: the labs hide the same fault", name)
				}
			case !equal:
				t.Errorf("%s differs", name)
			default:
				same++
			}
		}
		// booklet, also in large print, worksheets, those of spares, entry form, pairing, page and text of the booklet,
		// pages and texts of five worksheets; the readings, those of spares, and pages and texts of five
		if same != 18 || readings != 12 {
			t.Errorf("%d files the same, %d readings", same, readings)
		}
	})
}

// What a classmate gets back is the same to the byte whatever fault is hidden on the own sheet, and so is the readings
// sheet of the classmate, both without the name of the fault on the own sheet.
func TestClassmatesDebriefTellsNothing(t *testing.T) {
	packs := []string{"lamp", "single-coil"}
	twins(t, packs[:testrun.Times(t, 2, 1)], func(t *testing.T, folders [2]string) {
		const own, mate = 0, 1
		var debrief, sheet [2][]byte
		var labs [2]*lab.Lab
		for i, folder := range folders {
			var err error
			if labs[i], err = lab.Read(labFile(folder)); err != nil {
				t.Fatal(err)
			}
		}
		for i := range labs { // the classmate's sheet is always that of the first lab
			labs[i].Sheets[mate] = labs[0].Sheets[mate]
		}
		if labs[0].Sheets[own].Truth == labs[1].Sheets[own].Truth {
			t.Fatal("the own sheet is the same")
		}
		for i, lab := range labs {
			class, err := players.New(lab)
			if err != nil {
				t.Fatal(err)
			}
			key := demoKey()
			var rows []submission.Row
			for s := range lab.Sheets[:4] {
				rows = append(rows, class.Play(s, skillOf(s), draw.New(key[:], "play", fmt.Sprint(s)).Intn))
			}
			result, err := grading.Grade(lab, rows, adjust.Decisions{})
			if err != nil {
				t.Fatal(err)
			}
			part := *result
			part.Students = part.Students[mate : mate+1]
			if part.Students[0].Status != grading.Graded {
				t.Fatalf("the classmate is %s", part.Students[0].Status)
			}
			if debrief[i], err = debriefs.PDF(lab, &part); err != nil {
				t.Fatal(err)
			}
			h, err := handout.Of(lab)
			if err != nil {
				t.Fatal(err)
			}
			h.Worksheets, h.Readings = h.Worksheets[mate:mate+1], h.Readings[mate:mate+1]
			if sheet[i], err = readings.PDF(h); err != nil {
				t.Fatal(err)
			}
		}
		if !bytes.Equal(debrief[0], debrief[1]) {
			t.Error("the classmate's debrief depends on the own fault")
		}
		if !bytes.Equal(sheet[0], sheet[1]) {
			t.Error("the classmate's readings depend on the own fault")
		}
	})
}

// A lab that was changed is named by everything that would build on it, and nothing is written; a lab of another term
// can be graded, says that its seal is not checkable here, and leaves no records.
func TestChangedLabIsNamed(t *testing.T) {
	dir, plan := schoolTerm(t, 2)
	nospark(t, "build", plan)
	folder := filepath.Join(dir, term.LabsFolder, "week01")
	handIn(t, folder)
	good, err := os.ReadFile(labFile(folder))
	if err != nil {
		t.Fatal(err)
	}
	lab, err := lab.Read(labFile(folder))
	if err != nil {
		t.Fatal(err)
	}
	line := lab.Sheets[0].Lines[0]
	for what, change := range map[string][2]string{
		"a reading": {fmt.Sprintf(`"n":%d,"l":%q,"r":%q`, line.Number, line.Letters, line.Reading),
			fmt.Sprintf(`"n":%d,"l":%q,"r":"99"`, line.Number, line.Letters)},
		"a name":   {`"name":"Student 0000"`, `"name":"Student 9999"`},
		"the seal": {`"seal":"` + lab.Seal[:8], `"seal":"` + strings.Repeat("0", 8)},
	} {
		bad := strings.Replace(string(good), change[0], change[1], 1)
		if bad == string(good) {
			t.Fatalf("%s is not in the lab", what)
		}
		put(t, labFile(folder), bad)
		before := listing(t, dir)
		if said := fails(t, "grade", folder); !strings.Contains(said,
			"lab.json: was changed after it was built; restore it from a copy") {
			t.Errorf("%s: grade says %q", what, said)
		}
		if said := fails(t, "build", plan); !strings.Contains(said, `lab "week01" was changed since it was built`) {
			t.Errorf("%s: build says %q", what, said)
		}
		if !slices.Equal(before, listing(t, dir)) {
			t.Errorf("%s: something was written", what)
		}
	}
	put(t, labFile(folder), string(good))
	nospark(t, "grade", folder)

	other := filepath.Join(t.TempDir(), "other")
	nospark(t, "new", other)
	moved := filepath.Join(other, term.LabsFolder, "week01")
	if err := os.CopyFS(moved, os.DirFS(folder)); err != nil {
		t.Fatal(err)
	}
	var said bytes.Buffer
	if got := run(t.Context(), []string{"grade", moved}, strings.NewReader(""), &said, &said); got != exitDone ||
		!strings.Contains(said.String(), "seal not checkable here: it is of another term") {
		t.Errorf("exit status %d: %s", got, said.String())
	}
	if list := filesBelow(t, filepath.Join(other, recordsFolder)); len(list) > 0 {
		t.Errorf("records of another term's lab: %v", list)
	}
	// The record of the first term, in the second.
	if err := os.CopyFS(filepath.Join(other, recordsFolder), os.DirFS(filepath.Join(dir, recordsFolder))); err != nil {
		t.Fatal(err)
	}
	if out := fails(t, "competency", other); !strings.Contains(out,
		"anybody could have written them, so they are left out") {
		t.Errorf("competency with another term's record says %q", out)
	}
	// And one of the own term, with a mark made better.
	records, err := filepath.Glob(filepath.Join(dir, recordsFolder, "*.json"))
	if err != nil || len(records) == 0 {
		t.Fatalf("records %v, %v", records, err)
	}
	for _, path := range records {
		data, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		changed := strings.Replace(string(data), `"worked":true`, `"worked":false`, 1)
		if changed == string(data) {
			t.Fatalf("nobody worked in %s", path)
		}
		put(t, path, changed)
		if said := fails(t, "competency", dir); !strings.Contains(said, filepath.Base(path)+": ") ||
			!strings.Contains(said, "changed since it was written") {
			t.Errorf("competency with a changed record says %q", said)
		}
	}
}
