package handouts

import (
	"fmt"
	"slices"
	"strings"

	"nospark/printouts/content"
	"nospark/printouts/wording"
	"nospark/scenarios/handout"
	"nospark/scenarios/lab"
)

// Reference is the class reference: the circuit on a page of its own, then points, specifications, meters,
// repairs, how to work, and the cautions. It is the same for everyone.
func Reference(h handout.Handout) content.Document {
	ref := h.Reference
	return content.Document{Title: h.Title + ", class reference", Program: h.Program, Date: h.Date, Paper: h.Paper,
		Sections: []content.Section{{
			Name: "Class reference", Left: wording.Join(", ", h.Program, h.Date), Right: h.Title,
			Foot: "Class reference, the same for everyone",
			Size: 10, Across: true,
			Blocks: []content.Block{
				content.Title{Text: ref.PackTitle},
				content.Figure{Picture: content.Circuit{Diagram: ref.Diagram}, Words: content.CircuitWords(ref.Diagram),
					Telling: "The circuit in words"},
				content.PageBreak{},
				content.Heading{Level: 2, Text: "Numbered points"},
				content.Columns{N: 2, Blocks: []content.Block{pointTable(ref.Points)}},
				content.Paragraph{Text: explained(ref), Look: small},
				content.Paragraph{Text: labeled("Vehicle", Vehicle(ref.Vehicle)), Look: small},
				content.Heading{Level: 2, Text: "Specifications"},
				content.Paragraph{Text: "A reading as given here is good. Where a good reading is given against " +
					"the battery, your partner reads out the battery voltage of the same moment with it: compare " +
					"the two."},
				specTable(ref.Specs),
				content.Heading{Level: 2, Text: "Meters and what they show"},
				content.Columns{N: meterColumns(ref.Meters), Blocks: []content.Block{meterTable(ref.Meters)}},
				content.Heading{Level: 2, Text: "Repairs"},
				content.Paragraph{Text: "Write one repair as your conclusion: " + RepairCode +
					". Common, occasional and rare tell how often a repair is needed on such vehicles."},
				content.Paragraph{Text: Proven(h)},
				repairTable(ref),
				content.Paragraph{Text: allNotToday(h), Look: small},
				content.Paragraph{Text: markExample(h)},
				content.Together{Blocks: []content.Block{
					content.Heading{Level: 2, Text: "How to work"},
					content.List{Numbered: true, Items: howToWorkSteps()},
					content.Paragraph{Text: forbiddenNote(h)},
				}},
				content.Cautions{All: true},
			},
		}}}
}

// small is the look of the tables, which are long.
var small = content.Look{Size: 9, Condensed: true}

// forbiddenNote adds to what is forbidden what comes of it.
func forbiddenNote(h handout.Handout) string {
	if text := Forbidden(h); text != "" {
		return strong(text) + " Their readings prove nothing here and cost their minutes."
	}
	return ""
}

// howToWorkSteps tell at length what the worksheet tells in short.
func howToWorkSteps() []string {
	return []string{
		"**Read** the complaint on your worksheet and follow the circuit on the diagram. Which parts can cause it?",
		"**Choose a test**: a point in the grid and where the other lead goes, or one of the other tests. Its " +
			"minutes are those of the column plus the access to the point. Ask first what each outcome would " +
			"rule out: where every outcome leaves the same repairs, the minutes are lost.",
		"**Commit.** Write the test, what a good reading is, its line number and its minutes into the record, " +
			"before anybody looks at the reading.",
		"**Ask your partner** for this one line. The partner holds your readings sheet and answers with two " +
			"letters and the reading, and with nothing else.",
		"**Copy** letters and reading. The letters show that this line was looked up, and that it was copied " +
			"without a slip. A line has three digits and two letters; the letters are never vowels: what looks " +
			"like an O or an I is a digit.",
		"**Judge.** Compare with the specifications: + for a good reading, - for one that is not. Write what it " +
			"rules out. Where the reading is “engine does not run” write no sign: the test costs its minutes, " +
			"but there is nothing to judge. An idle or loaded test of an engine that does not start tells " +
			"nothing new.",
		"**Conclude** when the readings leave one repair and its own checks are made, or when no test is left " +
			"that could tell the others apart: " + RepairCode +
			", and the reason in two sentences.",
		"**Minutes count**, not the number of tests. What counts against you are the minutes lost against best " +
			"play; a wrong repair costs its own minutes as well, and a wrong sign costs part of the mark.",
	}
}

