package printouts

import (
	"fmt"
	"slices"
	"strings"

	"nospark/printouts/page"
	"nospark/scenarios/handout"
)

// largeWorksheet prints a worksheet in large print: the same lines and codes, one sweep after the other, on as many pages as it takes.
func largeWorksheet(doc *page.Document, h handout.Handout, w handout.Worksheet) {
	flow := doc.Section(page.Frame{Name: "Sheet " + w.Code, Right: "Sheet " + w.Code, Foot: h.Title, Large: true})
	if name := printedName(w); name != "" {
		flow.Title(name, h.Title)
	} else {
		flow.Title(h.Title, "")
		flow.Fields("name")
	}
	flow.Para("Take this page off before handing in. The pages below carry only the code of the sheet.")
	flow.Turn() // the name stays on a page of its own, as on the stub
	flow.Title("Sheet "+w.Code, h.Title)
	flow.Heading("Complaint")
	flow.Para(w.Complaint)
	if text := forbiddenText(h); text != "" {
		flow.Para("**" + text + "**")
	}
	if text := vehicleText(h.Reference.Vehicle); text != "" {
		flow.Para("**Vehicle:** " + text)
	}
	flow.CautionsShort()
	flow.Turn()
	flow.Heading("Tests at the numbered points")
	flow.Para("Each number is a line to ask for; a dash means there is no such test. The minutes after a point's name are for access: add them to those of the column. " +
		"Points without such a test are left out.")
	for _, s := range sweeps(h.Reference.Columns) {
		largeSweep(flow, h.Reference, w, s)
	}
	flow.Heading("Other tests")
	for _, t := range w.Tables {
		meter, when := shared(t.Rows)
		flow.Subheading(joined(": ", t.Heading, joined(", ", unsaid(t.Heading, meter), unsaid(t.Heading, when))))
		table := page.Table{Columns: []page.Column{{Head: "test"}, {Head: "min", Width: page.Natural, Align: page.Right}, {Head: "line", Width: page.Natural, Bold: true}}}
		for _, r := range t.Rows {
			table.Row(rowText(r, meter, when), minutes(r.Minutes), line(r.Line))
		}
		flow.Table(table)
	}
	largeRecord(flow, h, w)
}

// largeSweep is one sweep of the grid. Its conditions are listed under letters, because their names are too long for heads of columns.
func largeSweep(flow *page.Flow, ref handout.Reference, w handout.Worksheet, s span) {
	flow.Heading(ref.Columns[s.from].Label)
	const most = 5
	for from := s.from; from < s.to; from += most {
		to := min(from+most, s.to)
		t := page.Table{Zebra: true, Columns: []page.Column{{Width: 15, Align: page.Right, Bold: true}, {Head: "point, access"}}}
		var legend []string
		for i, c := range ref.Columns[from:to] {
			letter := string(rune('A' + from - s.from + i))
			legend = append(legend, fmt.Sprintf("%s: %s, %s min", letter, c.Condition, minutes(c.Minutes)))
			t.Columns = append(t.Columns, page.Column{Head: letter, Width: 17, Align: page.Center})
		}
		flow.Subheading(strings.Join(legend, "; ")) // stays with the table
		for i, p := range ref.Points {
			if !slices.ContainsFunc(w.Grid[i][from:to], func(c handout.Cell) bool { return c.Line != 0 }) {
				continue
			}
			row := []string{fmt.Sprint(p.Number), p.Label + ", " + minutes(p.Access)}
			for _, cell := range w.Grid[i][from:to] {
				row = append(row, cellText(cell))
			}
			t.Row(row...)
		}
		flow.Table(t)
	}
}

// largeRecord gives every test a block of labelled lines.
func largeRecord(flow *page.Flow, h handout.Handout, w handout.Worksheet) {
	flow.Turn()
	flow.Heading("Record of sheet " + w.Code)
	flow.Para(howToWork)
	for i := range h.Rows {
		flow.Together(func() {
			flow.Subheading(fmt.Sprintf("Test %d", i+1))
			flow.Fields("test")
			flow.Fields("expected")
			flow.Fields("line", "minutes")
			flow.Fields("letters", "reading")
			flow.Fields("OK?", "rules out")
		})
	}
	flow.Together(func() {
		flow.Heading("Conclusion")
		flow.Fields("total minutes")
		flow.Fields("repair, like 12HM")
		flow.Para("Reason")
		flow.Blanks(3)
	})
}

// largeReadings prints a readings sheet in large print, in two columns.
func largeReadings(doc *page.Document, h handout.Handout, r handout.ReadingsSheet) {
	flow := doc.Section(page.Frame{Name: "Readings " + r.Code, Right: "Readings for sheet " + r.Code, Foot: "for the partner only", Large: true})
	flow.Para(howToAnswer)
	flow.Space(3)
	const high = 8.4 // mm, a line of 18 pt
	for from := 0; from < len(r.Lines); {
		rows := max(1, int(flow.Room()/high))
		to := min(from+2*rows, len(r.Lines))
		block := r.Lines[from:to]
		flow.Draw(float64(min(rows, len(block)))*high, func(c page.Canvas) {
			wide := (c.W - 5) / 2
			for i, a := range block {
				cell := c.Part(float64(i/rows)*(wide+5), float64(i%rows)*high, wide, high)
				printAnswer(cell, a, 18)
				cell.Line(0, cell.H, cell.W, cell.H, page.Pen{Line: page.Rule, Width: 0.2})
			}
		})
		if from = to; from < len(r.Lines) {
			flow.Turn()
		}
	}
	largePlots(flow, r.Plots)
}

// largePlots prints the oscilloscope pictures one below the other.
func largePlots(flow *page.Flow, plots []handout.Plot) {
	for _, p := range plots {
		flow.Together(func() {
			flow.Subheading("line " + line(p.Line))
			flow.Draw(110, func(c page.Canvas) { drawPlot(c, p) })
		})
	}
}
