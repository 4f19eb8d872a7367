package instructor

import (
	"fmt"
	"strings"

	"nospark/grading/bestplay"
	"nospark/printouts/content"
	"nospark/printouts/wording"
	"nospark/scenarios/lab"
)

// Key is the answer key: the class on the first page, a list of all sheets, then every sheet with its hidden
// fault, best play with the lines of that sheet, what reads abnormal, and the tests that look as if they had to
// catch the fault and do not.
func Key(lab *lab.Lab, key *bestplay.Key) content.Document {
	k := answerKey{lab, key}
	blocks := append(k.overview(), k.glance()...)
	blocks = append(blocks, content.PageBreak{})
	for i := range lab.Sheets {
		blocks = append(blocks, content.Together{Blocks: k.sheet(i)})
	}
	return document(lab, "answer key", content.Section{
		Name: "Answer key", Left: wording.Join(", ", lab.Program, lab.Title, lab.Date),
		Right: "Answer key: never for students",
		Foot:  "Answer key of lab " + lab.Name + ", for the instructor", Size: 9.5, Side: 15, Blocks: blocks,
	})
}

// answerKey is a key being written.
type answerKey struct {
	lab *lab.Lab
	key *bestplay.Key
}

// reference says against what efficiency is measured. Before sheets had cases it was the same for everyone.
func (k answerKey) reference() string {
	minutes := wording.Minutes(k.key.Reference)
	if k.lab.Format < lab.FirstWithCases {
		return fmt.Sprintf("Reference of this lab: **%s minutes**, the same for everyone. Efficiency is measured against it.",
			minutes)
	}
	return fmt.Sprintf("A work order gives more than the complaint, so its sheet begins further on: from there best play "+
		"is expected to take **%s minutes**, mean over the class. Efficiency is measured against what the own work order "+
		"lets expect.", minutes)
}

// overview is true of the whole class.
func (k answerKey) overview() []content.Block {
	lab, spread := k.lab, k.key.Spread
	return []content.Block{
		content.Title{
			Text:  "Answer key: " + lab.Title,
			Below: wording.Join(", ", lab.Pack.Title, wording.Count(len(lab.Sheets), "sheet", "sheets"), lab.Date),
		},
		content.Cautions{Lacks: k.lab.Lacks},
		content.Heading{Level: 2, Text: "The class"},
		k.complaints(),
		content.Paragraph{Text: k.reference()},
		content.Heading{Level: 2, Text: "How hard the sheets are"},
		content.Paragraph{Text: fmt.Sprintf("Minutes that best play does take to the fault that a sheet hides, "+
			"beside what was to be expected: from %s to %s, %s on average. Each dot is a sheet.",
			wording.Minutes(spread.Low), wording.Minutes(spread.High), wording.LostMinutes(spread.Mean))},
		k.spread(),
		content.Heading{Level: 2, Text: "Hidden faults"},
		k.faults(),
	}
}

func (k answerKey) complaints() content.Table {
	t := content.Table{Columns: []content.Column{
		{Head: "complaint", Share: 4, Header: true}, {Head: "sheets", Width: content.Natural, Align: content.Right},
		{Head: "suspects by the complaint alone", Width: content.Natural, Align: content.Right},
		{Head: "best play from there, min", Width: content.Natural, Align: content.Right},
	}}
	for _, c := range k.key.Complaints {
		t.Row(k.lab.Complaints[c.Complaint].Label, fmt.Sprint(c.Sheets), fmt.Sprint(c.Suspects),
			wording.LostMinutes(c.Value))
	}
	return t
}

func (k answerKey) faults() content.Table {
	t := content.Table{Paper: content.PaperTable{Zebra: true}, Columns: []content.Column{
		{Head: "fault", Share: 4, Header: true}, {Head: "repair", Share: 4},
		{Head: "code", Width: content.Natural, Strong: true},
		{Head: "sheets", Width: content.Natural, Align: content.Right},
		{Head: "best play, min", Width: content.Natural, Align: content.Right},
	}}
	for _, v := range k.key.Faults {
		fault := k.lab.Faults[v.Fault]
		repair := k.lab.Repairs[fault.Repair]
		span := wording.Minutes(v.Low)
		if v.High > v.Low {
			span += " to " + wording.Minutes(v.High)
		}
		t.Row(fault.Label, repair.Label, repair.Code+repair.Letters, fmt.Sprint(v.Sheets), span)
	}
	return t
}

// spread shows the sheets over an axis of minutes.
func (k answerKey) spread() content.Figure {
	low, high := max(k.key.Spread.Low/10-1, 0), k.key.Spread.High/10+2
	d := content.Dots{From: float64(low), To: float64(high), Tick: float64(max(1, (high-low)/16)),
		Unit: "minutes of best play", Highest: 60}
	for _, s := range k.key.Sheets {
		d.Values = append(d.Values, float64(s.Minutes)/10)
	}
	return content.Figure{Picture: d, Words: []string{d.Words("sheet", "sheets", "min")}}
}

// glance lists all sheets, for the instructor who walks round.
func (k answerKey) glance() []content.Block {
	t := content.Table{Paper: content.PaperTable{Zebra: true}, Columns: []content.Column{
		{Head: "sheet", Width: content.Natural, Header: true, Strong: true}, {Head: "student", Share: 3},
		{Head: "hidden fault", Share: 4},
		{Head: "repair", Width: content.Natural, Strong: true},
		{Head: "min", Width: content.Natural, Align: content.Right},
	}}
	for i, s := range k.lab.Sheets {
		v := k.key.Sheets[i]
		t.Row(s.Code, studentName(s), k.lab.Faults[v.Fault].Label, k.codes(v), wording.Minutes(v.Minutes))
	}
	return []content.Block{
		content.Heading{Level: 2, Text: "All sheets at a glance"}, t,
		content.Paragraph{Text: "On the next pages each sheet has its best play with line and letters as on its " +
			"readings sheet, and the suspects before and after each reading. **Traps** are tests that examine " +
			"the faulty part, or are made at one of its points, and read normal although the part is bad."},
	}
}

// codes are the code of the right repair and those of the repairs that count as right too.
func (k answerKey) codes(v bestplay.KeySheet) string {
	var all []string
	for _, r := range append([]int{v.Repair}, v.Also...) {
		all = append(all, k.lab.Repairs[r].Code+k.lab.Repairs[r].Letters)
	}
	return strings.Join(all, " or ")
}

// studentName is the name with id and section, as the id tells a student even where the typeface lacks the letters
// of the name.
func studentName(s lab.Sheet) string {
	if name := wording.Join(", ", s.Name, s.Student, s.Section); name != "" {
		return name
	}
	return spare
}
