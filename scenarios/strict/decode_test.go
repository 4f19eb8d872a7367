package strict

import (
	"fmt"
	"strings"
	"testing"
)

func TestDecodeSlips(t *testing.T) {
	check := func(text, want string) {
		t.Helper()
		values, slip := decode(text)
		if slip == nil {
			t.Errorf("%q is accepted: %v", text, values)
			return
		}
		if got := strings.TrimPrefix(slip.Text(""), ":"); got != want || values != nil {
			t.Errorf("%q\n got %s\nwant %s", text, got, want)
		}
	}
	check("a = 1\ndate = 25.11.2026\n",
		"2: date = 25.11.2026: want a day that exists; write year, month and day: 2026-10-05")
	check("date = 11/25/2026 # Wednesday",
		"1: date = 11/25/2026: want a day that exists; write year, month and day: 2026-10-05")
	check("date = 2026-13-45\n", "1: date = 2026-13-45: want a day that exists; write year, month and day: 2026-10-05")
	check("date = 2026-11-5\n", "1: date = 2026-11-5: want a day that exists; write year, month and day: 2026-10-05")
	check("title = \"No start\npack = \"lamp\"\n",
		"1: a quote is not closed in `title = \"No start`; end the text with the quote that begins it")
	check("a = [\"x, \"y\"]\nb = 1\n",
		"1: a list or table is not closed before `a = [\"x, \"y\"]`; end it with ] or }, and part its items by commas")
	check("title = No start\n", "1: title = No start: text is not in quotes; write title = \"No start\"")
	check("title = “No start”\n",
		"1: curly quotes in `title = “No start”`; write straight ones, as in `title = \"No start\"`")
	check("title = \"No\" start\n",
		"1: something follows the closing quote of title = `\"No\" start`; put all of it in one pair of quotes; a "+
			"quote "+
			"inside is written \\\"")
	check("pack = \"packs\\mine.toml\"\n",
		"1: a backslash within quotes in `pack = \"packs\\mine.toml\"`; write / instead, or \\\\ for a real backslash")
	check("pack = \"C:\\Users\\x.toml\"\n",
		"1: a backslash within quotes in `pack = \"C:\\Users\\x.toml\"`; write / instead, or \\\\ for a real backslash")
	check("date =\nb = 1\n", "1: nothing follows date =; write a value, or put # before the line")
	check("date = # later\nb = 1\n", "1: nothing follows date =; write a value, or put # before the line")
	check("a = [\"b\", \"c\"\nspares = 1\n",
		"2: a list or table is not closed before `spares = 1`; end it with ] or }, and part its items by commas")
	check("a = [\n  idle,\n]\n", "2: `idle,` is not a value; put texts in quotes")
	check("spares = 1\n\nspares = 2\n", "3: key 'spares' has already been defined; keep one of the two")
	check("spares 1\n", "1: `spares 1` has no = sign; write key = value, or begin a note with #")
	check("id,name,section\n1001,A,B\n",
		"1: `id,name,section` has no = sign; write key = value, or begin a note with #")
	check("x = 1,5\n", "1: x = 1,5: a comma in a number; write 1.5")
	check("student = 0042\n", "1: student = 0042: a number cannot begin with 0; write it in quotes: \"0042\"")
	check("unplug = Yes\n", "1: unplug = Yes: want true or false; write it in small letters without quotes")
	check("unplug = TRUE # all\n", "1: unplug = TRUE: want true or false; write it in small letters without quotes")
	check("[[mark]\nvalue = 1\n", "1: `[[mark]` is no heading; write [name] or [[name]] on a line of its own")
	check("[[mark\n\nvalue = 1\n", "1: `[[mark` is no heading; write [name] or [[name]] on a line of its own")
	check("[mark]\n[[mark]]\n",
		"2: key 'mark' was already created and cannot be used as an array; write [[...]] with two brackets each time")
	check("a = 1\rb = 2\r", "1: a line ends as on old computers, with a carriage return alone; save the file with "+
		"Windows or Unix line ends")
	check("a = 1\nb = \"caf\xe9\"\n", "2: the file is not UTF-8 text: byte 0xe9; save the file as UTF-8")
	check("\xff\xfea\x00=\x001\x00", "1: the file is not UTF-8 text; save the file as plain text, UTF-8")
	check("a = "+strings.Repeat("[", 30), "1: lists and tables lie 30 deep within each other, at most 20 are allowed")
}

// What editors of all systems write is no slip.
func TestDecodeAccepts(t *testing.T) {
	check := func(text string) {
		t.Helper()
		values, slip := decode(text)
		if slip != nil || fmt.Sprint(values) != "map[a:1 b:x\ufffd]" {
			t.Errorf("%q: %v, %v", text, values, slip)
		}
	}
	check("a = 1\nb = \"x\ufffd\"\n")
	check("\ufeffa = 1\r\nb = \"x\ufffd\"\r\n")
	check("\ta\t=\t1\t\n\tb = 'x\ufffd'")
}

// FuzzDecode: whatever the text, there are values or a slip on one of its lines, told on one line.
func FuzzDecode(f *testing.F) {
	for _, s := range seeds {
		f.Add(s)
	}
	for _, s := range []string{"a =", "[[a", "a = “x”", "a = \"\\m\"", "a = 1\r", "\xff", "=", "= 1", "a = [\n\n",
		"\n\n[", "a = \"", "= “"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		values, slip := decode(text)
		switch {
		case (values == nil) == (slip == nil):
			t.Fatalf("%q: %v and %v", text, values, slip)
		case slip != nil && (slip.Line < 1 || slip.Line > 1+strings.Count(text, "\n") || slip.What == "" ||
			strings.ContainsAny(slip.Text(""), "\r\n")):
			t.Fatalf("%q: %+v", text, slip)
		}
	})
}
