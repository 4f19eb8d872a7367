package printouts

import (
	"strings"
	"testing"
)

func TestPairingOnPaper(t *testing.T) {
	h := sample(t, 3, 1)
	pages := pagesOf(t, must(t)(pairing(h)))
	for i, w := range h.Worksheets {
		partner := h.Worksheets[(i+1)%3] // see sample
		row := ""
		for _, text := range strings.Split(pages[0], "\n") {
			if strings.Contains(text, w.Code) {
				row = text
			}
		}
		at, then := strings.Index(row, w.Name), strings.LastIndex(row, partner.Name)
		if at < 0 || then <= at {
			t.Errorf("row %q, want %s held by %s", row, w.Name, partner.Name)
		}
	}
	if len(pages) != 2 || strings.Count(pages[1], "Your worksheet") != 3 {
		t.Errorf("seating slips: %q", pages)
	}
}
