package competency

import (
	"errors"
	"fmt"
	"io/fs"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"nospark/grading"
	"nospark/scenarios/term"
)

// rec makes a record from lines like "1001 Ann: ground-integrity+ proof-".
func rec(lab, date, section string, lines ...string) *Record {
	r := &Record{Format: Format, Program: "Automotive Technology", Term: "test-term-1", Lab: lab, Title: "Lab " + lab, Date: date, Section: section, Pack: "lamp",
		Version: 1, Reference: 30, Students: []Entry{}}
	for i, line := range lines {
		who, what, _ := strings.Cut(line, ":")
		id, name, _ := strings.Cut(who, " ")
		e := Entry{Student: id, Name: name, Sheet: fmt.Sprintf("K%d-BCD", i+2), Status: grading.Graded, Worked: true, Mark: 50, Fault: "lamp-open", Repair: "replace-lamp",
			Evidence: []Evidence{}}
		for _, word := range strings.Fields(what) {
			switch kind, sign := word[:len(word)-1], word[len(word)-1:]; sign {
			case "+", "-":
				e.Evidence = append(e.Evidence, Evidence{Competency: kind, Met: sign == "+", Step: 1, Test: "volts", Why: "because"})
			default:
				e.Status, e.Worked, e.Evidence = grading.Status(word), word == "provisional", []Evidence{}
			}
		}
		r.Students = append(r.Students, e)
	}
	return r
}

// gather seals records and reads them as files named 0.json, 1.json, ...
func gather(t testing.TB, o Options, records ...*Record) *Term {
	t.Helper()
	if o.Term.ID == "" {
		o.Term = testTerm()
	}
	key := testKey()
	o.Key = &key
	var files []File
	for i, r := range records {
		files = append(files, File{fmt.Sprintf("%02d.json", i), encode(t, r)})
	}
	return Gather(files, o)
}

// standing finds a student's standing.
func standing(t testing.TB, term *Term, student, competency string) Standing {
	t.Helper()
	c := find(term.Competencies, competency)
	for _, s := range term.Students {
		if s.ID == student && c >= 0 {
			return s.Standings[c]
		}
	}
	t.Fatalf("no standing of %s in %s", student, competency)
	return Standing{}
}

// TestMastery counts a small term by hand: 4 of the last 5 from at least 3 labs, and signed.
func TestMastery(t *testing.T) {
	check := func(name, signs string, signed bool, want string) {
		t.Helper()
		var records []*Record
		for i, c := range signs {
			records = append(records, rec(fmt.Sprintf("week%02d", i+1), fmt.Sprintf("2026-09-%02d", i+1), "A", "1001 Ann: ground-integrity"+string(c)))
		}
		var o Options
		if signed {
			o.SignOffs = []SignOff{{Student: "1001", Competency: "ground-integrity", Date: "2026-12-01", By: "Instructor"}}
		}
		s := standing(t, gather(t, o, records...), "1001", "ground-integrity")
		got := fmt.Sprintf("%s, %d/%d of %d, %s, %s", s.Status, s.MetInWindow, s.Window, len(s.Opportunities), s.Direction, s.History(10))
		if got != want {
			t.Errorf("%s:\n got %s\nwant %s", name, got, want)
		}
	}
	check("four are too few", "++++", true, "too few, 4/4 of 4, steady, ✓✓✓✓")
	check("five of five, signed", "+++++", true, "competent, 5/5 of 5, steady, ✓✓✓✓✓")
	check("five of five, not signed", "+++++", false, "to be signed, 5/5 of 5, steady, ✓✓✓✓✓")
	check("four of five", "-++++", true, "competent, 4/5 of 5, better, ✗✓✓✓✓")
	check("three of five", "-+-++", true, "not yet, 3/5 of 5, better, ✗✓✗✓✓")
	check("the last five count", "---+++++", true, "competent, 5/5 of 8, better, ✗✗✗✓✓✓✓✓")
	check("what was competent can be lost", "+++++--", true, "not yet, 3/5 of 7, worse, ✓✓✓✓✓✗✗")
	check("three say no direction", "-++", true, "too few, 2/3 of 3, too few to say, ✗✓✓")
	check("of an odd number the middle one is left out", "-+--+", true, "not yet, 2/5 of 5, steady, ✗✓✗✗✓")
}

