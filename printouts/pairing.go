package printouts

import (
	"nospark/printouts/page"
	"nospark/scenarios"
)

// pair says whose readings sheet a student holds, as indexes into the worksheets.
type pair struct{ holder, sheet int }

// pairs joins neighbours of a section: two hold each other's readings sheets, and the last three of an odd number pass theirs round. A
// student alone in a section, and a spare sheet, have the instructor as their partner (holder -1).
func pairs(sheets []scenarios.Worksheet) []pair {
	var all []pair
	for from := 0; from < len(sheets); {
		to := from
		for to < len(sheets) && sheets[to].Section == sheets[from].Section && (sheets[to].Student == "") == (sheets[from].Student == "") {
			to++
		}
		switch {
		case sheets[from].Student == "":
			for i := from; i < to; i++ {
				all = append(all, pair{-1, i})
			}
		case to-from == 1:
			all = append(all, pair{-1, from})
		default:
			all = append(all, round(from, to)...)
		}
		from = to
	}
	return all
}

// round pairs the sheets of one section in their order.
func round(from, to int) []pair {
	var all []pair
	for i := from; i < to; {
		n := 2
		if to-i == 3 { // nobody stays alone
			n = 3
		}
		for k := range n {
			all = append(all, pair{i + (k+1)%n, i + k})
		}
		i += n
	}
	return all
}

// Pairing prints for the instructor who holds whose readings sheet, and slips to cut out that tell every student the same.
func Pairing(h scenarios.Handout) ([]byte, error) {
	doc, err := newDocument(h, "pairing")
	if err != nil {
		return nil, err
	}
	flow := doc.Section(page.Frame{Name: "Pairing list", Left: joined(", ", h.Program, h.Date), Right: h.Title, Foot: "Pairing list, for the instructor", Size: 10})
	flow.Title("Pairing list", "Who gets which worksheet, and whose readings sheet")
	flow.Bullets("Print the readings sheets on one side only: the back would be another student's sheet.",
		"Give each readings sheet to the partner, never to the student whose code it carries.",
		"Where no partner is named the instructor answers.")
	t := page.Table{Zebra: true, Columns: []page.Column{
		{Head: "student", Share: 3}, {Head: "worksheet", Width: page.Natural, Bold: true}, {Head: "readings sheet is held by", Share: 3},
		{Head: "handed out", Width: page.Natural, Align: page.Centre},
	}}
	all := pairs(h.Worksheets)
	for _, p := range all {
		w := h.Worksheets[p.sheet]
		t.Row(who(w), w.Code, holder(h, p), "□  □")
	}
	flow.Table(t)
	slips(doc, h, all)
	return doc.Bytes()
}

// who names a student for the list.
func who(w scenarios.Worksheet) string {
	if name := printedName(w); name != "" {
		return name
	}
	return "(spare)"
}

// holder names who answers.
func holder(h scenarios.Handout, p pair) string {
	if p.holder < 0 {
		return "instructor"
	}
	return printedName(h.Worksheets[p.holder])
}

// slips prints the seating slips: two beside each other, to cut along the dashed lines.
func slips(doc *page.Document, h scenarios.Handout, all []pair) {
	// looked up only, never walked: the order of a map would change the pages
	holds := make(map[int]int) // worksheet of the holder -> worksheet whose readings
	for _, p := range all {
		holds[p.holder] = p.sheet
	}
	var seated []pair
	for _, p := range all {
		if h.Worksheets[p.sheet].Student != "" {
			seated = append(seated, p)
		}
	}
	flow := doc.Section(page.Frame{Name: "Seating slips", Left: "Seating slips: cut along the dashed lines", Right: h.Title, Size: 10})
	const high = 39.0
	for i := 0; i < len(seated); i += 2 {
		row := seated[i:min(i+2, len(seated))]
		flow.Draw(high, func(c page.Canvas) {
			for k, p := range row {
				slip(c.Part(float64(k)*c.W/2, 0, c.W/2, high), h, p, holds)
			}
			dashed := page.Pen{Line: page.Grey, Width: 0.2, Dash: page.Dashed}
			c.Line(0, high, c.W, high, dashed)
			c.Line(c.W/2, 0, c.W/2, high, dashed)
		})
	}
}

// slip tells one student all there is to know before the lab, and no code but the two sheets'.
func slip(c page.Canvas, h scenarios.Handout, p pair, holds map[int]int) {
	w := h.Worksheets[p.sheet]
	const left = 4.0
	room := c.W - 2*left
	y := 4.0
	put := func(text string, style page.Style) {
		p := c.Set(room, text, style)
		c.Paragraph(left, y, p)
		y += p.H + 1
	}
	put(who(w), page.Style{Size: 12, Bold: true})
	put("Your worksheet: **"+w.Code+"**", page.Style{Size: 10})
	put("Your readings sheet is held by **"+holder(h, p)+"**", page.Style{Size: 10, Condensed: true})
	if other, ok := holds[p.sheet]; ok {
		put("You hold readings sheet **"+h.Worksheets[other].Code+"** of **"+printedName(h.Worksheets[other])+"**", page.Style{Size: 10, Condensed: true})
	}
}
