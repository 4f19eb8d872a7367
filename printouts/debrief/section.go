package debrief

import (
	"fmt"

	"nospark/printouts/content"
	"nospark/printouts/wording"
)

// Section is a debrief whole. The strip with the name is taken off; what is below goes by the code alone.
func (d Debrief) Section() content.Section {
	s := content.Section{Name: d.Name(), Right: "Sheet " + d.Student.Sheet, Foot: "Debrief",
		Large: d.Lab.Sheets[d.Student.Index].LargePrint}
	s.Blocks = append(s.Blocks, content.Strip{
		Name: d.Person(), About: d.About(),
		Note: "Take this page off before the debrief is left lying. The pages that follow carry the code alone.",
	}, content.Title{Text: d.PageTitle(), Below: "Sheet " + d.Student.Sheet})
	if d.Nothing() {
		for _, text := range d.NothingWords() {
			s.Blocks = append(s.Blocks, content.Paragraph{Text: text})
		}
	} else {
		s.Blocks = append(s.Blocks, d.blocks()...)
	}
	s.Blocks = append(s.Blocks, content.Cautions{Lacks: d.Lab.Lacks})
	return s
}

// blocks are what a student with a mark reads: first what is of use, then the route, and the arithmetic last.
func (d Debrief) blocks() []content.Block {
	blocks := []content.Block{
		content.Fields{List: d.Learner()},
		content.Paragraph{Text: d.markText()},
		content.Paragraph{Text: d.Why()},
		content.Fields{List: d.Facts()},
	}
	chart := d.Chart()
	blocks = append(blocks, content.Heading{Level: 2, Text: RouteName},
		content.Figure{Picture: chart, Words: []string{
			chart.Series[0].Words(chart.XLabel, chart.YLabel), chart.Series[1].Words(chart.XLabel, chart.YLabel),
		}, Telling: "The chart in words"}, content.Heading{Level: 2, Text: StepsName})
	if len(d.Student.Steps) == 0 {
		blocks = append(blocks, content.Paragraph{Text: NoSteps})
	}
	for i := range d.Student.Steps {
		blocks = append(blocks, d.stepBlocks(i))
	}
	blocks = append(blocks, content.Paragraph{Text: d.BestPlay()})
	if len(d.Student.Remarks) > 0 {
		blocks = append(blocks, content.Heading{Level: 2, Text: RemarksName}, content.List{Items: d.Student.Remarks})
	}
	small := content.Look{Size: 8.5}
	blocks = append(blocks, content.Heading{Level: 2, Text: MarkName})
	for _, p := range d.Parts() {
		text := fmt.Sprintf("**%s: %s of %d.** %s", p.Name, wording.Points(p.Points), p.Of,
			wording.Join(". ", p.How, p.Why))
		blocks = append(blocks, content.Paragraph{Text: text, Look: small})
	}
	return append(blocks, content.Paragraph{Text: d.Lost(), Look: small})
}

// stepBlocks tell one step: a list reads better than a table of seven columns.
func (d Debrief) stepBlocks(i int) content.Block {
	s := d.Student.Steps[i]
	figures := wording.Join(". ", s.Reading, "Judged: "+Judged(s),
		fmt.Sprintf("%s min, %s lost", wording.Minutes(s.Minutes), wording.LostMinutes(s.Lost)),
		fmt.Sprintf("Suspects: %d before, %d after", s.Before, s.After)) + "."
	return content.Together{Blocks: []content.Block{
		content.Paragraph{Text: fmt.Sprintf("**%d.** %s %s", i+1, Written(s), d.StepName(s))},
		content.Paragraph{Text: figures},
		content.Paragraph{Text: d.RemarkOn(i)},
	}}
}
