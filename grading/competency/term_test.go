package competency

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"nospark/grading/competency/lists"
	"nospark/grading/evidence"
	"nospark/grading/evidence/recordtest"
	"nospark/scenarios/term"
)

// What the tests of this package call by short names.
var (
	rec     = recordtest.Record
	newKey  = recordtest.Key
	newTerm = recordtest.Term
	encoded = recordtest.Encoded
	find    = recordtest.Find
)

// gather seals records and reads them as files named 0.json, 1.json, ...
func gather(t testing.TB, o Options, records ...*evidence.Record) *Term {
	t.Helper()
	if o.Term.ID == "" {
		o.Term = newTerm()
	}
	key := newKey()
	o.Key = &key
	var files []File
	for i, r := range records {
		if r.Term != o.Term.ID { // seals of a department's records are the subject of other tests
			o.Key = nil
		}
		files = append(files, File{fmt.Sprintf("%02d.json", i), encoded(t, r)})
	}
	return Gather(files, o)
}

// standing finds a student's standing.
func standing(t testing.TB, autumn *Term, student, competency string) Standing {
	t.Helper()
	c := find(autumn.Competencies, competency)
	for _, s := range autumn.Students {
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
		var records []*evidence.Record
		for i, c := range signs {
			records = append(records, rec(fmt.Sprintf("week%02d", i+1), fmt.Sprintf("2026-09-%02d", i+1), "A",
				"1001 Ann: ground-integrity"+string(c)))
		}
		var o Options
		if signed {
			o.SignOffs = []lists.SignOff{{Student: "1001", Competency: "ground-integrity", Date: "2026-12-01",
				By: "Instructor"}}
		}
		s := standing(t, gather(t, o, records...), "1001", "ground-integrity")
		got := fmt.Sprintf("%s, %d/%d of %d, %s", s.Status, s.MetInWindow, s.Window, len(s.Opportunities),
			s.History(10))
		if got != want {
			t.Errorf("%s:\n got %s\nwant %s", name, got, want)
		}
	}
	check("four are too few", "++++", true, "too few, 4/4 of 4, ✓✓✓✓")
	check("five of five, signed", "+++++", true, "competent, 5/5 of 5, ✓✓✓✓✓")
	check("five of five, not signed", "+++++", false, "to be signed, 5/5 of 5, ✓✓✓✓✓")
	check("four of five", "-++++", true, "competent, 4/5 of 5, ✗✓✓✓✓")
	check("three of five", "-+-++", true, "not yet, 3/5 of 5, ✗✓✗✓✓")
	check("the last five count", "---+++++", true, "competent, 5/5 of 8, ✗✗✗✓✓✓✓✓")
	check("what was competent can be lost", "+++++--", true, "not yet, 3/5 of 7, ✓✓✓✓✓✗✗")
	check("what can still be reached is no risk", "-++", true, "too few, 2/3 of 3, ✗✓✓")
	check("nothing of four", "----", true, "at risk, 0/4 of 4, ✗✗✗✗")
	check("two missed of two: the next three do not make four of five", "--", true, "at risk, 0/2 of 2, ✗✗")
	check("one missed", "-", true, "too few, 0/1 of 1, ✗")
}

// TestMasteryRules changes the rule.
func TestMasteryRules(t *testing.T) {
	check := func(rule term.Mastery, want Status, why string) {
		t.Helper()
		autumn := newTerm()
		autumn.Mastery = rule
		s := standing(t, gather(t, Options{Term: autumn},
			rec("week01", "2026-09-01", "A", "1001 Ann: proof+"), rec("week02", "2026-09-08", "A", "1001 Ann: proof+"),
			rec("week03", "2026-09-15", "A", "1001 Ann: proof-")),
			"1001", evidence.Proof)
		if s.Status != want || s.Why(rule) != why {
			t.Errorf("%+v: %s (%s), want %s (%s)", rule, s.Status, s.Why(rule), want, why)
		}
	}
	check(term.Mastery{Met: 2, Of: 3, Labs: 3}, Competent, "")
	check(term.Mastery{Met: 2, Of: 3, Labs: 3, Signed: true}, ToSign, "signature of the instructor; the latest "+
		"was missed")
	check(term.Mastery{Met: 3, Of: 3, Labs: 1}, NotYet, "2 of the last 3 met, 3 are needed")
	check(term.Mastery{Met: 1, Of: 2, Labs: 3}, NotYet, "the last 2 come from 2 labs, 3 are needed")
	check(term.Mastery{Met: 1, Of: 5, Labs: 1}, TooLittle, "2 more opportunities")
	check(term.Mastery{Met: 3, Of: 5, Labs: 1}, TooLittle, "2 more opportunities, at least 1 met")
	check(term.Mastery{Met: 4, Of: 5, Labs: 1}, TooLittle, "2 more opportunities, all met")
	check(term.Mastery{Met: 5, Of: 5, Labs: 1}, AtRisk, "2 more opportunities, and 5 of the last 5 must be met")
	check(term.Mastery{Met: 3, Of: 4, Labs: 1}, TooLittle, "1 more opportunity, met")
	check(term.Mastery{Met: 4, Of: 4, Labs: 1}, AtRisk, "1 more opportunity, and 4 of the last 4 must be met")
	check(term.Mastery{Met: 2, Of: 2, Labs: 1}, NotYet, "1 of the last 2 met, 2 are needed")
	check(term.Mastery{Met: 2, Of: 3, Faults: 2, Packs: 1}, NotYet, "the met ones are on 1 faults, 2 are needed")
	check(term.Mastery{Met: 2, Of: 3, Faults: 1, Packs: 2}, NotYet, "the met ones are of 1 packs, 2 are needed")
}

