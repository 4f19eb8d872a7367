package main

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"nospark/grading/attempt/journal"
	"nospark/scenarios/roster"
	"nospark/scenarios/testrun"
)

// someone is a student of the tests below: 0101, whom a spreadsheet makes 101, and nobody else is that.
func someone() *studentIn {
	return &studentIn{ids: []string{"0101"}, bare: map[string]bool{roster.BareID("0101"): true}}
}

// TestWithoutLines: the student's lines go and no other byte changes, whatever the separators, line ends and quotes; in
// a lab's list their ends stay, so that all others keep their numbers; a
// number in a column that tells nobody apart is no id.
func TestWithoutLines(t *testing.T) {
	check := func(text, want string, gone int) {
		t.Helper()
		kept, lines, err := someone().withoutLines([]byte(text), []string{"K7-PTX"})
		if want == "" {
			if kept != nil || len(lines) != 0 || err != nil {
				t.Errorf("%q: got %q, %q, %v; want nothing", text, kept, lines, err)
			}
			return
		}
		if err != nil || string(kept) != want || len(lines) != gone {
			t.Errorf("%q: got %q, %d lines, %v; want %q", text, kept, len(lines), err, want)
		}
	}
	check("id,name\n0101,Ann\n0102,Bo\n", "id,name\n\n0102,Bo\n", 1)
	check("id;name\r\n0102;Bo\r\n101;Ann", "id;name\r\n0102;Bo\r\n", 1)
	check("id,row,column\n7,0101,101\n", "", 0)
	check("id,reason\n0102,\"two\nlines\"\n0101,\"two\nmore\"\n0103,x\n", "id,reason\n0102,\"two\nlines\"\n\n\n0103,x\n", 1)
	check("sheet,repair\nk7-ptx,12HM\nB3-QJZ,12HM\n", "sheet,repair\n\nB3-QJZ,12HM\n", 1)
	check("id,sheet\n0102,K7-PTX\n", "", 0) // somebody else on the own sheet
	check("old,id\nx,0101\n0101,y\nz,0102\n", "old,id\n\n\nz,0102\n", 2)
	check("\xff\xfei\x00d\x00\n\x000\x001\x000\x001\x00\n\x007\x00\n\x00", "id\n\n7\n", 1)
	check("name\xe9,id\nZo\xeb,0101\nZo\xeb,7\n", "name\xe9,id\n\nZo\xeb,7\n", 1)
	check("", "", 0)

	kept, blocks := someone().withoutBlocks([]byte("# mine\n[[excuse]]\nstudent = \"0101\"\nreason = \"ill\"\n\n"+
		"[[mark]]\nstudent = \"0102\"\nvalue = 7\nreason = \"0101 helped\"\n[[worked]]\nsheet = 'K7-PTX'\n"),
		[]string{"K7-PTX"})
	if len(blocks) != 2 || string(kept) != "# mine\n[[mark]]\nstudent = \"0102\"\nvalue = 7\nreason = \"0101 helped\"\n" {
		t.Errorf("blocks %q, kept %q", blocks, kept)
	}
}

// FuzzWithoutLines: what is left of a list is the list without whole lines, and none of the student's is left.
func FuzzWithoutLines(f *testing.F) {
	f.Add([]byte("id,name\n0101,Ann\n0102,Bo\n"))
	f.Add([]byte("sep=;\r\nid;x\r\n101;\"a\r\nb\"\r\n"))
	f.Fuzz(func(t *testing.T, data []byte) {
		kept, gone, err := someone().withoutLines(data, nil)
		if err != nil || len(gone) == 0 {
			return
		}
		if len(kept) >= 2*len(data)+8 {
			t.Errorf("%d bytes from %d", len(kept), len(data))
		}
		if _, again, err := someone().withoutLines(kept, nil); err == nil && len(again) > 0 {
			t.Errorf("%q: still there: %q", data, again)
		}
	})
}

// TestEraseFromTheBench: the events of the student's sheets go from the journal, those of others stay and give the same
// mark, and the export has what goes.
func TestEraseFromTheBench(t *testing.T) {
	testrun.Slow(t, "builds labs and serves them")
	folder, l, g := benchTerm(t, "title = \"A lamp\"\ndate = 2026-09-07\npack = \"lamp\"\n", 3)
	w, c, err := journal.Open(folder, g.journalOf())
	if err != nil {
		t.Fatal(err)
	}
	h, err := newHouse(t.Context(), folder, g, w, c.Room, serving{}, address(t), address(t))
	if err != nil {
		t.Fatal(err)
	}
	for n := range 4 { // in turn
		s := &l.Sheets[n%2]
		h.bench.Do(post(s.Code, 1, "/steps", "key", fmt.Sprint(n), "test", l.Tests[n/2].ID, "expect",
			fmt.Sprintf("guess of %s", s.Code)))
		h.bench.Do(post(s.Code, 1, fmt.Sprintf("/steps/%d/verdict", n/2+1), "good", "yes"))
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	gone, stays := l.Sheets[0], l.Sheets[1]
	dir := filepath.Dir(filepath.Dir(folder))
	command(t, exitDone, "grade", folder)
	out := filepath.Join(t.TempDir(), "out")
	command(t, exitDone, "export", dir, gone.Student, "--out", out)
	events, err := os.ReadFile(filepath.Join(out, "labs", "week01", "bench.json"))
	if err != nil || strings.Count(string(events), `"kind"`) != 4 || bytes.Contains(events, []byte(stays.Code)) {
		t.Errorf("bench.json: %v\n%s", err, events)
	}
	said := command(t, exitDone, "erase", dir, gone.Student, "--really")
	if !strings.Contains(said, "4 events; the others are chained anew") ||
		!strings.Contains(said, "the marks of 2 others were compared") || strings.Contains(said, "look why") {
		t.Errorf("erase says %s", said)
	}
	data, err := os.ReadFile(filepath.Join(folder, filepath.FromSlash(journal.File)))
	if err != nil || bytes.Contains(data, []byte(gone.Code)) || strings.Count(string(data), "guess of "+stays.Code) != 2 {
		t.Errorf("the journal: %v\n%s", err, data)
	}
	after, err := journal.Read(folder, g.journalOf())
	if err != nil || after.Lines != 4 || !after.Checked {
		t.Errorf("%d lines, %v", after.Lines, err)
	}
}
