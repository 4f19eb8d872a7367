package printouts

import (
	"strings"
	"testing"

	"nospark/printouts/paper/readings"
	"nospark/printouts/paper/worksheets"
	"nospark/printouts/wording"
	"nospark/scenarios/handout"
	"nospark/scenarios/pack/packtest"
)

// built is the handout of a lab of a built-in pack for an invented class.
func built(t testing.TB, name string, students int) handout.Handout {
	t.Helper()
	h, err := handout.Of(classLab(t, name, students, ""))
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
