package printouts

import (
	"context"
	"fmt"
	"strings"
	"testing"

	"nospark/printouts/paper/readings"
	"nospark/printouts/paper/worksheets"
	"nospark/printouts/wording"
	"nospark/scenarios/build"
	"nospark/scenarios/handout"
	"nospark/scenarios/pack"
	"nospark/scenarios/pack/packtest"
	"nospark/scenarios/roster"
	"nospark/scenarios/term"
)

// built is the handout of a lab of a built-in pack for an invented class.
func built(t testing.TB, name string, students int) handout.Handout {
	t.Helper()
	text, err := pack.Source(name)
	if err != nil {
		t.Fatal(err)
	}
	in := build.Input{
		Term: term.Term{ID: "test-term-1", Program: "Example Technical Program", Paper: "letter",
			Rubric: term.DefaultRubric(), Mastery: term.DefaultMastery()},
		Key: term.Key{7, 7, 7}, PackFile: name + ".toml", Pack: string(text),
	}
	for i := range students {
		in.Students = append(in.Students, roster.Student{ID: fmt.Sprintf("s%02d", i), Name: sampleName(i),
			Section: "A"})
	}
	if in.Plan, err = term.ParsePlan("plans/week05.toml", "title = \"Week 5\"\ndate = 2026-10-05\npack = "+
		"\"x\"\n"); err != nil {
		t.Fatal(err)
	}
	l, _, err := build.Lab(context.Background(), in)
	if err != nil {
		t.Fatal(err)
	}
	h, err := handout.Of(l)
	if err != nil {
		t.Fatal(err)
	}
	return h
}

// TestBuiltinPacksOnPaper: two pages a worksheet and one a readings sheet, with every line on both, whatever the
// pack and the paper.
func TestBuiltinPacksOnPaper(t *testing.T) {
	for _, name := range packtest.Packs(t) {
		h := built(t, name, 2)
		for _, paper := range []string{"letter", "a4"} {
			h.Paper = paper
			worksheets, readings := pagesOf(t, must(t)(worksheets.PDF(h))), pagesOf(t, must(t)(readings.PDF(h)))
			if len(worksheets) != 4 || len(readings) != 2 {
				t.Errorf("%s on %s: %d pages of worksheets and %d of readings for two students, want 4 and 2",
					name, paper, len(worksheets), len(readings))
				continue
			}
			for i, r := range h.Readings {
				words := strings.Fields(worksheets[2*i] + worksheets[2*i+1])
				for _, l := range r.Lines {
					if !contains(words, wording.Line(l.Number)) {
						t.Errorf("%s on %s: line %s is not on the worksheet", name, paper, wording.Line(l.Number))
					}
					// columns are set apart by blanks
					if !strings.Contains(strings.Join(strings.Fields(readings[i]), " "), answer(l)) {
						t.Errorf("%s on %s: %q is not on the readings sheet", name, paper, answer(l))
					}
				}
			}
			booklet := pagesOf(t, must(t)(booklet(h)))
			if len(booklet) > 4 {
				t.Errorf("%s on %s: a booklet of %d pages, want at most 4", name, paper, len(booklet))
			}
			reference := squeezed(booklet)
			for _, r := range h.Reference.Repairs {
				if !strings.Contains(reference, r.Code+r.Letters) {
					t.Errorf("%s on %s: repair %s%s is not in the booklet", name, paper, r.Code, r.Letters)
				}
			}
		}
	}
}

func contains(words []string, want string) bool {
	for _, w := range words {
		if w == want {
			return true
		}
	}
	return false
}
