package printouts

import (
	"nospark/printouts/page"
	"nospark/scenarios/handout"
)

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

// Pairing prints for the instructor who holds whose readings sheet, and slips to cut out that tell every student the same.
func Pairing(h handout.Handout) ([]byte, error) {
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
		{Head: "handed out", Width: page.Natural, Align: page.Center},
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
func who(w handout.Worksheet) string {
	if name := printedName(w); name != "" {
		return name
	}
	return "(spare)"
}

// holder names who answers.
func holder(h handout.Handout, p pair) string {
	if p.holder < 0 {
		return "instructor"
	}
	return printedName(h.Worksheets[p.holder])
}

// slips prints the seating slips: two beside each other, to cut along the dashed lines.
func slips(doc *page.Document, h handout.Handout, all []pair) {
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
	for i := 0; i < len(seated); i += 2 {
		high := slipLeast
		var row [][]page.Paragraph
		for _, p := range seated[i:min(i+2, len(seated))] {
			lines := slipLines(flow, h, p, holds)
			row = append(row, lines)
			high = max(high, slipHigh(lines)) // long names take more lines
		}
		flow.Draw(high, func(c page.Canvas) {
			for k := range row {
				slip(c.Part(float64(k)*c.W/2, 0, c.W/2, high), row[k])
			}
			dashed := page.Pen{Line: page.Gray, Width: 0.2, Dash: page.Dashed}
			c.Line(0, high, c.W, high, dashed)
			c.Line(c.W/2, 0, c.W/2, high, dashed)
		})
	}
}

// Measures of a slip, mm.
const (
	slipLeast = 38.0
	slipEdge  = 3.5 // around the text
	slipGap   = 1.0 // between its lines
)

// slipHigh is the height of a slip with these lines.
func slipHigh(lines []page.Paragraph) float64 {
	high := 2*slipEdge - slipGap
	for _, l := range lines {
		high += l.H + slipGap
	}
	return high
}

// slip draws one.
func slip(c page.Canvas, lines []page.Paragraph) {
	y := slipEdge
	for _, l := range lines {
		c.Paragraph(slipEdge, y, l)
		y += l.H + slipGap
	}
}

// slipLines tell one student all there is to know before the lab, and no code but the two sheets'.
func slipLines(flow *page.Flow, h handout.Handout, p pair, holds map[int]int) []page.Paragraph {
	w, room := h.Worksheets[p.sheet], flow.W/2-2*slipEdge
	lines := []page.Paragraph{
		flow.Set(room, who(w), page.Style{Size: 12, Bold: true}),
		flow.Set(room, "Your worksheet: **"+w.Code+"**", page.Style{Size: 10}),
		flow.Set(room, "Your readings sheet is held by **"+holder(h, p)+"**", page.Style{Size: 10, Condensed: true}),
	}
	if other, ok := holds[p.sheet]; ok {
		text := "You hold readings sheet **" + h.Worksheets[other].Code + "** of **" + printedName(h.Worksheets[other]) + "**"
		lines = append(lines, flow.Set(room, text, page.Style{Size: 10, Condensed: true}))
	}
	return lines
}
