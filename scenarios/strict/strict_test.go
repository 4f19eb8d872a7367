package strict

import (
	"fmt"
	"strings"
	"testing"
)

// readers ask a table for the key that is named after them.
var readers = map[string]func(t *Table) any{
	"text":    func(t *Table) any { return t.Text("text") },
	"like":    func(t *Table) any { return t.TextLike("like", "an example") },
	"id":      func(t *Table) any { return t.ID("id") },
	"choice":  func(t *Table) any { return t.ChoiceOr("choice", []string{"letter", "a4"}, "letter") },
	"list":    func(t *Table) any { list, _ := t.Texts("list"); return list },
	"pins":    func(t *Table) any { list, _ := t.Repeatable("pins"); return list },
	"flag":    func(t *Table) any { return t.Flag("flag", true) },
	"date":    func(t *Table) any { return t.Date("date") },
	"number":  func(t *Table) any { return t.Number("number", "V", 0, 100) },
	"whole":   func(t *Table) any { return t.Whole("whole", 1, 20) },
	"minutes": func(t *Table) any { return t.Minutes("minutes", 0.1, 600) },
	"range":   func(t *Table) any { return t.MinutesRange("range", 1000) },
	"at":      func(t *Table) any { return t.Numbers("at", 2, -10, 10) },
	"table":   func(t *Table) any { return t.Table("table") != nil },
	"tables":  func(t *Table) any { return len(t.Tables("tables")) },
}

// read takes the key that begins the text out of it.
func read(t *testing.T, text string) (any, error) {
	t.Helper()
	top, err := Read("f.toml", []byte(text))
	if err != nil {
		t.Fatalf("%q: %v", text, err)
	}
	key, _, _ := strings.Cut(strings.Trim(text, "[] \n"), " ")
	key, _, _ = strings.Cut(key, "]")
	got := readers[key](top)
	top.Finish()
	return got, top.Found.Err()
}

func TestReaders(t *testing.T) {
	check := func(text, want string) {
		t.Helper()
		if got, err := read(t, text); err != nil || fmt.Sprint(got) != want {
			t.Errorf("%s: %v, %v; want %s", text, got, err, want)
		}
	}
	check(`text = " Cranks, no start "`, "Cranks, no start")
	check(`text = "“Zündung” é 点火"`, "“Zündung” é 点火")
	check(`id = 1003`, "1003")
	check(`id = "0042"`, "0042")
	check(`choice = "a4"`, "a4")
	check(`list = ["a", " b "]`, "[a b]")
	check(`list = []`, "[]")
	check(`pins = ["a", "a"]`, "[a a]")
	check(`flag = false`, "false")
	check(`date = 2026-10-05`, "2026-10-05")
	check(`date = "2026-10-05"`, "2026-10-05")
	check(`date = 2026-10-05T08:00:00`, "2026-10-05")
	check(`number = 5`, "5")
	check(`number = 0.5`, "0.5")
	check(`whole = 20`, "20")
	check(`minutes = 2.5`, "25")
	check(`range = [6, 9.5]`, "[60 95]")
	check(`at = [1, -2.5]`, "[1 -2.5]")
	check("[table]", "true")
	check(`table = {}`, "true")
	check("[[tables]]\n[[tables]]", "2")
	check(`tables = [{}, {}]`, "2")
}

