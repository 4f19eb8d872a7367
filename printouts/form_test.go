package printouts

import (
	"bytes"
	"strings"
	"testing"

	"nospark/printouts/paper/worksheets"
	"nospark/scenarios/handout"
)

// TestFormsOfTheirOwn: sheets of a class share a form; one whose complaint or tests differ gets its own, and reads
// as if it stood alone.
func TestFormsOfTheirOwn(t *testing.T) {
	h := sample(t, 3, 1)
	if shared := formsOf(must(t)(worksheets.PDF(h))); shared != 2 {
		t.Errorf("%d forms for the pages of three sheets alike, want one for each of the two pages", shared)
	}
	h.Worksheets[1].Complaint = strings.Repeat("A complaint that takes several lines. ", 12)
	tables := append([]handout.SmallTable(nil), h.Worksheets[2].Tables...)
	tables[0].Rows = tables[0].Rows[1:]
	h.Worksheets[2].Tables = tables
	class := contents(t, must(t)(worksheets.PDF(h)))
	if len(class) != 6 {
		t.Fatalf("%d pages, want 6", len(class))
	}
	for i := range h.Worksheets {
		if alone := contents(t, must(t)(worksheets.PDF(only(h, i)))); strings.Join(class[2*i:2*i+2],
			"\f") != strings.Join(alone, "\f") {
			t.Errorf("sheet %d differs from the one printed alone", i+1)
		}
	}
}

// formsOf counts the forms that pages of a document have in common.
func formsOf(pdf []byte) int { return bytes.Count(pdf, []byte("/Subtype /Form")) }
