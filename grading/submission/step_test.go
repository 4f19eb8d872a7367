package submission

import (
	"fmt"
	"strings"
	"testing"
)

func TestParseStep(t *testing.T) {
	check := func(text string, line int, letters, judged string) {
		t.Helper()
		got, err := ParseStep(text)
		if err != nil {
			t.Errorf("ParseStep(%q): %v", text, err)
			return
		}
		if want := (Step{Text: text, Line: line, Letters: letters, Judged: judged}); got != want {
			t.Errorf("ParseStep(%q) = %+v, want %+v", text, got, want)
		}
	}
	check("214KQ+", 214, "KQ", "+")
	check("214KQ-", 214, "KQ", "-")
	check("214KQ", 214, "KQ", "")
	check("007BD+", 7, "BD", "+")
	check("214kq+", 214, "KQ", "+")
	check("  214 KQ + ", 214, "KQ", "+")
	check("214\u00a0KQ\u00a0+", 214, "KQ", "+") // no-break spaces
	check("214KQ\u2212", 214, "KQ", "-")        // minus sign
	check("214KQ\u2013", 214, "KQ", "-")        // en dash
	check("214KQ\u2014", 214, "KQ", "-")        // em dash
	check("214KQ\uff0b", 214, "KQ", "+")        // full-width plus
	check("214KQ\uff0d", 214, "KQ", "-")        // full-width hyphen-minus
	check("２１４ＫＱ＋", 214, "KQ", "+")             // all full-width
	check("214KQ+\u200b", 214, "KQ", "+")       // zero-width space

	refuse := func(text, want string) {
		t.Helper()
		got, err := ParseStep(text)
		if err == nil || got.Line != -1 || got.Text != text {
			t.Errorf("ParseStep(%q) = %+v, %v; want line -1 and an error", text, got, err)
			return
		}
		if err.Error() != want {
			t.Errorf("ParseStep(%q)\n got: %s\nwant: %s", text, err, want)
		}
	}
	refuse("21KQ+", "'21KQ+' is not a step: a line has three digits, as in 021KQ+; write three digits, two letters "+
		"and + or -, like 214KQ+")
	refuse("2I4KQ+", "'2I4KQ+' is not a step: the letter I stands where a digit belongs; write three digits, two "+
		"letters and + or -, like 214KQ+")
	refuse("214KQok", "'214KQok' is not a step: \"OK\" follows the two letters; write three digits, two letters and "+
		"+ or -, like 214KQ+")
	refuse("214KQ++", "'214KQ++' is not a step: \"++\" follows the letters; write three digits, two letters and + or "+
		"-, like 214KQ+")
	refuse("214K+", "'214K+' is not a step; write three digits, two letters and + or -, like 214KQ+")
	const form = "write three digits, two letters and + or -, like 214KQ+"
	const never = "check letters are never A, E, I, O, U or Y; "
	refuse("7KQ-", "'7KQ-' is not a step: a line has three digits, as in 007KQ-; "+form)
	refuse("214K0+", "'214K0+' is not a step: the digit 0 stands where a letter belongs; "+never+form)
	refuse("2141Q+", "'2141Q+' is not a step: the digit 1 stands where a letter belongs; "+never+form)
	refuse("214-KQ-", "'214-KQ-' is not a step: \"-\" stands between line and letters; "+form)
	refuse("KQ214+", "'KQ214+' is not a step: the letters stand before the line; "+form)
	refuse("214", "'214' is not a step: the letters are missing; "+form)
	refuse("12,3", "'12,3' is not a step: it looks like a reading; "+form)
	refuse("12.55 V", "'12.55 V' is not a step: it looks like a reading; "+form)
	refuse("", "'' is not a step; write three digits, two letters and + or -, like 214KQ+")
	refuse("٢١٤KQ+", "'٢١٤KQ+' is not a step; write three digits, two letters and + or -, like 214KQ+")
	refuse(strings.Repeat("9", 50), "'"+strings.Repeat("9", 30)+"…' is not a step; write three digits, two letters "+
		"and + or -, like 214KQ+")
}

func TestParseCell(t *testing.T) {
	check := func(text, want string, remarks int) {
		t.Helper()
		n := &notes{}
		steps := parseCell("x, A1", text, n)
		var shown []string
		for _, s := range steps {
			if s.Place != "x, A1" {
				t.Errorf("parseCell(%q): place %q", text, s.Place)
			}
			shown = append(shown, plain(s))
		}
		if strings.Join(shown, " ") != want || n.count() != remarks {
			t.Errorf("parseCell(%q) = %q with %d remarks, want %q with %d", text, strings.Join(shown, " "), n.count(),
				want, remarks)
		}
	}
	check("", "", 0)
	check("   ", "", 0)
	check("214KQ+", "214KQ+", 0)
	check("214KQ+ 305HM-", "214KQ+ 305HM-", 0)
	check("214KQ,305HM-;001BB", "214KQ 305HM- 001BB", 0)
	check("214 KQ + 305 HM -", "214KQ+ 305HM-", 0)
	check("214KQ+ 30HM- 001BB", "214KQ+ ?30HM-? 001BB", 1) // the good ones stay, the bad one keeps its place
	check("see over", "?see over?", 1)
}

// plain shows a step the way a table of expectations can be read.
func plain(s Step) string {
	if s.Line < 0 {
		return "?" + s.Text + "?"
	}
	return fmt.Sprintf("%03d%s%s", s.Line, s.Letters, s.Judged)
}

// A step that is accepted is in the language, however it was written: what it means, written plainly, means the same.
func FuzzParseStep(f *testing.F) {
	for _, seed := range []string{"214KQ+", "007bd -", "２１４ＫＱ＋", "21KQ+", "2I4KQ+", "214KQ\u2212", "'", "\xff\xfe",
		"214KQ+ 305HM-"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		step, err := ParseStep(text)
		if err != nil {
			if step.Line != -1 || !strings.HasSuffix(err.Error(), stepHint) {
				t.Fatalf("refused %q as %+v, %v", text, step, err)
			}
		} else {
			again, err := ParseStep(plain(step))
			if err != nil || again.Line != step.Line || again.Letters != step.Letters || again.Judged != step.Judged {
				t.Fatalf("%q is %+v, but %q is %+v, %v", text, step, plain(step), again, err)
			}
		}
		n := &notes{}
		steps := parseCell("x", text, n)
		bad := 0
		for _, s := range steps {
			if s.Line < 0 {
				bad++
			} else if s.Line > 999 || len(s.Letters) != 2 || !strings.Contains("+-", s.Judged) {
				t.Fatalf("cell %q has step %+v", text, s)
			}
		}
		if bad != n.count() {
			t.Fatalf("cell %q: %d bad steps, %d remarks", text, bad, n.count())
		}
	})
}
