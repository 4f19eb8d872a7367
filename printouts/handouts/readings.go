package handouts

import (
	"nospark/printouts/content"
	"nospark/printouts/wording"
	"nospark/scenarios/handout"
)

// Readings is the sheet of the partner: what the meters show on one student's vehicle, line by line.
func Readings(h handout.Handout, r handout.ReadingsSheet) content.Section {
	s := content.Section{Name: "Readings " + r.Code,
		Foot: wording.Join(", ", ReadingsName(r.Code), h.Title, h.Date), Large: r.Large}
	if r.Large {
		s.Foot = "Readings " + r.Code + ", for the partner only"
	}
	s.Blocks = []content.Block{
		content.Title{Text: ReadingsName(r.Code)},
		content.Paragraph{Text: "**For the partner only.** " + HowToAnswer(h.Lacks)},
		content.Readings{List: ReadingList(r)},
	}
	for _, p := range r.Plots {
		s.Blocks = append(s.Blocks, content.Figure{
			Caption: PlotName(p), Picture: content.Trace{Plot: p, Large: r.Large},
			Words: append([]string{"oscilloscope picture, " + p.Title}, content.TraceWords(p)...), Height: pictureHigh,
		})
	}
	return s
}

// pictureHigh is the height of an oscilloscope picture in large print, mm.
const pictureHigh = 100

// ReadingList are the lines of a readings sheet as the partner reads them out.
func ReadingList(r handout.ReadingsSheet) []content.Reading {
	all := make([]content.Reading, len(r.Lines))
	for i, l := range r.Lines {
		all[i] = content.Reading{Number: wording.Line(l.Number), Letters: l.Letters,
			Text: wording.Join(", ", l.Reading, l.Beside)}
	}
	return all
}
