package instructor

import (
	"nospark/printouts/content"
	"nospark/printouts/handouts"
	"nospark/printouts/wording"
	"nospark/scenarios/handout"
)

// spare names a sheet without a student.
const spare = "(spare)"

// Pairing lists who holds whose readings sheet, and gives slips to cut out that tell every student the same.
func Pairing(h handout.Handout) content.Document {
	all := pairs(h.Worksheets)
	t := content.Table{Paper: content.PaperTable{Zebra: true}, Columns: []content.Column{
		{Head: "student", Share: 3, Header: true}, {Head: "worksheet", Width: content.Natural, Strong: true},
		{Head: "readings sheet is held by", Share: 3},
		{Head: "handed out", Width: content.Natural, Align: content.Center},
	}}
	for _, p := range all {
		w := h.Worksheets[p.sheet]
		student := handouts.Person(w)
		if student == "" {
			student = spare
		}
		t.Row(student, w.Code, holder(h, p), "□  □")
	}
	return content.Document{Title: h.Title + ", pairing", Program: h.Program, Date: h.Date, Paper: h.Paper,
		Sections: []content.Section{
			{
				Name: "Pairing list", Left: wording.Join(", ", h.Program, h.Date), Right: h.Title,
				Foot: "Pairing list, for the instructor", Size: 10,
				Blocks: []content.Block{
					content.Title{Text: "Pairing list", Below: "Who gets which worksheet, and whose readings sheet"},
					content.List{Items: []string{
						"Print the readings sheets on one side only: the back would be another student's sheet.",
						"Give each readings sheet to the partner, never to the student whose code it carries.",
						"Where no partner is named the instructor answers.",
					}},
					t,
				},
			},
			{
				Name: "Seating slips", Left: "Seating slips: cut along the dashed lines", Right: h.Title, Size: 10,
				Blocks: []content.Block{slips(h, all)},
			},
		}}
}

// pair says whose readings sheet a student holds, as indexes into the worksheets.
type pair struct{ holder, sheet int }

// pairs lists who holds whose readings, in the order of the sheets; the holder is -1 for the instructor.
func pairs(sheets []handout.Worksheet) []pair {
	at := map[string]int{"": -1} // looked up only
	for i, w := range sheets {
		at[w.Code] = i
	}
	var all []pair
	for i, w := range sheets {
		all = append(all, pair{at[w.Holder], i})
	}
	return all
}

// holder names who answers.
func holder(h handout.Handout, p pair) string {
	if p.holder < 0 {
		return "instructor"
	}
	return handouts.Person(h.Worksheets[p.holder])
}

// slips tell each student all there is to know before the lab, and no code but the two sheets'.
func slips(h handout.Handout, all []pair) content.Cards {
	holds := make(map[int]int) // worksheet of the holder -> worksheet whose readings; looked up only
	for _, p := range all {
		holds[p.holder] = p.sheet
	}
	var cards content.Cards
	for _, p := range all {
		w := h.Worksheets[p.sheet]
		if w.Student == "" {
			continue
		}
		card := content.Card{
			Name: handouts.Person(w), Lead: "Your worksheet: **" + w.Code + "**",
			Lines: []string{"Your readings sheet is held by **" + holder(h, p) + "**"},
		}
		if other, ok := holds[p.sheet]; ok {
			owner := h.Worksheets[other]
			card.Lines = append(card.Lines, "You hold readings sheet **"+owner.Code+"** of "+
				"**"+handouts.Person(owner)+"**", "Say: “Line 214: K, Q, 12.39 volts”, and nothing else")
		}
		cards.List = append(cards.List, card)
	}
	return cards
}
