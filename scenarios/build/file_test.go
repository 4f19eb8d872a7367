package build

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"nospark/scenarios/handout"
	"nospark/scenarios/lab"
	"nospark/scenarios/term"
)

func TestEncodeAndDecode(t *testing.T) {
	l, _ := build(t, input(t, twoLamps(t), "spares = 1", 3))
	data := encode(t, l)
	again, err := lab.Decode("lab.json", data)
	if err != nil {
		t.Fatal(err)
	}
	if !reflect.DeepEqual(l, again) {
		t.Error("another lab came back")
	}
	var compact, broken any
	plain, err := json.Marshal(l)
	if err != nil {
		t.Fatal(err)
	}
	if json.Unmarshal(plain, &compact) != nil || json.Unmarshal(data, &broken) != nil ||
		!reflect.DeepEqual(compact, broken) {
		t.Error("breaking lines changed the content")
	}
	// A reading stands on a line of its own, so that two labs can be compared.
	if n := bytes.Count(data, []byte("\n   {\"n\":")); n != 4*len(l.Tests) {
		t.Errorf("%d lines with a reading, want %d", n, 4*len(l.Tests))
	}
	path := filepath.Join(t.TempDir(), "lab.json")
	if err := os.WriteFile(path, data, 0o600); err != nil {
		t.Fatal(err)
	}
	if read, err := lab.Read(path); err != nil || !reflect.DeepEqual(l, read) {
		t.Errorf("read from disk: %v", err)
	}
}

func TestBreakLines(t *testing.T) {
	check := func(in, want string) {
		t.Helper()
		if got := string(lab.BreakLines([]byte(in))); got != want {
			t.Errorf("got\n%s\nwant\n%s", got, want)
		}
	}
	check(`{}`, "{\n \n}\n")
	check(`{"a":1,"b":[1,2],"c":"x,{\"[\\"}`, "{\n \"a\":1,\n \"b\":[1,2],\n \"c\":\"x,{\\\"[\\\\\"\n}\n")
	check(`{"a":[{"b":1,"c":[{"d":[]}]},{}]}`, "{\n \"a\":[\n  {\"b\":1,\"c\":[\n   {\"d\":[]}\n  ]},\n  {}\n ]\n}\n")
}

func TestSeal(t *testing.T) {
	in := input(t, twoLamps(t), "", 3)
	l, _ := build(t, in)
	if got := l.Verify(in.Term.ID, in.Key[:]); got != lab.Sealed {
		t.Errorf("a new lab is %v", got)
	}
	other := in.Term
	other.ID = "another-term"
	if got := l.Verify(other.ID, in.Key[:]); got != lab.NotCheckable {
		t.Errorf("in another term: %v", got)
	}
	if got := l.Verify(in.Term.ID, make([]byte, term.KeySize)); got != lab.OtherKey {
		t.Errorf("with another key: %v", got)
	}
	for name, change := range map[string]func(*lab.Lab){
		"title":   func(l *lab.Lab) { l.Title += "!" },
		"reading": func(l *lab.Lab) { l.Sheets[1].Lines[2].Reading = "12.00 V" },
		"truth":   func(l *lab.Lab) { l.Sheets[0].Truth++ },
		"rubric":  func(l *lab.Lab) { l.Rubric.Evidence++ },
		"seal":    func(l *lab.Lab) { l.Seal = "" },
	} {
		again, err := lab.Decode("lab.json", encode(t, l))
		if err != nil {
			t.Fatal(err)
		}
		change(again)
		if got := again.Verify(in.Term.ID, in.Key[:]); got != lab.Changed {
			t.Errorf("after a change of the %s: %v", name, got)
		}
	}
}

func TestDecodeErrors(t *testing.T) {
	l, _ := build(t, input(t, builtin(t, "lamp"), "", 2))
	good := string(encode(t, l))
	check := func(name, old, new, want string) {
		t.Run(name, func(t *testing.T) {
			text := strings.Replace(good, old, new, 1)
			if text == good {
				t.Fatalf("nothing like %s in the lab", old)
			}
			if _, err := lab.Decode("lab.json", []byte(text)); err == nil || !strings.Contains(err.Error(), want) {
				t.Errorf("got %v, want %q", err, want)
			}
		})
	}
	check("newer", `"format":4`, `"format":5`, "lab.json: has format 5, this program knows formats up to 4; use the "+
		"newer nospark")
	check("no format", `"format":4`, `"form":1`, "has no format")
	check("unknown field", `"program":`, `"programme":`, `unknown field "programme"`)
	check("cut off", `"hypotheses"`, `"hypo`, "not the JSON of a lab")
	check("kind", `"rows":16`, `"rows":"12"`, "line 9: not the JSON of a lab")
	check("truth", `"truth":`, `"truth":9`, "the truth of sheet 0 leads outside")
	check("column", `"column":-1`, `"column":7`, "the column of test 0 leads outside: 7 of 0")
	check("bands", `"bands":"1`, `"bands":"/`, "band of hypothesis")
	check("line", `"n":`, `"n":9`, "sheet 0 has a line")
	check("name", `"name":"week05"`, `"name":"../x"`, "../x")
	if _, err := lab.Decode("lab.json", []byte(good+"{}")); err == nil {
		t.Error("two labs in one file are accepted")
	}
}

func FuzzDecodeLab(f *testing.F) {
	in := input(f, builtin(f, "lamp"), "", 1)
	l, _ := build(f, in)
	f.Add(encode(f, l))
	f.Add([]byte(`{"format":4}`))
	f.Fuzz(func(t *testing.T, data []byte) {
		l, err := lab.Decode("lab.json", data)
		if err != nil {
			return
		}
		// A sound lab can be used without a look at its indexes.
		l.Verify(in.Term.ID, in.Key[:])
		l.Problem()
		if h, err := handout.Of(l); err == nil && len(h.Worksheets) != len(l.Sheets) {
			t.Error("sheets got lost")
		}
		if _, err := l.Encode(); err != nil {
			t.Errorf("cannot be written again: %v", err)
		}
	})
}