// problems writes what is to be looked at, one line each.
func problems(autumn *Term) string {
	var text strings.Builder
	for _, p := range autumn.Problems {
		fmt.Fprintf(&text, "%s: %s\n", p.Place, p.What)
	}
	return text.String()
}

// TestGatherTolerates mixes good files with bad ones: each is told and none stops the rest.
func TestGatherTolerates(t *testing.T) {
	key := newKey()
	good := rec("week01", "2026-09-01", "A", "1001 Ann: proof+")
	other := rec("week02", "2026-09-08", "A", "1001 Ann: proof+")
	other.Term = "another-term"
	files := []File{
		{"b.json", encoded(t, good)},
		{"a.json", encoded(t, good)},
		{"c.json", encoded(t, other)},
		{"d.json", encoded(t, rec("week03", "2026-09-15", "A", "1001 Ann: proof+"))[:200]},
		{"e.json", []byte(strings.Replace(string(encoded(t, rec("week04", "2026-09-22", "A", "1001 Ann: proof-"))),
			`"met":false`, `"met":true`, 1))},
		{"f.json", []byte(`{"format":7}`)},
		{"g.json", []byte("PK\x03\x04")},
		{"h.json", encoded(t, rec("week05", "2026-09-29", "A", "1001 Ann: proof-"))},
	}
	autumn := Gather(files, Options{Term: newTerm(), Key: &key})
	want := `b.json: speaks of lab week01, section "A" of the same term as a.json
d.json: ends before its end; grade the lab again, or restore the file from a copy
e.json: changed since it was written
f.json: has format 7, this program knows formats up to 2; use the newer nospark that wrote it
g.json: line 1: not a record: invalid character 'P' looking for beginning of value; grade the lab again, or restore the file from a copy
c.json: is of term another-term: anybody could have written them, so they are left out
`
	if got := problems(autumn); got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
	if s := standing(t, autumn, "1001", evidence.Proof); s.History(10) != "✓✗" {
		t.Errorf("history %s", s.History(10))
	}
	if autumn = Gather(files, Options{Term: newTerm()}); strings.Contains(problems(autumn), "changed") ||
		autumn.Students[0].Code != "" {
		t.Errorf("without a key: code %q, problems\n%s", autumn.Students[0].Code, problems(autumn))
	}
}

// TestSameStudent follows a student through sections, names and two rows of one lab.
func TestSameStudent(t *testing.T) {
	autumn := gather(t, Options{},
		rec("week01", "2026-09-01", "A", "1001 Ann Example: proof+", "1002 Bo: proof+"),
		rec("week01", "2026-09-01", "B", "1001 Ann Example: proof-", "1003 Cy: blank"),
		rec("week02", "2026-09-08", "B", "1001 ANN  Example: proof+", "1002 Dee: proof-"),
		rec("week03", "2026-09-15", "B", "1001 Ann Married: proof-", "1002 Eve: provisional"))
	want := `01.json: student 1001 is in lab week01 twice, also in 00.json
02.json: id 1002 is "Dee" here and "Bo" in 00.json; counted as one student
03.json: id 1001 is "Ann Married" here and "Ann Example" in 00.json; counted as one student
`
	if got := problems(autumn); got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
	var list []string
	for _, s := range autumn.Students {
		list = append(list, fmt.Sprintf("%s %s %s %d %d %d", s.ID, s.Name, s.Section, s.Sheets, s.Waiting, s.Missing))
	}
	if got := strings.Join(list, "; "); got != "1001 Ann Married B 3 0 0; 1003 Cy B 0 0 1; 1002 Eve B 3 1 0" {
		t.Errorf("students %s", got)
	}
	if s := standing(t, autumn, "1001", evidence.Proof); s.History(10) != "✓✓✗" {
		t.Errorf("history %s", s.History(10))
	}
}

