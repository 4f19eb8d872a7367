package signing

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"nospark/grading/competency"
	"nospark/grading/competency/lists"
	"nospark/grading/evidence"
	"nospark/grading/submission"
	"nospark/printouts/workbook/workbooktest"
	"nospark/scenarios/tabular"
	"nospark/scenarios/term"
)

// class is an invented class in which everybody has the evidence for three competencies, and the last student for one
// of them only with the latest missed.
func class(students int) *competency.Term {
	t := &competency.Term{Competencies: evidence.Table()[:3]}
	t.Term = term.Term{Program: "Automotive Technology", Paper: "letter", Mastery: term.Mastery{Met: 4, Of: 5,
		Faults: 1, Packs: 1, Labs: 1, Signed: true},
		Signers: []string{"AQ", "B. Ostrow"}}
	for i := range students {
		s := competency.Student{ID: fmt.Sprintf("%05d", i+17), Name: fmt.Sprintf("Example %c. Student-Longname",
			'A'+i%26), Section: "A"}
		for c := range t.Competencies {
			x := competency.Standing{Status: competency.ToSign, Window: 5, MetInWindow: 4, Faults: 3}
			for k := range 6 {
				met := k != 0 && (i+1 < students || c > 0 || k != 5)
				x.Opportunities = append(x.Opportunities, competency.Opportunity{
					Record: &evidence.Record{Date: fmt.Sprintf("2026-09-%02d", k+1), Pack: "p", Lab: fmt.Sprint(k)},
					Entry:  &evidence.Entry{Fault: fmt.Sprint(k)}, Evidence: &evidence.Item{Met: met}})
			}
			s.Standings = append(s.Standings, x)
		}
		t.Students = append(t.Students, s)
	}
	return t
}

// read reads a form back as the command does.
func read(t *testing.T, data []byte) string {
	t.Helper()
	cells, err := submission.Worksheet(data, lists.SignSheet)
	if err != nil {
		t.Fatal(err)
	}
	var rows []tabular.Row
	for i, c := range cells {
		rows = append(rows, tabular.Row{Line: i + 1, Cells: c})
	}
	list, look := lists.ParseSignOffs("f", rows)
	var b strings.Builder
	for _, s := range list {
		fmt.Fprintf(&b, "%s %s %s %s %s\n", s.Place, s.Student, s.Competency, s.Date, s.By)
	}
	for _, p := range look {
		fmt.Fprintf(&b, "%s: %s\n", p.Place, p.What)
	}
	return b.String()
}

// A form says nothing as it is; filled in, with real dates, it is read as it was written and after LibreOffice has
// saved it.
func TestFormIsReadBack(t *testing.T) {
	data, err := Form(class(3), "2026-12-04")
	if err != nil {
		t.Fatal(err)
	}
	if got := read(t, data); got != "" {
		t.Errorf("an empty form says\n%s", got)
	}
	f := workbooktest.Open(t, data)
	for cell, value := range map[string]any{
		"H8": "yes", "I8": "AQ", "J8": time.Date(2026, 12, 4, 0, 0, 0, 0, time.UTC),
		"H9": "yes", "I9": "AQ", "J9": "12/4/2026", // typed as text
		"H10": "not yet", "I11": "AQ", "H12": "yes", "I12": "AQ",
	} {
		if err := f.SetCellValue(lists.SignSheet, cell, value); err != nil {
			t.Fatal(err)
		}
	}
	buffer, err := f.WriteToBuffer()
	if err != nil {
		t.Fatal(err)
	}
	want := "f:8 00017 source-voltage 2026-12-04 AQ\nf:9 00017 voltage-drop 2026-12-04 AQ\n" +
		"f:11: has initials, but nothing in the column sign\nf:12: date is missing\n"
	if got := read(t, buffer.Bytes()); got != want {
		t.Errorf("got\n%swant\n%s", got, want)
	}
	again, err := os.ReadFile(filepath.Join(workbooktest.Convert(t, "xlsx", buffer.Bytes()), "book0.xlsx"))
	if err != nil {
		t.Fatal(err)
	}
	if got := read(t, again); got != want {
		t.Errorf("saved by LibreOffice: got\n%swant\n%s", got, want)
	}
	checkHelp(t, data)
	checkHelp(t, again)
}

// checkHelp finds the lists, the days as numbers with a format, and what may be typed into.
func checkHelp(t *testing.T, data []byte) {
	t.Helper()
	f := workbooktest.Open(t, data)
	rules, err := f.GetDataValidations(lists.SignSheet)
	if err != nil {
		t.Fatal(err)
	}
	inColumn := map[string]string{}
	for _, r := range rules {
		column, _, _ := strings.Cut(r.Sqref, "8:")
		inColumn[column] = r.Formula1
	}
	if inColumn["H"] != answersName || inColumn["I"] != signersName {
		t.Errorf("lists %v", inColumn)
	}
	style, err := f.GetCellStyle(lists.SignSheet, "G8")
	if err != nil {
		t.Fatal(err)
	}
	day, err := f.GetStyle(style)
	if err != nil || day.CustomNumFmt == nil || strings.ReplaceAll(*day.CustomNumFmt, `\`, "") != "yyyy-mm-dd" {
		t.Errorf("the day is shown as %+v, %v", day, err)
	}
	for cell, locked := range map[string]bool{"A8": true, "G8": true, "H8": false, "I8": false, "J8": false} {
		id, err := f.GetCellStyle(lists.SignSheet, cell)
		if err != nil {
			t.Fatal(err)
		}
		style, err := f.GetStyle(id)
		if err != nil || style.Protection == nil || style.Protection.Locked != locked {
			t.Errorf("%s: %+v, %v", cell, style.Protection, err)
		}
	}
}

// Everything that lacks the signature alone stands on the form, with the day from which it may be signed, and nothing
// else does.
func TestFormRows(t *testing.T) {
	c := class(2)
	c.Students[0].Standings[1].Status = competency.NotYet
	got := ""
	for _, r := range rows(c) {
		got += fmt.Sprintf("%s|%s|%s|%s|%s\n", r.id, r.competency, r.met, r.history, r.since)
	}
	want := "00017|Source voltage|4 of the last 5, 3 faults|✗✓✓✓✓✓|2026-09-05\n" +
		"00017|Ground tests (integrity)|4 of the last 5, 3 faults|✗✓✓✓✓✓|2026-09-05\n" +
		"00018|Source voltage|4 of the last 5, 3 faults|latest missed ✗✓✓✓✓✗|2026-09-05\n" +
		"00018|Voltage drop tests|4 of the last 5, 3 faults|✗✓✓✓✓✓|2026-09-05\n" +
		"00018|Ground tests (integrity)|4 of the last 5, 3 faults|✗✓✓✓✓✓|2026-09-05\n"
	if got != want {
		t.Errorf("got\n%swant\n%s", got, want)
	}
	for i := range c.Students {
		for k := range c.Students[i].Standings {
			c.Students[i].Standings[k].Status = competency.Competent
		}
	}
	data, err := Form(c, "2026-12-04")
	if err != nil || !strings.Contains(workbooktest.Value(t, workbooktest.Open(t, data), lists.SignSheet, "A8"),
		"nothing to sign") {
		t.Errorf("nobody to sign for: %v", err)
	}
}
