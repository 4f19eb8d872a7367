package printouts

import (
	"fmt"

	"nospark/printouts/diagram"
	"nospark/printouts/page"
	"nospark/printouts/vector"
	"nospark/scenarios/handout"
	"nospark/scenarios/lab"
)

// Reference prints the class reference: the diagram on a page of its own, then points, specifications, meters, repairs, how to work,
// and the cautions. It is the same for everyone.
func Reference(h handout.Handout) ([]byte, error) {
	doc, err := newDocument(h, "class reference")
	if err != nil {
		return nil, err
	}
	ref := h.Reference
	// across or upright, whichever shows the circuit larger; all pages alike, so that they can be bound
	width, height := paperSize(h.Paper)
	flow := doc.Section(page.Frame{
		Name: "Class reference", Left: joined(", ", h.Program, h.Date), Right: h.Title, Foot: "Class reference, the same for everyone",
		Size: 10, Landscape: diagram.Scale(ref.Diagram, height-40, width-60) >= diagram.Scale(ref.Diagram, width-40, height-60),
	})
	flow.Title(ref.PackTitle, "")
	circuit(flow, ref)
	flow.Turn()
	flow.Heading("Numbered points")
	flow.Columns(2, 8, func() { flow.Table(pointTable(ref.Points)) })
	if words := explained(ref); words != "" {
		flow.ParaIn(words, page.Style{Size: 9, Condensed: true})
	}
	flow.Heading("Specifications")
	flow.Para("A reading as given here is good. Where a good reading is given against the battery, your partner reads out the battery voltage of the same moment with it: compare the two.")
	flow.Table(specTable(ref.Specs))
	flow.Heading("Meters and what they show")
	columns := 1
	if len(ref.Meters) > 6 {
		columns = 2
	}
	flow.Columns(columns, 8, func() { flow.Table(meterTable(ref.Meters)) })
	flow.Heading("Repairs")
	flow.Para("Write one repair as your conclusion: " + repairCode + ". Common, occasional and rare tell how often a repair is needed on such vehicles.")
	flow.Columns(2, 8, func() { flow.Table(repairTable(ref.Repairs)) })
	flow.Together(func() {
		flow.Heading("How to work")
		flow.Numbered(howToWorkSteps...)
		if text := forbiddenText(h); text != "" {
			flow.Para("**" + text + "** Their readings prove nothing here and cost their minutes.")
		}
	})
	flow.Cautions()
	return doc.Bytes()
}

// circuit draws the diagram as large as the rest of the page allows, over a line that explains its signs.
func circuit(flow *page.Flow, ref handout.Reference) {
	const legend = 7.0
	flow.Draw(flow.Room()-1, func(c page.Canvas) {
		frame := vector.Rect{W: c.W, H: c.H - legend}
		c.Scene(diagram.Layout(ref.Diagram, frame, c.Width))
		c.Scene(diagram.Legend(ref.Diagram, vector.Rect{Y: frame.H + 2, W: c.W, H: legend - 2}, c.Width))
	})
}

// pointTable repeats the labels of the diagram, where some may have found no room, with role and access.
func pointTable(points []lab.Point) page.Table {
	t := page.Table{Size: 9, Condensed: true, Columns: []page.Column{
		{Head: "no.", Width: page.Natural, Align: page.Right, Bold: true}, {Head: "point"}, {Head: "role", Width: page.Natural},
		{Head: "access, min", Width: page.Natural, Align: page.Right},
	}}
	for _, p := range points {
		t.Row(fmt.Sprint(p.Number), p.Label, lab.RoleName(p.Role), minutes(p.Access))
	}
	return t
}

// specTable is set closely: with all single tests it is the longest table of the lab.
func specTable(specs []lab.SpecRow) page.Table {
	t := page.Table{Size: 9, Condensed: true, Columns: []page.Column{
		{Head: "specifications: where"}, {Head: "meter, leads", Width: page.Natural}, {Head: "when", Width: page.Natural}, {Head: "a good reading", Width: page.Natural, Bold: true},
	}}
	for _, s := range specs {
		t.Row(signed(withoutMeter(s.Where, s.Meter)), signed(s.Meter), s.When, s.Good)
	}
	return t
}

// meterTable says what each meter of the lab is.
func meterTable(meters []handout.MeterNote) page.Table {
	t := page.Table{Size: 9, Condensed: true, Columns: []page.Column{{Head: "meter", Width: page.Natural, Bold: true}, {Head: "what it is and shows"}}}
	for _, m := range meters {
		t.Row(m.Meter, m.Note)
	}
	return t
}

// repairTable gives everything that best play knows of a repair: how often it is needed, and what it costs.
func repairTable(repairs []lab.Repair) page.Table {
	t := page.Table{Size: 9, Condensed: true, Columns: []page.Column{
		{Head: "code", Width: page.Natural, Bold: true}, {Head: "repair"}, {Head: "how often", Width: page.Natural},
		{Head: "min", Width: page.Natural, Align: page.Right},
	}}
	for _, r := range repairs {
		t.Row(r.Code+r.Letters, r.Label, r.Rarity, minutes(r.Minutes))
	}
	return t
}