// TestSigning matches signatures to students, also by an id whose leading zeros a spreadsheet has lost.
func TestSigning(t *testing.T) {
	sign := func(place, student, competency, date string) lists.SignOff {
		return lists.SignOff{Place: place, Student: student, Competency: competency, Date: date, By: "Instructor"}
	}
	rule := newTerm()
	rule.Mastery = term.Mastery{Met: 1, Of: 1, Signed: true}
	autumn := gather(t, Options{Term: rule, SignOffs: []lists.SignOff{
		sign("s.csv:2", "17", evidence.Proof, "2026-12-01"), sign("s.csv:3", "0017", evidence.Proof, "2026-11-01"),
		sign("s.csv:4", "ab1", evidence.Economy, "2026-12-01"),
		sign("s.csv:5", "9", evidence.Proof, "2026-12-01"), sign("s.csv:6", "555", evidence.Proof, "2026-12-01"),
		sign("s.csv:7", "AB1", "welding", "2026-12-01"),
	}}, rec("week01", "2026-09-01", "A", "0017 Ann: proof+", "AB1 Bo: economy+", "09 Cy: proof+", "009 Dee: proof+"))
	if s := standing(t, autumn, "0017", evidence.Proof); s.Signed == nil || s.Signed.Date != "2026-12-01" {
		t.Errorf("0017: %+v", s.Signed)
	}
	if s := standing(t, autumn, "AB1", evidence.Economy); s.Signed == nil {
		t.Error("AB1 is not signed")
	}
	want := `s.csv:5: id "9" fits several students
s.csv:6: no record speaks of student "555"
s.csv:7: there is no competency "welding"
`
	if got := problems(autumn); got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
}

// A signature counts when the evidence was there on its day, the day has come, and who signed may.
func TestSignaturesAreChecked(t *testing.T) {
	rule := newTerm()
	rule.Mastery = term.Mastery{Met: 2, Of: 2, Labs: 2, Signed: true}
	rule.Signers = []string{"A. Quill", "B. Ostrow"}
	check := func(s lists.SignOff, status Status, want string) {
		t.Helper()
		s.Place, s.Student, s.Competency = "s.csv:2", "1001", evidence.Proof
		autumn := gather(t, Options{Term: rule, Today: "2026-12-01", SignOffs: []lists.SignOff{s}},
			rec("week01", "2026-09-01", "A", "1001 Ann: proof+"), rec("week02", "2026-10-01", "A", "1001 Ann: proof+"))
		if got := standing(t, autumn, "1001", evidence.Proof).Status; got != status || problems(autumn) != want {
			t.Errorf("%+v: %v, want %v; problems\n%s\nwant\n%s", s, got, status, problems(autumn), want)
		}
	}
	check(lists.SignOff{Date: "2026-11-01", By: "a. quill"}, Competent, "")
	check(lists.SignOff{Date: "2026-10-01", By: "B. Ostrow"}, Competent, "")
	check(lists.SignOff{Date: "2026-09-30", By: "B. Ostrow"}, ToSign,
		"s.csv:2: proof of student 1001 is signed on 2026-09-30, before the rule was met on 2026-10-01\n")
	check(lists.SignOff{Date: "2026-12-02", By: "B. Ostrow"}, ToSign, "s.csv:2: the date 2026-12-02 is in the future\n")
	check(lists.SignOff{Date: "2026-11-01", By: "C. Crane"}, ToSign,
		"s.csv:2: \"C. Crane\" may not sign; signers of term.toml names A. Quill, B. Ostrow\n")
	rule.Mastery.Met, rule.Mastery.Of = 3, 3
	check(lists.SignOff{Date: "2026-11-01", By: "A. Quill"}, TooLittle,
		"s.csv:2: proof of student 1001 is signed, but the rule is not met yet\n")
}

