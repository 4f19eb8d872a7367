package evidence

import (
	"bytes"
	"flag"
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"

	"nospark/grading"
	"nospark/grading/adjust"
	"nospark/grading/submission"
	"nospark/scenarios/lab"
	"nospark/scenarios/term"
)

var update = flag.Bool("update", false, "write the golden file anew")

// testKey is the key of the invented term.
func testKey() term.Key { return term.Key{1, 2, 3} }

// testTerm has the default rule of mastery.
func testTerm() term.Term {
	return term.Term{ID: "test-term-1", Program: "Automotive Technology", Paper: "letter",
		Mastery: term.DefaultMastery()}
}

// lampResult grades the lamp lab with one of each: best play, a guess, something provisional, nothing, and a spare that
// a guest used.
func lampResult(t testing.TB) (*lab.Lab, *grading.Result) {
	t.Helper()
	l := lampLab()
	l.Sheets[burntSheet].Section = "MW-8:00"
	expert := hand(l, lampSheet, lampRepair, "1+", "2+")
	expert.Reasoning, expert.Safe = 3, 1
	guest := hand(l, spareSheet, groundRepair, "0+", "1-")
	guest.Student, guest.Sheet, guest.Name = "9001", l.Sheets[spareSheet].Code, "Guest Example"
	rows := []submission.Row{hand(l, switchSheet, switchRepair), hand(l, burntSheet, switchRepair, "1-!"), expert,
		guest}
	return l, grade(t, l, adjust.Decisions{}, rows...)
}

// encode writes and seals a record with the key of the invented term.
func encode(t testing.TB, r *Record) []byte {
	t.Helper()
	data, err := r.Encode(testKey())
	if err != nil {
		t.Fatal(err)
	}
	return data
}

// lampRecord is the record of section B.
func lampRecord(t testing.TB) *Record {
	t.Helper()
	l, result := lampResult(t)
	for _, r := range FromResult(l, result, testTerm()) {
		if r.Section == "B" {
			return r
		}
	}
	t.Fatal("no record of section B")
	return nil
}

