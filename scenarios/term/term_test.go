package term

import (
	"bytes"
	"nospark/scenarios/lab"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
)

const goodTerm = `id = "3f9c02a1b7d4"
program = "Automotive Technology"
paper = "a4"
retain_until = 2031-06-30
instructor = "Quill"
course = "AUTO 140"

[rubric]
evidence = 20
diagnosis = 40
efficiency = 20
interpretation = 10
reasoning = 10

[mastery]
met = 8
of = 10
labs = 4

[[section]]
name = "B"
instructor = "Ostrow"

[[task]]
competency = "voltage-drop"
code = "A.7"
title = "Check voltage drop"
priority = "P-1"

[[task]]
competency = "voltage-drop"
code = "A.8"
taught = false
`

func TestParseTerm(t *testing.T) {
	term, err := Parse("term.toml", goodTerm)
	if err != nil {
		t.Fatal(err)
	}
	if term.Paper != "a4" || term.RetainUntil != "2031-06-30" || term.Rubric.Reasoning != 10 ||
		term.Rubric.Safety != 0 {
		t.Errorf("read %+v", term)
	}
	if term.Mastery != (Mastery{Met: 8, Of: 10, Faults: 3, Packs: 2, Labs: 4, Signed: true}) {
		t.Errorf("mastery %+v", term.Mastery)
	}
	if a, b := term.PlaceOf("A"), term.PlaceOf("B"); a != (Place{Instructor: "Quill", Course: "AUTO 140"}) ||
		b != (Place{Instructor: "Ostrow", Course: "AUTO 140"}) {
		t.Errorf("section A is %+v, B %+v", a, b)
	}
	want := []Task{{"voltage-drop", "A.7", "Check voltage drop", "P-1", true}, {"voltage-drop", "A.8", "", "", false}}
	if len(term.Tasks) != 2 || term.Tasks[0] != want[0] || term.Tasks[1] != want[1] {
		t.Errorf("tasks %+v", term.Tasks)
	}
}

func TestTermDefaults(t *testing.T) {
	term, err := Parse("term.toml", "id = \"abcdef\"\nprogram = \"P\"\n")
	if err != nil {
		t.Fatal(err)
	}
	// Weights and rule as the design of the marks states them.
	if term.Rubric != (lab.Rubric{Evidence: 15, Diagnosis: 40, Efficiency: 30, Interpretation: 15}) ||
		term.Mastery != (Mastery{4, 5, 3, 2, 1, true, false}) || term.Paper != "letter" {
		t.Errorf("defaults %+v", term)
	}
}

func TestParseTermErrors(t *testing.T) {
	const head = "id = \"abcdef\"\nprogram = \"P\"\n"
	check := func(name, text string, want ...string) {
		t.Run(name, func(t *testing.T) {
			_, err := Parse("term.toml", text)
			if err == nil {
				t.Fatal("no error")
			}
			if lines := strings.Split(err.Error(), "\n"); len(lines) != len(want) {
				t.Errorf("got %d errors, want %d:\n%v", len(lines), len(want), err)
			}
			for _, w := range want {
				if !strings.Contains(err.Error(), w) {
					t.Errorf("got\n%v\nwant %q in it", err, w)
				}
			}
		})
	}
	check("empty", "", `term.toml:1: key "id" is missing`, `term.toml:1: key "program" is missing`)
	check("not TOML", "id = \"abcdef\"\nprogram = \n", "term.toml:2: ")
	check("misspelt key", head+"papr = \"a4\"\n", `term.toml:3: unknown key "papr"; did you mean "paper"?`)
	check("paper", head+"paper = \"A4\"\n", `term.toml:3: paper = "A4" is not known; did you mean "a4"?`)
	check("kind", "id = 7\nprogram = \"P\"\n", "term.toml:1: id = 7 is not a text; write it in quotes")
	check("id within", "id = \"abc def\"\nprogram = \"P\"\n", "term.toml:1: id = \"abc def\"")
	check("id", "id = \"a b c d\"\nprogram = \"P\"\n", "term.toml:1: id = \"a b c d\"")
	check("rubric sum", head+"[rubric]\nevidence = 20\ndiagnosis = 70\n",
		"term.toml:3: the weights of the rubric sum to 90, want 100")
	check("rubric range", head+"[rubric]\nevidence = 101\ndiagnosis = 100\n",
		"term.toml:4: rubric: evidence = 101 is not a whole number from 0 to 100")
	check("rubric key", head+"rubric = { evidnce = 50, diagnosis = 100 }\n",
		`term.toml:3: rubric: unknown key "evidnce"; did you mean "evidence"?`)
	check("mastery", head+"[mastery]\nmet = 6\nof = 5\n", "term.toml:4: mastery: met = 6 of = 5")
	check("date", head+"retain_until = \"2031-02-30\"\n",
		`term.toml:3: retain_until = "2031-02-30": want a day that exists`)
	for _, bench := range []string{"192.168.1.20:8420", "ftp://a", "http://a/b", "http://", "http://a?b", "http://u@a b"} {
		check("bench", head+"bench = \""+bench+"\"\n", "term.toml:3: bench = \""+bench+"\": want an address like")
	}
	const bench = "https://bench.example:8420"
	if good, err := Parse("term.toml", head+"bench = \""+bench+"\"\n"); err != nil || good.Bench != bench {
		t.Errorf("%q, %v", good.Bench, err)
	}
	check("task", head+"[[task]]\ncode = \"A\"\n\n[[task]]\ncompetency = \"c\"\ncode = \"A\"\n[[task]]\ncompetency = "+
		"\"c\"\ncode = \"A\"\n",
		`term.toml:3: task: key "competency" is missing`, `term.toml:9: task: competency "c" is mapped to code "A" twice`)
	check("several in order", "progam = \"P\"\nid = \"abcdef\"\npaper = 4\n",
		`term.toml:1: key "program" is missing`, `term.toml:1: unknown key "progam"`, "term.toml:3: paper = 4")
}

