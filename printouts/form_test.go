package printouts

import (
	"strings"
	"testing"

	"nospark/printouts/page"
	"nospark/scenarios/handout"
)

// TestFormsOfTheirOwn: sheets of a class share a form; one whose complaint or tests differ gets its own, and reads as if it stood alone.
func TestFormsOfTheirOwn(t *testing.T) {
	h := sample(t, 3, 1)
	doc, err := newSheets(h, "worksheets")
	if err != nil {
		t.Fatal(err)
	}
	if s := planWorksheet(doc.Section(page.Frame{}), h, h.Worksheets[0]); !s.serves(h.Worksheets[1]) {
		t.Error("the form of one sheet does not serve the next")
	}
	h.Worksheets[1].Complaint = strings.Repeat("A complaint that takes several lines. ", 12)
	tables := append([]handout.SmallTable(nil), h.Worksheets[2].Tables...)
	tables[0].Rows = tables[0].Rows[1:]
	h.Worksheets[2].Tables = tables
	class := contents(t, must(t)(Worksheets(h)))
	if len(class) != 6 {
		t.Fatalf("%d pages, want 6", len(class))
	}
	for i, w := range h.Worksheets {
		one, err := Only(h, w.Code)
		if err != nil {
			t.Fatal(err)
		}
		if alone := contents(t, must(t)(Worksheets(one))); strings.Join(class[2*i:2*i+2], "\f") != strings.Join(alone, "\f") {
			t.Errorf("sheet %d differs from the one printed alone", i+1)
		}
	}
}
