package handouts

import (
	"fmt"

	"nospark/printouts/content"
	"nospark/printouts/wording"
	"nospark/scenarios/handout"
)

// SoFar is what a student has committed on a telephone, to go on on paper.
type SoFar struct {
	Worksheet handout.Worksheet
	Steps     []DoneStep
	Concluded string // the repair, "" for none
}

// DoneStep is a committed test with its reading.
type DoneStep struct {
	Test, Expected, Line, Reading, Judged, RulesOut string
	Minutes                                         int64  // tenths
	Void                                            string // why it counts for nothing, "" while it counts
}

// SoFarDocument prints records that were begun on telephones, each with what is written next.
func SoFarDocument(h handout.Handout, records []SoFar) content.Document {
	d := content.Document{Title: h.Title + ", so far", Program: h.Program, Date: h.Date, Paper: h.Paper}
	for _, r := range records {
		d.Sections = append(d.Sections, soFar(h, r))
	}
	return d
}

func soFar(h handout.Handout, r SoFar) content.Section {
	w := r.Worksheet
	s := content.Section{Name: SheetName(w.Code), Right: SheetName(w.Code), Foot: h.Title, Large: w.Large}
	t := content.Table{Columns: []content.Column{
		{Head: "step", Width: content.Natural, Header: true, Strong: true}, {Head: "test", Share: 2},
		{Head: "expected"},
		{Head: "line", Width: content.Natural}, {Head: "min", Width: content.Natural, Align: content.Right},
		{Head: "reading", Strong: true}, {Head: "OK?", Width: content.Natural}, {Head: "rules out"},
	}}
	var minutes int64
	for i, step := range r.Steps {
		test, cost := step.Test, step.Minutes
		if step.Void != "" {
			test, cost = step.Test+" (taken back: "+step.Void+")", 0
		}
		minutes += cost
		t.Row(fmt.Sprint(i+1), test, step.Expected, step.Line, wording.Minutes(cost), step.Reading, step.Judged,
			step.RulesOut)
	}
	s.Blocks = append(s.Blocks,
		content.Title{Text: RecordName(w.Code) + " so far", Below: wording.Join(", ", Person(w), h.Title)},
		content.Paragraph{Text: "**" + w.Complaint + "**"})
	if known := Known(w); len(known) > 0 {
		s.Blocks = append(s.Blocks, content.Heading{Level: 2, Text: KnownNote}, content.List{Items: known})
	}
	s.Blocks = append(s.Blocks, content.Heading{Level: 2, Text: fmt.Sprintf("%s, %s min",
		wording.Count(len(r.Steps), "step", "steps"), wording.Minutes(minutes))}, t)
	next := fmt.Sprintf("Go on in the record of your worksheet. Write “from step %d” above it; then write only what "+
		"comes next. "+
		"Your instructor enters “from step %d” before the first of those steps.", len(r.Steps)+1, len(r.Steps)+1)
	if r.Concluded != "" {
		next = "Concluded: " + r.Concluded + ". Nothing is left to do."
	}
	s.Blocks = append(s.Blocks, content.Paragraph{Text: next}, content.Cautions{Lacks: h.Lacks})
	return s
}