// TestGoldenRecord compares a record with the one that was written before, and reads it back.
func TestGoldenRecord(t *testing.T) {
	const path = "testdata/record.golden.json"
	r := lampRecord(t)
	got := encode(t, r)
	if *update {
		if err := os.WriteFile(path, got, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(got, want) {
		t.Errorf("the record has changed:\n%s", got)
	}
	back, err := Decode(path, want)
	if err != nil {
		t.Fatal(err)
	}
	if again := encode(t, back); !bytes.Equal(again, want) {
		t.Errorf("read and written again it is another:\n%s", again)
	}
	if s := back.Verify(want, testTerm(), testKey()); s != lab.Sealed {
		t.Errorf("its seal is %s", SealingWords(s))
	}
}

// TestVersionOne reads the file that the first version wrote. It is never written anew: a term's records have to stay
// readable.
func TestVersionOne(t *testing.T) {
	const path = "testdata/record-v1.json"
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	r, err := Decode(path, data)
	if err != nil {
		t.Fatal(err)
	}
	if s := r.Verify(data, testTerm(), testKey()); s != lab.Sealed {
		t.Errorf("its seal is %s", SealingWords(s))
	}
	if r.Format != 1 || r.Lab != "week05" || r.Reference != 30 || len(r.Students) != 3 {
		t.Errorf("format %d, lab %s, reference %d, %d students", r.Format, r.Lab, r.Reference, len(r.Students))
	}
	const want = "complaint+0 voltage-drop+1 ground-integrity+2 economy+0 proof+0 reasoning+0 safe-working+0"
	if got := text(entryOf(t, []*Record{r}, "1003").Evidence); got != want {
		t.Errorf("evidence %s, want %s", got, want)
	}
}

// A record for each section, "" among them, with everybody who had a sheet: who handed in nothing is in it too.
func TestSections(t *testing.T) {
	l, result := lampResult(t)
	records := FromResult(l, result, testTerm())
	var names []string
	for _, r := range records {
		var ids []string
		for _, e := range r.Students {
			ids = append(ids, e.Student+" "+string(e.Status))
		}
		names = append(names, r.FileName()+": "+strings.Join(ids, ", "))
	}
	want := []string{
		"week05-%-test-term-1.json: 9001 graded",
		"week05-B-test-term-1.json: 1001 graded, 1003 graded, 1004 blank",
		"week05-MW%2D8%3A00-test-term-1.json: 1002 provisional",
	}
	if !slices.Equal(names, want) {
		t.Errorf("got\n%s\nwant\n%s", strings.Join(names, "\n"), strings.Join(want, "\n"))
	}
}

// Two records never share a name, and every file system takes it, whatever a section is called.
func TestFileName(t *testing.T) {
	seen := map[string]string{}
	for _, c := range [][2]string{{"a", "b-c"}, {"a-b", "c"}, {"a", "b"}, {"a", ""}, {"a", "%"}, {"a", "../b"},
		{"a", "b/c"}, {"a", strings.Repeat("x", 300)},
		{"a", strings.Repeat("x", 301)}, {"a", strings.Repeat("例", 100)}, {"a", "con"}, {"a", "b "}} {
		r := &Record{Lab: c[0], Section: c[1], Term: "demo-term-000"}
		name := r.FileName()
		if len(name) > 255 || strings.ContainsAny(name, `/\:*?"<>|`) ||
			!strings.HasSuffix(name, "-demo-term-000.json") {
			t.Errorf("lab %q, section %q: file name %q", c[0], c[1], name)
		}
		if other, twice := seen[name]; twice {
			t.Errorf("%q and %q share the name %s", c, other, name)
		}
		seen[name] = fmt.Sprint(c)
	}
}

// A seal minds everything that a person could want to change, and nothing that an editor or a checkout does by itself.
func TestSeal(t *testing.T) {
	r := lampRecord(t)
	data := encode(t, r)
	check := func(name string, file []byte, autumn term.Term, key term.Key, want lab.Sealing) {
		t.Helper()
		back, err := Decode(name, file)
		if err != nil {
			t.Fatal(err)
		}
		if got := back.Verify(file, autumn, key); got != want {
			t.Errorf("%s: %s, want %s", name, SealingWords(got), SealingWords(want))
		}
	}
	change := func(from, to string) []byte {
		t.Helper()
		if !bytes.Contains(data, []byte(from)) {
			t.Fatalf("the record has no %s", from)
		}
		return bytes.Replace(data, []byte(from), []byte(to), 1)
	}
	other := testTerm()
	other.ID = "another-term"
	check("as written", data, testTerm(), testKey(), lab.Sealed)
	check("line ends of another system", bytes.ReplaceAll(data, []byte("\n"), []byte("\r\n")), testTerm(), testKey(),
		lab.Sealed)
	check("on one line", bytes.ReplaceAll(data, []byte("\n "), nil), testTerm(), testKey(), lab.Sealed)
	check("met", change(`"met":false`, `"met":true`), testTerm(), testKey(), lab.Changed)
	check("an empty line more", change(`"reference":30`, `"reference":30`+"\n"), testTerm(), testKey(),
		lab.Sealed)
	check("the fields in another order", change("\"lab\":\"week05\",\n \"title\":\"A lamp does not light\",",
		"\"title\":\"A lamp does not light\",\n \"lab\":\"week05\","), testTerm(), testKey(), lab.Changed)
	check("no seal", change(`"seal":"`+sealOf(t, data)+`"`, `"seal":""`), testTerm(), testKey(), lab.Changed)
	check("another seal", change(sealOf(t, data), strings.Repeat("0", sealSize)), testTerm(), testKey(),
		lab.Changed)
	check("another key", data, testTerm(), term.Key{9}, lab.Changed)
	check("another term", data, other, testKey(), lab.NotCheckable)
}

// sealOf reads the seal of a record, to replace it.
func sealOf(t *testing.T, data []byte) string {
	t.Helper()
	r, err := Decode("record", data)
	if err != nil {
		t.Fatal(err)
	}
	return r.Seal
}

// TestDecodeErrors changes one thing at a time in a good record.
func TestDecodeErrors(t *testing.T) {
	good := string(encode(t, lampRecord(t)))
	check := func(from, to, want string) {
		t.Helper()
		if !strings.Contains(good, from) {
			t.Fatalf("the record has no %s", from)
		}
		_, err := Decode("r.json", []byte(strings.Replace(good, from, to, 1)))
		if err == nil || !strings.HasPrefix(err.Error(), "r.json: ") || !strings.Contains(err.Error(), want) {
			t.Errorf("%s to %s: error %v, want %q", from, to, err, want)
		}
	}
	check(`"format":2`, `"format":3`, "has format 3, this program knows formats up to 2; use the newer nospark")
	check(`"format":2`, `"format":3,"news":true`, "use the newer nospark")
	check(`"format":2`, `"format":0`, "has no format; is it a record?")
	check(`"format":2`, `"format":"2"`, "line 2: not a record")
	check(`"lab":"week05"`, `"lab":""`, "names no lab or no term")
	check(`"date":"2026-10-05"`, `"date":"2026-13-05"`, `date "2026-13-05"`)
	check(`"reference":30`, `"reference":0`, "out of range")
	check(`"reference":30`, `"reference":30,"extra":1`, `unknown field "extra"`)
	check(`"student":"1003"`, `"student":"1001"`, `student "1001" twice`)
	check(`"student":"1003"`, `"student":""`, "without an id")
	check(`"status":"graded"`, `"status":"good"`, `status "good"`)
	check(`"status":"graded"`, `"status":"excused"`, "evidence of a sheet that is excused")
	check(`"mark":100`, `"mark":101`, "mark 101; want 0 to 100")
	check(`"mark":100`, `"mark":1e999`, "line")
	check(`"diagnosis":40`, `"diagnosis":-1`, "part of the mark")
	check(`"asked":2`, `"asked":1`, "2 verdicts of 1 agree")
	check(`"lost_early":30`, `"lost_early":-1`, "lost")
	check(`"step":2`, `"step":-2`, "from step -2")
	check(`"competency":"proof"`, `"competency":""`, "names no competency")
	check(`"competency":"proof"`, `"competency":"economy"`, `two opportunities of "economy"`)
	check(`"program":"Automotive`, `"program":"`+strings.Repeat("x", 3000), "text of 30")
	check(sealOf(t, []byte(good))+"\"\n}\n", "\"\n}\n{}", "goes on after its end")
	check(`Technology"`, "Technology\xff\"", "not a text in UTF-8")
	for _, cut := range []int{0, 1, 30, len(good) / 2, len(good) - 3} {
		if _, err := Decode("r.json", []byte(good[:cut])); err == nil ||
			!strings.Contains(err.Error(), "ends before its end") {
			t.Errorf("cut after %d bytes: error %v", cut, err)
		}
	}
}

// FuzzDecode wants no bytes to bring the reader down, and what it reads to survive being written.
func FuzzDecode(f *testing.F) {
	good := encode(f, lampRecord(f))
	f.Add(good)
	f.Add(good[:len(good)/2])
	f.Add([]byte(`{"format":1}`))
	f.Add([]byte(`{"format":3,"x":[[[[{}]]]]}`))
	f.Add([]byte("\xff"))
	f.Fuzz(func(t *testing.T, data []byte) {
		r, err := Decode("r.json", data)
		if err != nil {
			if r != nil {
				t.Error("a record with an error")
			}
			return
		}
		r.Verify(data, testTerm(), testKey())
		again, err := r.Encode(testKey())
		if err != nil {
			t.Fatal(err)
		}
		back, err := Decode("again.json", again)
		if err != nil {
			t.Fatalf("read, written and not readable: %v", err)
		}
		if back.Term == testTerm().ID && back.Verify(again, testTerm(), testKey()) != lab.Sealed {
			t.Error("written and not sealed")
		}
	})
}

// A student with several vehicles in a lab has an entry for each, with the evidence of that sheet.
func TestVehicles(t *testing.T) {
	l := lampLab()
	l.Vehicles = 2
	for i, sheet := range []int{switchSheet, lampSheet} {
		s := &l.Sheets[sheet]
		s.Student, s.Name, s.Vehicle = "1001", "Student A", i+1
	}
	first, second := hand(l, switchSheet, switchRepair, "1-"), hand(l, lampSheet, lampRepair)
	first.Sheet, second.Sheet = l.Sheets[switchSheet].Code, l.Sheets[lampSheet].Code
	records := FromResult(l, grade(t, l, adjust.Decisions{}, first, second), testTerm())
	if len(records) != 1 {
		t.Fatalf("%d records", len(records))
	}
	back, err := Decode("r.json", encode(t, records[0]))
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, e := range back.Students {
		if e.Student == "1001" {
			got = append(got, fmt.Sprintf("%d: %s", e.Vehicle, text(e.Evidence)))
		}
	}
	want := []string{"1: voltage-drop+1 economy+0 proof+0", "2: voltage-drop-0 ground-integrity-0 economy-0 proof-0"}
	if !slices.Equal(got, want) {
		t.Errorf("got %q, want %q", got, want)
	}
}