func TestFindings(t *testing.T) {
	check := func(text, want string) {
		t.Helper()
		if got, err := read(t, text); err == nil || err.Error() != want {
			t.Errorf("%s is read as %v\n got %v\nwant %s", text, got, err, want)
		}
	}
	check(`text = 5`, `f.toml:1: text = 5 is not a text; write it in quotes`)
	check(`text = " "`, `f.toml:1: text = " " is empty`)
	check("text = '''a\nb'''", `f.toml:1: text = "a\nb" contains a character that does not print; write it on one line`)
	check(`text = "a\tb"`,
		`f.toml:1: text = "a\tb" contains a tab; write spaces, and / instead of a backslash in a path`)
	check(`text = "a\u202eb"`,
		`f.toml:1: text = "a\u202eb" contains a character that does not print; write it on one line`)
	check(`text = "a\u200b"`,
		`f.toml:1: text = "a\u200b" contains a character that does not print; write it on one line`)
	check(`text = "`+strings.Repeat("é", 201)+`"`,
		`f.toml:1: text = "`+strings.Repeat("é", 20)+`"... has 201 characters, at most 200 fit on a sheet`)
	check("text = \"a\"\ntetx = 1", `f.toml:2: unknown key "tetx"; did you mean "text"?`)
	check("text = \"a\"\nzzz = 1", `f.toml:2: unknown key "zzz"; known: text`)
	check(`id = true`, `f.toml:1: id = true is not a text; write it in quotes`)
	check(`choice = "A4"`, `f.toml:1: choice = "A4" is not known; did you mean "a4"?`)
	check(`choice = "legal"`, `f.toml:1: choice = "legal" is not known; known: letter, a4`)
	check("list = [\n\"a\",\n\"b\", \"a\"]", `f.toml:3: list names "a" twice`)
	check("list = [\n\"a\",\n\"b\\u200b\"]",
		`f.toml:3: list = "b\u200b" contains a character that does not print; write it on one line`)
	check("list = [\n\"a\",\n7]", `f.toml:3: 7 in list is not a text; write it in quotes`)
	check(`list = "a"`, `f.toml:1: list = "a" is not a list of texts; write ["one", "two"]`)
	check(`flag = "yes"`, `f.toml:1: flag = "yes" is neither true nor false; write true or false without quotes`)
	check(`flag = [true, 1]`,
		`f.toml:1: flag = [true, 1] is neither true nor false; write true or false without quotes`)
	check(`date = "2026-02-30"`,
		`f.toml:1: date = "2026-02-30": want a day that exists; write year, month and day: 2026-10-05`)
	check(`date = 7`, `f.toml:1: date = 7: want a day that exists; write year, month and day: 2026-10-05`)
	check(`date = 1066-10-14`, `f.toml:1: date = 1066-10-14: want a year from 1900 to 9998`)
	check(`number = 101`, `f.toml:1: number = 101 is outside 0 to 100 V`)
	check(`number = nan`, `f.toml:1: number = nan is outside 0 to 100 V`)
	check(`number = "75"`, `f.toml:1: number = "75" is not a number; write 0 to 100 V, without quotes`)
	check(`number = "much"`, `f.toml:1: number = "much" is not a number; write 0 to 100 V`)
	check(`whole = 3.0`, `f.toml:1: whole = 3.0 is not a whole number from 1 to 20`)
	check(`whole = 0x7fffffffffffffff`, `f.toml:1: whole = 9223372036854775807 is not a whole number from 1 to 20`)
	check(`whole = "3"`, `f.toml:1: whole = "3" is not a whole number from 1 to 20; write it without quotes`)
	check(`minutes = 0.25`, `f.toml:1: minutes = 0.25 has more than one decimal; round it`)
	check(`minutes = 0`, `f.toml:1: minutes = 0 is outside 0.1 to 600 minutes`)
	check(`range = [9, 6]`,
		`f.toml:1: range = [9, 6] holds nothing; write the lower number first, and the higher above 0`)
	check(`range = [6]`, `f.toml:1: range = [6] is not a list of 2 numbers from 0 to 1000`)
	check(`at = [1, inf]`, `f.toml:1: at = [1, inf] is not a list of 2 numbers from -10 to 10`)
	check(`table = 1`, `f.toml:1: table = 1 is not a table; write table = { key = value }`)
	check("[tables]", `f.toml:1: [tables] is one table, not one of several; write [[tables]] with two brackets`)
	check(`tables = [{}, 1]`, `f.toml:1: tables is not a list of tables only`)
}

// What is missing is told at the table that should have it, and what is wrong in several places by line.
func TestMissingAndOrder(t *testing.T) {
	top, err := Read("f.toml", []byte("b = 1\n\n[[row]]\nweight = 1\n\n[[row]]\nlabel = \"x\"\n"))
	if err != nil {
		t.Fatal(err)
	}
	for _, row := range top.Tables("row") {
		row.Whole("weight", 1, 5)
		row.TextLike("label", "Blown fuse")
		row.Finish()
	}
	top.Text("title")
	top.Finish()
	want := `f.toml:1: key "title" is missing
f.toml:1: unknown key "b"; known: row, title
f.toml:3: row: key "label" is missing; write for example label = "Blown fuse"
f.toml:6: row: key "weight" is missing`
	if err := top.Found.Err(); err == nil || err.Error() != want {
		t.Errorf("got\n%v\nwant\n%s", err, want)
	}
}

// A hundred errors are told, and how many more there are.
func TestManyErrors(t *testing.T) {
	top, err := Read("f.toml", []byte(strings.Repeat("[[row]]\n", 103)))
	if err != nil {
		t.Fatal(err)
	}
	for _, row := range top.Tables("row") {
		row.Text("label")
		row.Text("label") // the same once more is no second error
	}
	lines := strings.Split(top.Found.Err().Error(), "\n")
	if len(lines) != 101 || lines[100] != "f.toml:101: and 3 more errors" {
		t.Errorf("%d lines, the last %q", len(lines), lines[len(lines)-1])
	}
	if _, err := Read("f.toml", make([]byte, MaxBytes+1)); err == nil ||
		err.Error() != "f.toml:1: the file has 1048577 bytes, at most 1048576 are allowed" {
		t.Errorf("too long: %v", err)
	}
}

// FuzzRead: whatever the text and whatever is asked of it, nothing panics, and every finding is on one line and names
// a line of the file.
func FuzzRead(f *testing.F) {
	for _, s := range seeds {
		f.Add(s)
	}
	for key := range readers {
		for _, value := range []string{"1", `"a\u200b"`, "[1, nan]", "[{}]", "{ a = 1 }", "1979-05-27", `["a", "a"]`,
			"true"} {
			f.Add(key + " = " + value)
		}
	}
	f.Fuzz(func(t *testing.T, text string) {
		top, err := Read("f", []byte(text))
		if err == nil {
			for _, reader := range readers {
				reader(top)
			}
			top.Finish()
			err = top.Found.Err()
		}
		if err == nil {
			return
		}
		for _, found := range err.(*Problems).List {
			line := found.Text("f")
			if found.Line < 1 || found.Line > 1+strings.Count(text, "\n") || strings.ContainsAny(line, "\n\r") {
				t.Errorf("%q: %q", text, line)
			}
		}
	})
}
