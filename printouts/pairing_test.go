package printouts

import (
	"reflect"
	"strings"
	"testing"

	"nospark/scenarios"
)

func TestPairs(t *testing.T) {
	class := func(sections string) []scenarios.Worksheet {
		var all []scenarios.Worksheet
		for _, s := range sections {
			w := scenarios.Worksheet{Student: "x", Section: string(s)}
			if s == '.' {
				w = scenarios.Worksheet{}
			}
			all = append(all, w)
		}
		return all
	}
	check := func(sections string, want ...int) {
		t.Helper()
		got := make([]int, len(sections))
		for _, p := range pairs(class(sections)) {
			got[p.sheet] = p.holder
		}
		if !reflect.DeepEqual(got, want) {
			t.Errorf("%s: held by %v, want %v", sections, got, want)
		}
	}
	check("AA", 1, 0)
	check("AAAA", 1, 0, 3, 2)
	check("AAA", 1, 2, 0)
	check("AAAAA", 1, 0, 3, 4, 2)
	check("A", -1)
	check("AAB", 1, 0, -1)
	check("AABB..", 1, 0, 3, 2, -1, -1)
	// nobody holds their own readings, and nobody two sheets
	for n := 2; n < 60; n++ {
		seen := make(map[int]bool)
		for _, p := range pairs(class(strings.Repeat("A", n))) {
			if p.holder == p.sheet || p.holder < 0 || seen[p.holder] {
				t.Errorf("%d students: %+v", n, p)
			}
			seen[p.holder] = true
		}
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