// TestMasteryRules changes the rule.
func TestMasteryRules(t *testing.T) {
	check := func(rule term.Mastery, want Status, why string) {
		t.Helper()
		term := testTerm()
		term.Mastery = rule
		s := standing(t, gather(t, Options{Term: term},
			rec("week01", "2026-09-01", "A", "1001 Ann: proof+"), rec("week02", "2026-09-08", "A", "1001 Ann: proof+"), rec("week03", "2026-09-15", "A", "1001 Ann: proof-")),
			"1001", Proof)
		if s.Status != want || s.Why(rule) != why {
			t.Errorf("%+v: %s (%s), want %s (%s)", rule, s.Status, s.Why(rule), want, why)
		}
	}
	check(term.Mastery{Met: 2, Of: 3, Labs: 3}, Competent, "")
	check(term.Mastery{Met: 2, Of: 3, Labs: 3, Signed: true}, ToSign, "signature of the instructor; the latest was missed")
	check(term.Mastery{Met: 3, Of: 3, Labs: 1}, NotYet, "2 of the last 3 met, 3 are needed")
	check(term.Mastery{Met: 1, Of: 2, Labs: 3}, NotYet, "the last 2 come from 2 labs, 3 are needed")
	check(term.Mastery{Met: 1, Of: 5, Labs: 1}, TooLittle, "2 more opportunities")
	check(term.Mastery{Met: 3, Of: 5, Labs: 1}, TooLittle, "2 more opportunities, at least 1 met")
	check(term.Mastery{Met: 4, Of: 5, Labs: 1}, TooLittle, "2 more opportunities, all met")
	check(term.Mastery{Met: 5, Of: 5, Labs: 1}, TooLittle, "2 more opportunities, and 5 of the last 5 must be met")
	check(term.Mastery{Met: 3, Of: 4, Labs: 1}, TooLittle, "1 more opportunity, met")
	check(term.Mastery{Met: 4, Of: 4, Labs: 1}, TooLittle, "1 more opportunity, and 4 of the last 4 must be met")
	check(term.Mastery{Met: 2, Of: 2, Labs: 1}, NotYet, "1 of the last 2 met, 2 are needed")
}

// TestTrend: 1, 0, 1 with .65 of the latest: .35, then .35 x .35 + .65 = .7725.
func TestTrend(t *testing.T) {
	s := standing(t, gather(t, Options{}, rec("a", "2026-09-01", "A", "1: proof+"), rec("b", "2026-09-02", "A", "1: proof-"), rec("c", "2026-09-03", "A", "1: proof+")), "1", Proof)
	if math.Abs(s.Trend-.7725) > 1e-12 {
		t.Errorf("trend %v, want .7725", s.Trend)
	}
}

// problems writes what is to be looked at, one line each.
func problems(term *Term) string {
	var text strings.Builder
	for _, p := range term.Problems {
		fmt.Fprintf(&text, "%s: %s\n", p.Place, p.What)
	}
	return text.String()
}

// TestGatherTolerates mixes good files with bad ones: each is told and none stops the rest.
func TestGatherTolerates(t *testing.T) {
	key := testKey()
	good := rec("week01", "2026-09-01", "A", "1001 Ann: proof+")
	other := rec("week02", "2026-09-08", "A", "1001 Ann: proof+")
	other.Term = "another-term"
	files := []File{
		{"b.json", encode(t, good)},
		{"a.json", encode(t, good)},
		{"c.json", encode(t, other)},
		{"d.json", encode(t, rec("week03", "2026-09-15", "A", "1001 Ann: proof+"))[:200]},
		{"e.json", []byte(strings.Replace(string(encode(t, rec("week04", "2026-09-22", "A", "1001 Ann: proof-"))), `"met":false`, `"met":true`, 1))},
		{"f.json", []byte(`{"format":7}`)},
		{"g.json", []byte("PK\x03\x04")},
		{"h.json", encode(t, rec("week05", "2026-09-29", "A", "1001 Ann: proof-"))},
	}
	term := Gather(files, Options{Term: testTerm(), Key: &key})
	want := `b.json: speaks of lab week01, section "A" of the same term as a.json
d.json: ends before its end; grade the lab again, or restore the file from a copy
e.json: changed since it was written
f.json: has format 7, this program knows formats up to 1; use the newer nospark that wrote it
g.json: line 1: not a record: invalid character 'P' looking for beginning of value; grade the lab again, or restore the file from a copy
c.json: is of term another-term, which term.toml does not name: not checkable here and left out
`
	if got := problems(term); got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
	if s := standing(t, term, "1001", Proof); s.History(10) != "✓✗" {
		t.Errorf("history %s", s.History(10))
	}
	if term = Gather(files, Options{Term: testTerm()}); strings.Contains(problems(term), "changed") || term.Students[0].Code != "" {
		t.Errorf("without a key: code %q, problems\n%s", term.Students[0].Code, problems(term))
	}
}

