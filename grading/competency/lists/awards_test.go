package lists

import (
	"bytes"
	"strings"
	"testing"

	"nospark/grading/evidence"
	"nospark/scenarios/term"
)

// newKey is the key of an invented term.
func newKey() term.Key { return term.Key{1} }

// TestAwards: the register gives back what was put in, grows without changing, and notices every change.
func TestAwards(t *testing.T) {
	key := newKey()
	first := Award{Date: "2026-12-04", Student: "1", Competency: evidence.Proof, What: Awarded, By: "=cmd",
		Rule:     "a rule, in words",
		Evidence: "week01 K2-BCD ✓"}
	second := Award{Date: "2026-12-05", Student: "2", Competency: evidence.Proof, What: Withdrawn, Rule: "two\nlines"}
	one, err := AddAwards("awards.csv", nil, key, []Award{first})
	if err != nil {
		t.Fatal(err)
	}
	two, err := AddAwards("awards.csv", one, key, []Award{second})
	if err != nil || !bytes.HasPrefix(two, one) {
		t.Fatalf("%v\n%s\n%s", err, one, two)
	}
	list, err := ParseAwards("awards.csv", two, key)
	if err != nil || len(list) != 2 || list[0].By != "=cmd" || list[0].Evidence != first.Evidence ||
		list[1].By != "-" ||
		list[1].Rule != "two lines" || list[1].Place != "awards.csv:3" {
		t.Fatalf("%+v, %v", list, err)
	}
	if !strings.Contains(string(two), "'=cmd") {
		t.Errorf("a spreadsheet would calculate\n%s", two)
	}
	check := func(what, text string, sound int) {
		t.Helper()
		list, err := ParseAwards("awards.csv", []byte(text), key)
		if err == nil || len(list) != sound {
			t.Errorf("%s: %d lines, %v", what, len(list), err)
		}
		if more, err := AddAwards("awards.csv", []byte(text), key, []Award{first}); err == nil {
			t.Errorf("%s: added to\n%s", what, more)
		}
	}
	text := string(two)
	lines := strings.SplitAfter(text, "\n")
	check("a changed id", strings.Replace(text, "2026-12-04,1,", "2026-12-04,3,", 1), 0)
	check("a changed date of the second", strings.Replace(text, "2026-12-05", "2026-12-06", 1), 1)
	check("the first taken out", lines[0]+lines[2], 0)
	check("exchanged", lines[0]+lines[2]+lines[1], 0)
	check("twice", text+lines[2], 2)
	check("no heading", lines[1], 0)
	if _, err := ParseAwards("awards.csv", two, [32]byte{9}); err == nil {
		t.Error("sealed with another key")
	}
}

// FuzzParseAwards reads any text as a register: it never gives a line whose hash does not fit, and what it gives can be
// added to.
func FuzzParseAwards(f *testing.F) {
	good, err := AddAwards("awards.csv", nil, newKey(),
		[]Award{{Date: "2026-12-04", Student: "1", Competency: "proof", What: Awarded}})
	if err != nil {
		f.Fatal(err)
	}
	f.Add(good)
	f.Add(good[:len(good)/2])
	f.Add([]byte("date,id\n"))
	f.Add([]byte("\xff"))
	f.Fuzz(func(t *testing.T, data []byte) {
		list, err := ParseAwards("awards.csv", data, newKey())
		before := ""
		for _, a := range list {
			if a.hash(newKey(), before) != a.Hash {
				t.Fatalf("%+v does not fit", a)
			}
			before = a.Hash
		}
		more, added := AddAwards("awards.csv", data, newKey(),
			[]Award{{Student: "2", Competency: "proof", What: Awarded}})
		if len(data) > 0 && (err == nil) != (added == nil) {
			t.Fatalf("read %v, added to %v", err, added)
		}
		if added == nil {
			again, err := ParseAwards("awards.csv", more, newKey())
			if err != nil || len(again) != len(list)+1 {
				t.Fatalf("%d lines, %d before: %v\n%s", len(again), len(list), err, more)
			}
		}
	})
}