func FuzzParseTerm(f *testing.F) {
	f.Add(goodTerm)
	f.Add("id = 7\n[rubric]\nevidence = \"x\"\n")
	f.Add("[[task]]\n[[task]]\ncode = 1979-05-27\n")
	f.Fuzz(func(t *testing.T, text string) {
		term, err := Parse("term.toml", text)
		if err == nil && (term.Rubric.Sum() != 100 || term.ID == "" || term.Program == "") {
			t.Errorf("accepted %+v", term)
		}
		if err != nil && !strings.HasPrefix(err.Error(), "term.toml:") {
			t.Errorf("error without a place: %v", err)
		}
	})
}

func TestKey(t *testing.T) {
	path := filepath.Join(t.TempDir(), KeyFile)
	if _, err := ReadKey(path); err == nil || !strings.Contains(err.Error(), "missing") {
		t.Errorf("missing key: %v", err)
	}
	if _, err := NewKey(strings.NewReader("too short")); err == nil {
		t.Error("a key from 9 bytes")
	}
	key, err := NewKey(bytes.NewReader(bytes.Repeat([]byte("k1"), 16)))
	if err != nil {
		t.Fatal(err)
	}
	if err := WriteKey(path, key); err != nil {
		t.Fatal(err)
	}
	if err := WriteKey(path, Key{}); err == nil {
		t.Error("a key was replaced")
	}
	if got, err := ReadKey(path); err != nil || got != key {
		t.Errorf("read %v, %v", got == key, err)
	}
	if runtime.GOOS != "windows" {
		if err := os.Chmod(path, 0o640); err != nil {
			t.Fatal(err)
		}
		if _, err := ReadKey(path); err == nil || !strings.Contains(err.Error(), "chmod 600") {
			t.Errorf("key readable by the group: %v", err)
		}
	}
	if err := checkPrivate(path, 0o666, "windows"); err != nil {
		t.Errorf("permissions judged on a system without them: %v", err)
	}
	short := filepath.Join(t.TempDir(), KeyFile)
	if err := os.WriteFile(short, []byte("secret"), 0o600); err != nil {
		t.Fatal(err)
	}
	if _, err := ReadKey(short); err == nil || strings.Contains(err.Error(), "secret") {
		t.Errorf("short key: %v", err)
	}
}

func TestFindTerm(t *testing.T) {
	dir := t.TempDir()
	deep := filepath.Join(dir, "labs", "week05", "instructor")
	if err := os.MkdirAll(deep, 0o755); err != nil {
		t.Fatal(err)
	}
	if _, err := Find(deep); err == nil || !strings.Contains(err.Error(), "nospark new") {
		t.Errorf("no term: %v", err)
	}
	if err := os.WriteFile(filepath.Join(dir, File), []byte(goodTerm), 0o644); err != nil {
		t.Fatal(err)
	}
	for _, path := range []string{dir, deep, filepath.Join(dir, "plans", "week05.toml")} {
		got, err := Find(path)
		if err != nil {
			t.Fatal(err)
		}
		if got != dir {
			t.Errorf("term of %s is %s, want %s", path, got, dir)
		}
	}
}

// A term is named from the working folder as the path is, except where a link would make that lead elsewhere.
func TestFindTermAsGiven(t *testing.T) {
	dir := t.TempDir()
	for _, sub := range []string{"autumn/plans", "elsewhere/plans"} {
		if err := os.MkdirAll(filepath.Join(dir, filepath.FromSlash(sub)), 0o755); err != nil {
			t.Fatal(err)
		}
	}
	if err := os.WriteFile(filepath.Join(dir, "autumn", File), []byte(goodTerm), 0o644); err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink(filepath.Join(dir, "elsewhere", "plans"), filepath.Join(dir, "autumn", "shared")); err != nil {
		t.Fatal(err)
	}
	check := func(folder, path, want string) {
		t.Helper()
		t.Chdir(filepath.Join(dir, filepath.FromSlash(folder)))
		got, err := Find(filepath.FromSlash(path))
		if err != nil {
			t.Fatal(err)
		}
		if got != want {
			t.Errorf("in %s the term of %s is %s, want %s", folder, path, got, want)
		}
	}
	check(".", "autumn/plans/week05.toml", "autumn")
	check("autumn/plans", "week05.toml", "..")
	check("autumn", ".", ".")
	check("autumn/shared", "week05.toml", filepath.Join(dir, "autumn"))
}
