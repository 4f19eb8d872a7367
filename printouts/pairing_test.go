package printouts

import (
	"nospark/scenarios/handout"
	"slices"
	"strings"
	"testing"
)

func TestPairs(t *testing.T) {
	sheets := []handout.Worksheet{{Code: "a", Holder: "b"}, {Code: "b", Holder: "c"}, {Code: "c", Holder: "a"}, {Code: "d"}}
	if got, want := pairs(sheets), []pair{{1, 0}, {2, 1}, {0, 2}, {-1, 3}}; !slices.Equal(got, want) {
		t.Errorf("got %v, want %v", got, want)
	}
}

func TestPairingOnPaper(t *testing.T) {
	h := sample(t, 3, 1)
	pages := pagesOf(t, must(t)(Pairing(h)))
	for _, p := range pairs(h.Worksheets) {
		row := ""
		for _, text := range strings.Split(pages[0], "\n") {
			if strings.Contains(text, h.Worksheets[p.sheet].Code) {
				row = text
			}
		}
		student, partner := strings.Index(row, h.Worksheets[p.sheet].Name), strings.LastIndex(row, h.Worksheets[p.holder].Name)
		if student < 0 || partner <= student {
			t.Errorf("row %q, want %s held by %s", row, h.Worksheets[p.sheet].Name, h.Worksheets[p.holder].Name)
		}
	}
	if len(pages) != 2 || strings.Count(pages[1], "Your worksheet") != 3 {
		t.Errorf("seating slips: %q", pages)
	}
}
