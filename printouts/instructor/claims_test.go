package instructor

import (
	"strings"
	"testing"

	"nospark/printouts/content"
	"nospark/scenarios/handout"
)

// TestClaimStrips: a strip for every sheet, spares marked; a picture only where the address of the bench is known.
func TestClaimStrips(t *testing.T) {
	h := handout.Handout{Worksheets: []handout.Worksheet{{Code: "K2-BCD", Student: "1001", Name: "Ada Quill"},
		{Code: "K3-BCD"}}}
	word := func(sheet string) string { return "word" + sheet }
	cards := func(squares func(code, word string) [][]bool) []content.Card {
		t.Helper()
		for _, b := range Claims(h, word, squares).Sections[0].Blocks {
			if c, is := b.(content.Cards); is && len(c.List) == len(h.Worksheets) {
				return c.List
			}
		}
		t.Fatal("no strips")
		return nil
	}
	plain := cards(nil)
	if !strings.Contains(plain[0].Name, "Ada Quill") || plain[1].Name != "(spare)" ||
		!strings.Contains(plain[0].Lead, "K2-BCD") || !strings.Contains(plain[1].Lead, "wordK3-BCD") {
		t.Errorf("%+v", plain)
	}
	asked := ""
	drawn := cards(func(code, word string) [][]bool {
		asked += code + "&" + word + " "
		return [][]bool{{true}}
	})
	if asked != "K2-BCD&wordK2-BCD K3-BCD&wordK3-BCD " {
		t.Errorf("pictures of %q", asked)
	}
	for i := range plain {
		if plain[i].Squares != nil || strings.Contains(plain[i].Lines[0], "Scan") {
			t.Errorf("without an address: %+v", plain[i])
		}
		if drawn[i].Squares == nil || !strings.Contains(drawn[i].Lines[0], "Scan the code, or open the address") {
			t.Errorf("with an address: %+v", drawn[i])
		}
	}
}