// pointTable repeats the labels of the diagram, where some may have found no room, with role and access.
func pointTable(points []lab.Point) content.Table {
	t := content.Table{Paper: content.PaperTable{Look: small}, Columns: []content.Column{
		{Head: "no.", Width: content.Natural, Align: content.Right, Header: true, Strong: true}, {Head: "point"},
		{Head: "role", Width: content.Natural},
		{Head: "access, min", Width: content.Natural, Align: content.Right},
	}}
	for _, p := range points {
		t.Row(fmt.Sprint(p.Number), p.Label, lab.RoleName(p.Role), wording.Minutes(p.Access))
	}
	return t
}

// specTable is set closely: with all single tests it is the longest table of the lab.
func specTable(specs []lab.SpecRow) content.Table {
	t := content.Table{Paper: content.PaperTable{Look: small}, Columns: []content.Column{
		{Head: "specifications: where", Header: true}, {Head: "meter, leads", Width: content.Natural},
		{Head: "when", Width: content.Natural},
		{Head: "a good reading", Width: content.Natural, Strong: true},
	}}
	for _, s := range specs {
		t.Row(wording.KeepSigns(withoutMeter(s.Where, s.Meter)), wording.KeepSigns(s.Meter), s.When, s.Good)
	}
	return t
}

// meterTable says what each meter of the lab is.
func meterTable(meters []handout.MeterNote) content.Table {
	t := content.Table{Paper: content.PaperTable{Look: small}, Columns: []content.Column{
		{Head: "meter", Width: content.Natural, Header: true, Strong: true}, {Head: "what it is and shows"},
	}}
	for _, m := range meters {
		t.Row(m.Meter, m.Note)
	}
	return t
}

// meterColumns is in how many columns the meters stand.
func meterColumns(meters []handout.MeterNote) int {
	if len(meters) > 6 {
		return 2
	}
	return 1
}

// repairTable gives everything that best play knows of a repair: how often it is needed, what it costs, and which
// checks make it proven.
func repairTable(ref handout.Reference) content.Table {
	t := content.Table{Paper: content.PaperTable{Look: small}, Columns: []content.Column{
		{Head: "code", Width: content.Natural, Header: true, Strong: true}, {Head: "repair"},
		{Head: "how often", Width: content.Natural},
		{Head: "min", Width: content.Natural, Align: content.Right},
	}}
	proofs := slices.ContainsFunc(ref.Proofs, func(p handout.Proof) bool { return len(p) > 0 })
	if proofs {
		t.Columns = append(t.Columns, content.Column{Head: "its own checks: part, what of it, at which points"})
	}
	for i, r := range ref.Repairs {
		row := []string{r.Code + r.Letters, r.Label, r.Rarity, wording.Minutes(r.Minutes)}
		if proofs {
			row = append(row, strings.Join(ref.Proofs[i], "; "))
		}
		t.Row(row...)
	}
	return t
}

// allNotToday names every check that cannot be made.
func allNotToday(h handout.Handout) string {
	if len(h.NotToday) == 0 {
		return ""
	}
	return "**Cannot be checked in this lab, so no repair needs it:** " + wording.List(h.NotToday) + "."
}

// markExample explains with one example what a repair earns that was sold before it was proven.
func markExample(h handout.Handout) string {
	if h.Closed {
		return ""
	}
	return "**What an unproven repair earns.** A repair that is right earns the share of the weight that speaks for it. " +
		"Example: the module fits all readings and weighs 10; three of its checks are still owed, and each of them leaves " +
		"room for a cause that is not on the list, which weighs 2. So 10 of 16 speak for the module, and of 40 points for the " +
		"diagnosis it earns 25. Proven it earns all 40."
}

// labeled leads in a text with its name; "" where there is none.
func labeled(name, text string) string {
	if text == "" {
		return ""
	}
	return "**" + name + ":** " + text
}