// TestSameStudent follows a student through sections, names and two rows of one lab.
func TestSameStudent(t *testing.T) {
	term := gather(t, Options{},
		rec("week01", "2026-09-01", "A", "1001 Ann Example: proof+", "1002 Bo: proof+"),
		rec("week01", "2026-09-01", "B", "1001 Ann Example: proof-", "1003 Cy: blank"),
		rec("week02", "2026-09-08", "B", "1001 ANN  Example: proof+", "1002 Dee: proof-"),
		rec("week03", "2026-09-15", "B", "1001 Ann Married: proof-", "1002 Eve: provisional"))
	want := `01.json: student 1001 is in lab week01 twice, also in 00.json
02.json: id 1002 is "Dee" here and "Bo" in 00.json; counted as one student
03.json: id 1001 is "Ann Married" here and "Ann Example" in 00.json; counted as one student
`
	if got := problems(term); got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
	var list []string
	for _, s := range term.Students {
		list = append(list, fmt.Sprintf("%s %s %s %d %d %d", s.ID, s.Name, s.Section, s.Sheets, s.Waiting, s.Missing))
	}
	if got := strings.Join(list, "; "); got != "1001 Ann Married B 3 0 0; 1003 Cy B 0 0 1; 1002 Eve B 3 1 0" {
		t.Errorf("students %s", got)
	}
	if s := standing(t, term, "1001", Proof); s.History(10) != "✓✓✗" {
		t.Errorf("history %s", s.History(10))
	}
}

// TestSigning matches signatures to students, also by an id whose leading zeros a spreadsheet has lost.
func TestSigning(t *testing.T) {
	sign := func(place, student, competency, date string) SignOff {
		return SignOff{Place: place, Student: student, Competency: competency, Date: date, By: "Instructor"}
	}
	rule := testTerm()
	rule.Mastery = term.Mastery{Met: 1, Of: 1, Labs: 1, Signed: true}
	term := gather(t, Options{Term: rule, SignOffs: []SignOff{
		sign("s.csv:2", "17", Proof, "2026-12-01"), sign("s.csv:3", "0017", Proof, "2026-11-01"), sign("s.csv:4", "ab1", Economy, "2026-12-01"),
		sign("s.csv:5", "9", Proof, "2026-12-01"), sign("s.csv:6", "555", Proof, "2026-12-01"), sign("s.csv:7", "AB1", "welding", "2026-12-01"),
	}}, rec("week01", "2026-09-01", "A", "0017 Ann: proof+", "AB1 Bo: economy+", "09 Cy: proof+", "009 Dee: proof+"))
	if s := standing(t, term, "0017", Proof); s.Signed == nil || s.Signed.Date != "2026-12-01" {
		t.Errorf("0017: %+v", s.Signed)
	}
	if s := standing(t, term, "AB1", Economy); s.Signed == nil {
		t.Error("AB1 is not signed")
	}
	want := `s.csv:5: id "9" fits several students
s.csv:6: no record speaks of student "555"
s.csv:7: there is no competency "welding"
`
	if got := problems(term); got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
}

