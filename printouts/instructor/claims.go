package instructor

import (
	"nospark/printouts/content"
	"nospark/printouts/handouts"
	"nospark/printouts/wording"
	"nospark/scenarios/handout"
)

// Claims are strips to cut out, one a sheet: with its code and word a student claims it on a telephone. Squares makes
// the picture for cameras: it holds the address of the bench with both, and is nil where the address is not known, as
// cameras look for other texts on the web.
func Claims(h handout.Handout, word func(sheet string) string,
	squares func(code, word string) [][]bool) content.Document {
	how := "Open the address on the board and write both. "
	if squares != nil {
		how = "Scan the code, or open the address on the board and write both. "
	}
	var cards content.Cards
	for _, w := range h.Worksheets {
		name := handouts.Person(w)
		if name == "" {
			name = spare
		}
		card := content.Card{Name: name, Lead: "Sheet **" + w.Code + "**, word **" + word(w.Code) + "**",
			Lines: []string{how + "Keep the word to yourself: it opens your record."}}
		if squares != nil {
			card.Squares = squares(w.Code, word(w.Code))
		}
		cards.List = append(cards.List, card)
	}
	return content.Document{Title: h.Title + ", claims", Program: h.Program, Date: h.Date, Paper: h.Paper,
		Sections: []content.Section{{
			Name: "Claim strips", Left: "Claim strips: cut along the dashed lines",
			Right: wording.Join(", ", h.Title, h.Date), Size: 10,
			Blocks: []content.Block{cards, content.Cautions{Lacks: h.Lacks}},
		}}}
}
