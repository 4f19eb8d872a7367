package printouts

import (
	"strings"
	"testing"

	"nospark/printouts/content"
	"nospark/printouts/handouts"
	"nospark/printouts/paper/readings"
	"nospark/printouts/paper/worksheets"
	"nospark/printouts/wording"
	"nospark/scenarios/handout"
	"nospark/scenarios/lab"
)

// small is a lab of a battery, a switch and a lamp that a person can check against its golden files.
func small() handout.Handout {
	d := handout.Diagram{
		Nodes: []handout.DiagramNode{
			{Number: 1, ID: "bat_pos", Label: "battery positive post"},
			{Number: 2, ID: "sw_out", Label: "switch, lamp side", At: [2]float64{4, 0}},
			{Number: 3, ID: "bat_neg", Label: "battery negative post", At: [2]float64{0, 2}, Ground: true},
		},
		Parts: []handout.DiagramPart{
			{ID: "battery", Label: "battery", Kind: "battery", Pins: []int{0, 2}},
			{ID: "switch", Label: "switch", Kind: "switch", Pins: []int{0, 1}},
			{ID: "lamp", Label: "lamp", Kind: "resistor", Pins: []int{1, 2}, Via: [][2]float64{{4, 2}}},
		},
	}
	return handout.Handout{
		Program: "Example Technical Program", Lab: "lamp", Title: "The lamp is dark", Date: "2026-10-05",
		Paper: "letter", Rows: 3,
		Reference: handout.Reference{
			PackTitle: "Switched lamp", Vehicle: []handout.VehicleFact{{Name: "what",
				Value: "a bench with a lamp"}}, Diagram: d,
			Points: []lab.Point{
				{Number: 1, Label: "battery positive post", Role: "battery"},
				{Number: 2, Label: "switch, lamp side", Role: "switched-feed", Access: 5},
				{Number: 3, Label: "battery negative post", Role: "ground"},
			},
			Columns: []lab.Column{
				{Sweep: "volts", Label: "volts to battery -", Condition: "switch off", Minutes: 10},
				{Sweep: "volts", Label: "volts to battery -", Condition: "switch on", Minutes: 10},
				{Sweep: "lamp", Label: "test lamp to battery +", Condition: "switch on", Minutes: 15},
			},
			Specs: []lab.SpecRow{{Where: "feed", Meter: "volts to battery -", When: "switch on",
				Good: "at most 0.50 V below the battery reading printed beside it"}},
			Meters: []handout.MeterNote{{Meter: "voltmeter", Note: "dc volts, 10 Mohm"}},
			Repairs: []lab.Repair{{Label: "Replace the switch", Code: "12", Letters: "HM", Minutes: 200,
				Rarity: "common"}, {Label: "Replace the lamp", Code: "47", Letters: "KA", Minutes: 50, Rarity: "rare"}},
		},
		Worksheets: []handout.Worksheet{{
			Code: "H7RK", Student: "s001", Name: "Testina Example", Section: "A",
			Complaint: "The lamp is dim or does not light.",
			Grid: [][]handout.Cell{{{Line: 417}, {Line: 220}, {}}, {{Line: 905}, {Line: 133}, {Line: 276}},
				{{}, {Line: 58}, {Line: 611}}},
			Tables: []handout.SmallTable{{Heading: "Components", Rows: []handout.SmallRow{{Label: "Resistance " +
				"of the lamp", Meter: "ohmmeter", Condition: "switch off", Minutes: 50, Line: 742}}}},
		}},
		Readings: []handout.ReadingsSheet{{Code: "H7RK", Lines: []handout.ReadingLine{
			{Number: 58, Letters: "WA", Reading: "0.002 V"}, {Number: 133, Letters: "KQ", Reading: "12.39 " +
				"V", Beside: "battery 12.56 V"},
			{Number: 220, Letters: "CT", Reading: "12.56 V"}, {Number: 276, Letters: "MV", Reading: "dark"},
			{Number: 417, Letters: "PE", Reading: "12.60 V"},
			{Number: 611, Letters: "XD", Reading: "bright"}, {Number: 742, Letters: "HH", Reading: "5.8 ohm"},
			{Number: 905, Letters: "RJ", Reading: "0.000 V", Beside: "battery 12.60 V"},
		}}},
	}
}

func TestGolden(t *testing.T) {
	h := small()
	golden(t, "worksheet.txt", content.Text(handouts.Worksheet(h, h.Worksheets[0])))
	golden(t, "readings.txt", content.Text(handouts.Readings(h, h.Readings[0])))
	golden(t, "worksheet.pdf.txt", squeezed(pagesOf(t, must(t)(worksheets.PDF(h)))))
	golden(t, "readings.pdf.txt", squeezed(pagesOf(t, must(t)(readings.PDF(h)))))
	golden(t, "booklet.pdf.txt", squeezed(pagesOf(t, must(t)(booklet(h)))))
	golden(t, "pairing.pdf.txt", squeezed(pagesOf(t, must(t)(pairing(h)))))
}

// answer is a reading as the partner reads it out.
func answer(l handout.ReadingLine) string {
	return wording.Join(" ", wording.Line(l.Number), l.Letters, wording.Join(", ", l.Reading, l.Beside))
}

// squeezed shortens runs of spaces and drops empty lines: the golden files hold words in their order, not their
// places.
func squeezed(pages []string) string {
	var b strings.Builder
	for i, page := range pages {
		if i > 0 {
			b.WriteString("--- next page\n")
		}
		for _, text := range strings.Split(page, "\n") {
			if words := strings.Fields(text); len(words) > 0 {
				b.WriteString(strings.Join(words, " ") + "\n")
			}
		}
	}
	return b.String()
}

// TestTextTwins: whatever stands in the PDF of a sheet for the student to use stands in its text as well.
func TestTextTwins(t *testing.T) {
	h := sample(t, 1, 1)
	worksheet, readings := content.Text(handouts.Worksheet(h, h.Worksheets[0])),
		content.Text(handouts.Readings(h, h.Readings[0]))
	for _, l := range h.Readings[0].Lines {
		if strings.Count(worksheet, ": "+wording.Line(l.Number)+"\n") != 1 {
			t.Errorf("line %s is not once in the worksheet", wording.Line(l.Number))
		}
		if strings.Count(readings, "\n"+answer(l)+"\n") != 1 {
			t.Errorf("%q is not once in the readings", answer(l))
		}
	}
	for _, want := range []string{h.Worksheets[0].Code, h.Worksheets[0].Complaint, "Odometer: 148,200 km",
		"pacemakers", "Conclusion"} {
		if !strings.Contains(worksheet, want) {
			t.Errorf("the worksheet lacks %q", want)
		}
	}
}