// A signature counts when the evidence was there on its day, the day has come, and who signed may.
func TestSignaturesAreChecked(t *testing.T) {
	rule := testTerm()
	rule.Mastery = term.Mastery{Met: 2, Of: 2, Labs: 2, Signed: true}
	rule.Signers = []string{"A. Quill", "B. Ostrow"}
	check := func(s SignOff, status Status, want string) {
		t.Helper()
		s.Place, s.Student, s.Competency = "s.csv:2", "1001", Proof
		term := gather(t, Options{Term: rule, Today: "2026-12-01", SignOffs: []SignOff{s}},
			rec("week01", "2026-09-01", "A", "1001 Ann: proof+"), rec("week02", "2026-10-01", "A", "1001 Ann: proof+"))
		if got := standing(t, term, "1001", Proof).Status; got != status || problems(term) != want {
			t.Errorf("%+v: %v, want %v; problems\n%s\nwant\n%s", s, got, status, problems(term), want)
		}
	}
	check(SignOff{Date: "2026-11-01", By: "a. quill"}, Competent, "")
	check(SignOff{Date: "2026-10-01", By: "B. Ostrow"}, Competent, "")
	check(SignOff{Date: "2026-09-30", By: "B. Ostrow"}, ToSign,
		"s.csv:2: proof of student 1001 is signed on 2026-09-30, before the rule was met on 2026-10-01\n")
	check(SignOff{Date: "2026-12-02", By: "B. Ostrow"}, ToSign, "s.csv:2: the date 2026-12-02 is in the future\n")
	check(SignOff{Date: "2026-11-01", By: "C. Crane"}, ToSign,
		"s.csv:2: \"C. Crane\" may not sign; signers of term.toml names A. Quill, B. Ostrow\n")
	rule.Mastery.Met, rule.Mastery.Of = 3, 3
	check(SignOff{Date: "2026-11-01", By: "A. Quill"}, TooLittle, "s.csv:2: proof of student 1001 is signed, but the rule is not met yet\n")
}

// Records of another term count only when term.toml names it; they are told once, with their number.
func TestForeignRecords(t *testing.T) {
	key := testKey()
	var files []File
	for i := range 3 {
		r := rec(fmt.Sprintf("week%02d", i+1), "2026-09-01", "A", "1001 Ann: proof+")
		r.Term = "another-term"
		files = append(files, File{fmt.Sprintf("%d.json", i), encode(t, r)})
	}
	term := Gather(files, Options{Term: testTerm(), Key: &key})
	if want := "0.json: and 2 others are of term another-term, which term.toml does not name: not checkable here and left out\n"; len(term.Records) != 0 || problems(term) != want {
		t.Errorf("%d records, %s", len(term.Records), problems(term))
	}
	named := testTerm()
	named.RecordsOf = []string{"another-term"}
	term = Gather(files, Options{Term: named, Key: &key})
	if want := "0.json: and 2 others are of term another-term, so the seals are not checkable here\n"; len(term.Records) != 3 || problems(term) != want {
		t.Errorf("%d records, %s", len(term.Records), problems(term))
	}
}

