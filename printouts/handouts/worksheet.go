package handouts

import (
	"fmt"
	"slices"

	"nospark/printouts/content"
	"nospark/printouts/wording"
	"nospark/scenarios/handout"
	"nospark/scenarios/lab"
)

// Worksheet is a student's own sheet: complaint, tests with the lines to ask for, and the record.
func Worksheet(h handout.Handout, w handout.Worksheet) content.Section {
	s := content.Section{Name: SheetName(w.Code), Right: SheetName(w.Code), Foot: h.Title, Large: w.Large}
	s.Blocks = append(s.Blocks,
		content.Strip{Name: Person(w), About: About(h), Note: "Take this page off before handing in. The pages " +
			"below carry only the code of the sheet."},
		content.Title{Text: SheetName(w.Code), Below: h.Title},
		content.Heading{Level: 2, Text: "Complaint"},
		content.Paragraph{Text: w.Complaint},
		content.Paragraph{Text: wording.Capital(Arrived(h, w))},
		content.Paragraph{Text: strong(Forbidden(h))},
	)
	if text := Vehicle(h.Reference.Vehicle); text != "" {
		s.Blocks = append(s.Blocks, content.Paragraph{Text: "**Vehicle:** " + text})
	}
	if known := Known(w); len(known) > 0 {
		s.Blocks = append(s.Blocks, content.Heading{Level: 2, Text: KnownNote}, content.List{Items: known})
	}
	s.Blocks = append(s.Blocks, content.Paragraph{Text: Proven(h)}, content.Paragraph{Text: NotToday(h)})
	s.Blocks = append(s.Blocks, content.Cautions{Lacks: h.Lacks}, content.PageBreak{})
	if AtPoints(w) {
		s.Blocks = append(s.Blocks, content.Heading{Level: 2, Text: PointTests}, content.Paragraph{Text: cellsAbout})
	}
	for _, sweep := range Sweeps(h.Reference.Columns) {
		s.Blocks = append(s.Blocks, content.Heading{Level: 3, Text: h.Reference.Columns[sweep.From].Label},
			sweepTable(h.Reference, w, sweep))
	}
	s.Blocks = append(s.Blocks, otherTests(w)...)
	s.Blocks = append(s.Blocks, record(h, w)...)
	return s
}

// AtPoints tells whether a sheet has tests at the numbered points; those of a small circuit may all stand in tables.
func AtPoints(w handout.Worksheet) bool {
	return slices.ContainsFunc(w.Grid, func(row []handout.Cell) bool {
		return slices.ContainsFunc(row, func(c handout.Cell) bool { return c.Line != 0 })
	})
}

func strong(text string) string {
	if text == "" {
		return ""
	}
	return "**" + text + "**"
}

// Span is a run of columns of one sweep, the last one excluded.
type Span struct{ From, To int }

// Sweeps finds the runs of columns that share instrument and leads.
func Sweeps(columns []lab.Column) []Span {
	var all []Span
	for i, c := range columns {
		if n := len(all); n > 0 && columns[i-1].Sweep == c.Sweep {
			all[n-1].To = i + 1
			continue
		}
		all = append(all, Span{i, i + 1})
	}
	return all
}

// sweepTable are the lines of one sweep, by point and condition.
func sweepTable(ref handout.Reference, w handout.Worksheet, s Span) content.Table {
	t := content.Table{Keyed: 2, Empty: NoLine, Paper: content.PaperTable{Zebra: true}, Columns: []content.Column{
		{Width: 15, Align: content.Right, Header: true, Strong: true}, {Head: "point, role, access", Header: true},
	}}
	for _, c := range ref.Columns[s.From:s.To] {
		t.Columns = append(t.Columns, content.Column{Head: c.Condition + ", " + wording.Minutes(c.Minutes) +
			" min", Align: content.Center})
	}
	for i, p := range ref.Points {
		row := []string{fmt.Sprint(p.Number), wording.Join(", ", p.Label, lab.RoleName(p.Role),
			wording.Minutes(p.Access))}
		for _, cell := range w.Grid[i][s.From:s.To] {
			text := ""
			if cell.Line != 0 {
				text = wording.Line(cell.Line)
			}
			row = append(row, text)
		}
		t.Row(row...)
	}
	return t
}

// NoLine stands in a cell of the grid where there is no test.
const NoLine = "-"

// otherTests are the tests outside the grid.
func otherTests(w handout.Worksheet) []content.Block {
	if len(w.Tables) == 0 {
		return nil
	}
	blocks := []content.Block{content.Heading{Level: 2, Text: OtherTests}}
	for _, t := range w.Tables {
		meter, when := Shared(t.Rows)
		table := content.Table{Columns: []content.Column{
			{Head: "test", Header: true}, {Head: "min", Width: content.Natural, Align: content.Right},
			{Head: "line", Width: content.Natural, Strong: true},
		}}
		for _, r := range t.Rows {
			table.Row(TestText(r, meter, when), wording.Minutes(r.Minutes), wording.Line(r.Line))
		}
		blocks = append(blocks, content.Heading{Level: 3, Text: wording.Join(": ", t.Heading, TableNote(t))}, table)
	}
	return blocks
}

// record gives every test a group of fields, and ends with the conclusion.
func record(h handout.Handout, w handout.Worksheet) []content.Block {
	blocks := []content.Block{content.PageBreak{}, content.Heading{Level: 2, Text: RecordName(w.Code)},
		content.Paragraph{Text: howToWork}}
	c := RecordColumns()
	for i := range h.Rows {
		blocks = append(blocks, content.Form{Name: fmt.Sprintf("Test %d", i+1), Rows: [][]string{
			{c[0].Label}, {c[1].Label}, {c[2].Label, c[3].Label}, {c[4].Label, c[5].Label}, {c[6].Label, c[7].Label},
		}})
	}
	return append(blocks, content.Together{Blocks: []content.Block{
		content.Heading{Level: 2, Text: Conclusion},
		content.Form{Rows: [][]string{{TotalMinutes}, {"repair, like 12HM"}}},
		content.Lines{Label: Reason, Count: 3},
	}})
}