// TestRead reads a folder as it lies about: other files, other folders, none.
func TestRead(t *testing.T) {
	dir := t.TempDir()
	key := newKey()
	r := rec("week01", "2026-09-01", "A", "1001 Ann: proof+")
	for name, data := range map[string][]byte{r.FileName(): encoded(t, r),
		".nospark-0123456789abcdef.part": []byte("{"),
		"notes.txt":                      []byte("x"), "x.JSON": []byte("{")} {
		if err := os.WriteFile(filepath.Join(dir, name), data, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	if err := os.Mkdir(filepath.Join(dir, "old.json"), 0o700); err != nil {
		t.Fatal(err)
	}
	autumn, err := Read(dir, Options{Term: newTerm(), Key: &key})
	if err != nil {
		t.Fatal(err)
	}
	if len(autumn.Records) != 1 ||
		problems(autumn) != "x.JSON: ends before its end; grade the lab again, or restore the "+
			"file from a copy\n" {
		t.Errorf("%d records, problems\n%s", len(autumn.Records), problems(autumn))
	}
	if _, err := Read(filepath.Join(dir, "none"), Options{}); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("error %v", err)
	}
}

// TestCodes wants codes that the key alone gives.
func TestCodes(t *testing.T) {
	r := rec("week01", "2026-09-01", "A", "1001 Ann: proof+", "1002 Bo: proof+", "1003 Cy: proof+")
	first, again := gather(t, Options{}, r), gather(t, Options{}, rec("week02", "2026-09-08", "A", "1003 Cy: proof+"),
		r)
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

// TestWords wants different words for every status and direction.
func TestWords(t *testing.T) {
	seen := map[string]bool{}
	for _, s := range []fmt.Stringer{TooLittle, AtRisk, NotYet, ToSign, HandsOn, Competent} {
		if s.String() == "" || seen[s.String()] {
			t.Errorf("%#v reads %q", s, s)
		}
		seen[s.String()] = true
	}
}

// TestFaultsAndPacks: the met opportunities have to be on different faults and packs; one missed on another does not
// help.
func TestFaultsAndPacks(t *testing.T) {
	autumn := newTerm()
	autumn.Mastery = term.DefaultMastery()
	check := func(want Status, sheets ...string) {
		t.Helper()
		var records []*evidence.Record
		for i, sheet := range sheets { // pack, fault, sign
			r := rec(fmt.Sprintf("week%02d", i+1), fmt.Sprintf("2026-09-%02d", i+1), "A", "1 Ann: proof"+sheet[2:])
			r.Pack, r.Students[0].Fault = sheet[:1], sheet[1:2]
			records = append(records, r)
		}
		if s := standing(t, gather(t, Options{Term: autumn}, records...), "1", evidence.Proof); s.Status != want {
			t.Errorf("%v: %s, want %s", sheets, s.Status, want)
		}
	}
	check(NotYet, "pa+", "pa+", "pa+", "pa+", "pa+")
	check(NotYet, "pa+", "pb+", "pc+", "pd+", "pe+")
	check(NotYet, "pa+", "pb+", "pc+", "pd+", "qe-")
	check(NotYet, "pa+", "pa+", "pa+", "qb+", "qb+")
	check(ToSign, "pa+", "pb+", "pa+", "qb+", "qb-")
	check(ToSign, "pa+", "pb+", "pc+", "pd-", "qe+")
}

// TestHandsOn: safe working is never signed from paper.
func TestHandsOn(t *testing.T) {
	var records []*evidence.Record
	for i := range 6 {
		records = append(records, rec(fmt.Sprintf("week%02d", i+1), fmt.Sprintf("2026-09-%02d", i+1), "A",
			"1 Ann: safe-working+"))
	}
	autumn := gather(t, Options{SignOffs: []lists.SignOff{{Place: "s:2", Student: "1", Competency: evidence.SafeWorking,
		Date: "2026-12-01", By: "I"}}},
		records...)
	if s := standing(t, autumn, "1", evidence.SafeWorking); s.Status != HandsOn || s.Signed != nil {
		t.Errorf("%s, signed %v", s.Status, s.Signed)
	}
	if got := problems(autumn); !strings.Contains(got, "never signed from paper or screen") {
		t.Errorf("problems %q", got)
	}
}

// TestHistory lists what a student has had, and what a build may know.
func TestHistory(t *testing.T) {
	autumn := gather(t, Options{},
		rec("week01", "2026-09-01", "A", "1 A: proof+ economy-", "2 B: blank"),
		rec("week02", "2026-09-08", "A", "1 A: provisional", "2 B: excused"),
		rec("week03", "2026-09-15", "A", "1 A: proof-"))
	h := autumn.History("2026-09-15", "week02")
	if len(h) != 1 || !slices.Equal(h["1"], []term.Had{{Pack: "lamp", Fault: "lamp-open",
		Repair: "replace-lamp"}}) {
		t.Errorf("history %v", h)
	}
}

// TestVehicles: two vehicles of a student in a lab are two opportunities; the same one in two sections is one.
func TestVehicles(t *testing.T) {
	a := rec("week01", "2026-09-01", "A", "1 Ann: proof+", "1 Ann: proof-")
	a.Students[0].Vehicle, a.Students[1].Vehicle = 1, 2
	b := rec("week01", "2026-09-01", "B", "1 Ann: proof+")
	b.Students[0].Vehicle = 2
	g := gather(t, Options{}, a, b)
	if s := standing(t, g, "1", evidence.Proof); s.History(5) != "✓✗" || s.Labs != 1 || g.Students[0].Sheets != 2 {
		t.Errorf("%s from %d labs and %d sheets", s.History(5), s.Labs, g.Students[0].Sheets)
	}
	if got := problems(g); !strings.Contains(got, "student 1 is in lab week01 twice") {
		t.Errorf("problems %q", got)
	}
}