// All that is wrong is told at once, by line, and then no signature counts: a list half read would let the wrong half pass.
func TestParseSignOffs(t *testing.T) {
	check := func(text, want string) {
		t.Helper()
		list, err := ParseSignOffs("s.csv", []byte(text))
		got := ""
		for _, s := range list {
			got += fmt.Sprintf("%s %s %s %s %s\n", s.Place, s.Student, s.Competency, s.Date, s.By)
		}
		if err != nil {
			got += err.Error()
		}
		if got != want {
			t.Errorf("%q:\n got %s\nwant %s", text, got, want)
		}
	}
	check("id,competency,date,by\n1001,proof,2026-12-01,J. Example\n,,,\n1002, economy ,2026-12-02,J. Example\n",
		"s.csv:2 1001 proof 2026-12-01 J. Example\ns.csv:4 1002 economy 2026-12-02 J. Example\n")
	check("\ufeffid,competency,date,by\r\n1001,proof,2026-12-01,J\r\n", "s.csv:2 1001 proof 2026-12-01 J\n")
	check("id,competency,date,by\n", "")
	check("", "s.csv: is empty; its first line is id,competency,date,by")
	check("id;competency;date;by\n1001;proof;2026-12-01;Example, J.\n", "s.csv:2 1001 proof 2026-12-01 Example, J.\n")
	check("By,Date,ID,Competency\nJ,2026-12-01,1001,proof\n", "s.csv:2 1001 proof 2026-12-01 J\n")
	check("id,competency,date,name\n", `s.csv:1: heading "id,competency,date,name"; want id,competency,date,by`)
	check("id,competncy,date,by\n", `s.csv:1: heading "id,competncy,date,by"; want id,competency,date,by; did you mean "competency"?`)
	check("id,competency,date,by\n'-1,proof,2026-12-01,J\n", "s.csv:2 -1 proof 2026-12-01 J\n")
	check("id,competency,date,by\n1001,proof,12/1/2026,J\n1002,proof,2026-12-01\n1003,,2026-12-01,J\n1004,proof,2026-12-01,J\n",
		"s.csv:2: date \"12/1/2026\"; want a day that exists, written 2026-10-05\ns.csv:3: by is missing\ns.csv:4: competency is missing")
	check("id,competency,date,by\n1001,\"proof,2026-12-01,J\n", "s.csv:2: a cell begins with a quote but does not end with one; close it, and double quotes inside it")
	check("id,competency,date,by\n1001,proof,2026-12-01,Z\xf6e\n", "s.csv:2 1001 proof 2026-12-01 Z\u00f6e\n") // Windows-1252
	utf16 := "\x00" + strings.Join(strings.Split("id,competency,date,by\n1001,proof,2026-12-01,J\n", ""), "\x00")
	check(utf16, "s.csv:2 1001 proof 2026-12-01 J\n")
	check("PK\x03\x04\x00\x00", "s.csv: is not a text file; save it as CSV, UTF-8")
}

// No bytes bring the reader down, and an error never comes with signatures.
func FuzzParseSignOffs(f *testing.F) {
	f.Add([]byte("id,competency,date,by\n1001,proof,2026-12-01,J. Example\n"))
	f.Add([]byte("id,competency,date,by\n1001,\"proof\n\n,,,"))
	f.Fuzz(func(t *testing.T, data []byte) {
		if list, err := ParseSignOffs("s.csv", data); err != nil && list != nil {
			t.Error("signatures with an error")
		}
	})
}

// TestRead reads a folder as it lies about: other files, other folders, none.
func TestRead(t *testing.T) {
	dir := t.TempDir()
	key := testKey()
	r := rec("week01", "2026-09-01", "A", "1001 Ann: proof+")
	for name, data := range map[string][]byte{r.FileName(): encode(t, r), ".nospark-0123456789abcdef.part": []byte("{"), "notes.txt": []byte("x"), "x.JSON": []byte("{")} {
		if err := os.WriteFile(filepath.Join(dir, name), data, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	if err := os.Mkdir(filepath.Join(dir, "old.json"), 0o700); err != nil {
		t.Fatal(err)
	}
	term, err := Read(dir, Options{Term: testTerm(), Key: &key})
	if err != nil {
		t.Fatal(err)
	}
	if len(term.Records) != 1 || problems(term) != "x.JSON: ends before its end; grade the lab again, or restore the file from a copy\n" {
		t.Errorf("%d records, problems\n%s", len(term.Records), problems(term))
	}
	if _, err := Read(filepath.Join(dir, "none"), Options{}); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("error %v", err)
	}
}

// TestCodes wants codes that the key alone gives.
func TestCodes(t *testing.T) {
	r := rec("week01", "2026-09-01", "A", "1001 Ann: proof+", "1002 Bo: proof+", "1003 Cy: proof+")
	first, again := gather(t, Options{}, r), gather(t, Options{}, rec("week02", "2026-09-08", "A", "1003 Cy: proof+"), r)
	codes := map[string]string{}
	for _, s := range first.Students {
		codes[s.ID] = s.Code
		if len(s.Code) != 9 || s.Code[4] != '-' {
			t.Errorf("code %q", s.Code)
		}
	}
	for _, s := range again.Students {
		if codes[s.ID] != s.Code {
			t.Errorf("student %s has codes %s and %s", s.ID, codes[s.ID], s.Code)
		}
	}
	if other := nameCode(term.Key{9}, "1001", 0); other == codes["1001"] {
		t.Error("another key gives the same code")
	}
}
