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

// Booklet is what serves every lab of a pack in a term, so that it is printed once and can be laminated: the circuit on
// a page of its own, then points with their roles, specifications, meters, repairs with their checks, an example of a
// record and of a mark, and the cautions. It says nothing that is one lab's own.
func Booklet(h handout.Handout) content.Document {
	ref := h.Reference
	title := ref.PackTitle + ", booklet"
	return content.Document{Title: title, Program: h.Program, Date: h.Date, Paper: h.Paper,
		Sections: []content.Section{{
			Name: "Booklet", Foot: wording.Join(", ", ref.PackTitle,
				"booklet of the term: keep it for the next lab with this vehicle", h.Program),
			Size: 8, Across: true, Side: 9,
			Blocks: []content.Block{
				content.Title{Text: ref.PackTitle},
				content.Paragraph{Text: labeled("Vehicle", Vehicle(ref.Vehicle)), Look: small},
				byTemperature(ref),
				content.Figure{Picture: content.Circuit{Diagram: ref.Diagram}, Words: content.CircuitWords(ref.Diagram),
					Telling: "The circuit in words"},
				content.PageBreak{},
				content.Heading{Level: 2, Text: "Numbered points"},
				content.Columns{N: 4, Blocks: []content.Block{pointTable(ref.Points)}},
				content.Paragraph{Text: explained(ref), Look: small},
				content.Heading{Level: 2, Text: "Specifications"},
				content.Paragraph{Text: "A reading as given here is good. Where it is given against the " +
					"battery, compare it with the battery voltage that your partner reads out with it.", Look: small},
				content.Columns{N: 2, Blocks: []content.Block{specTable(ref.Specs)}},
				content.Heading{Level: 2, Text: "Meters and what they show"},
				content.Columns{N: 3, Blocks: []content.Block{meterTable(ref.Meters)}},
				content.Heading{Level: 2, Text: "Repairs"},
				content.Paragraph{Text: "Conclude with a code, " + RepairCode + ". A repair is proven when nothing else " +
					"on the list fits and its own checks, beside it, are made.", Look: small},
				content.Columns{N: 2, Blocks: []content.Block{repairTable(ref)}},
				content.Paragraph{Text: neverChecked(ref), Look: small},
				content.Together{Blocks: []content.Block{
					content.Heading{Level: 2, Text: "One line of a record, and one mark"},
					content.Columns{N: 2, Blocks: []content.Block{
						recordExample(ref),
						content.Paragraph{Text: recordWords(h.Lacks), Look: small},
						content.Paragraph{Text: checkWords, Look: small},
						content.Paragraph{Text: markExample, Look: small},
					}},
					content.Cautions{Lacks: h.Lacks},
				}},
			},
		}}}
}

// LargeBooklet is the booklet in large print. Its circuit has a page of its own, with names as large as have room, and
// is told in words too: the names in a drawing cannot always be as large as the text.
func LargeBooklet(h handout.Handout) content.Document {
	doc := Booklet(h)
	for i := range doc.Sections {
		s := &doc.Sections[i]
		s.Large, s.Foot = true, h.Reference.PackTitle+", booklet"
		var blocks []content.Block
		for _, b := range s.Blocks {
			if f, is := b.(content.Figure); is {
				circuit := content.Circuit{Diagram: h.Reference.Diagram, Large: true}
				blocks = append(blocks, content.PageBreak{}, content.Figure{Picture: circuit}, content.PageBreak{},
					content.Heading{Level: 2, Text: f.Telling}, content.List{Items: f.Words})
				continue
			}
			blocks = append(blocks, b)
		}
		s.Blocks = blocks
	}
	return doc
}

// recordExample is a line of the record as a student has filled it in: a feed that is good beside the battery, at the
// first point with that role, or the first test that is judged in that way.
func recordExample(ref handout.Reference) content.Paragraph {
	at := max(0, slices.IndexFunc(ref.Points, func(p lab.Point) bool { return lab.RoleName(p.Role) == "feed" }))
	test, good := fmt.Sprintf("point %d, volts", at+1), "less than 0.5 V below the battery reading"
	if i := slices.IndexFunc(ref.Specs, func(s lab.SpecRow) bool {
		return strings.HasPrefix(s.Good, "less than ") && strings.HasSuffix(s.Good, "V below the battery reading")
	}); i >= 0 {
		s := ref.Specs[i]
		test, good = s.Where, s.Good
		role, _, _ := strings.Cut(s.Where, " at ") // of several points, the first one serves
		at = slices.IndexFunc(ref.Points, func(p lab.Point) bool { return lab.RoleName(p.Role) == role })
		if at >= 0 {
			when, _, _ := strings.Cut(s.When, ";")
			test = fmt.Sprintf("point %d, volts, %s", ref.Points[at].Number, when)
		}
	}
	texts := []string{test, good, "214", "0.8", "KQ", "12.39 V, battery 12.56 V", "+",
		"all between the battery and this point"}
	for i, c := range RecordColumns() {
		texts[i] = "**" + c.Label + ":** " + texts[i]
	}
	return content.Paragraph{Text: strings.Join(texts, "; ") + ".", Look: small}
}

func recordWords(of lab.Lacks) string {
	silent := ""
	if !of.Engine {
		silent = "; “engine does not run” is not judged"
	}
	return "+ is good, - is not" + silent + ". Letters are never vowels: what looks like an O or an I is a digit."
}

// checkWords say what makes each kind of check.
const checkWords = "**Checks** of feed, ground, input, end: a reading there tells that it is good; of output, own test, path: " +
	"one there, on the part, across or behind it is bad."

// markExample explains with one example what a repair earns that was sold before it was proven.
const markExample = "**An unproven repair earns** the share of the weight that speaks for it: a part that fits all " +
	"readings weighs 10; three checks owed leave room for causes not on the list, 2 each: 10 of 16 are 25 of the 40 " +
	"points for the diagnosis."

// small is the look of running text, and running that of the rows of the tables, which are many and set as text.
var (
	small   = content.Look{Size: 10, Condensed: true}
	running = content.PaperTable{Look: content.Look{Size: 8, Condensed: true}, Run: true}
)

// pointTable repeats the labels of the diagram, where some may have found no room, with role and access.
func pointTable(points []lab.Point) content.Table {
	t := content.Table{Paper: running, Columns: []content.Column{
		{Head: "no.", Align: content.Right, Header: true, Strong: true}, {Head: "point"}, {Head: "role"},
		{Head: "access"},
	}}
	for _, p := range points {
		t.Row(fmt.Sprint(p.Number), p.Label, lab.RoleName(p.Role), wording.Minutes(p.Access)+" min")
	}
	return t
}

// specTable is the longest table of the booklet.
func specTable(specs []lab.SpecRow) content.Table {
	t := content.Table{Paper: running, Columns: []content.Column{
		{Head: "where", Header: true}, {Head: "meter, leads"}, {Head: "when"}, {Head: "a good reading", Strong: true},
	}}
	for _, s := range specs {
		t.Row(wording.KeepSigns(withoutMeter(s.Where, s.Meter)), wording.KeepSigns(s.Meter), s.When, s.Good)
	}
	return t
}

// byTemperature says what a good temperature sensor gives at the temperatures of a work order. It is set as running
// text, like the rows of the tables, and stands with the vehicle, whose page has room.
func byTemperature(ref handout.Reference) content.Paragraph {
	var lines []string
	for _, s := range ref.Sensors {
		var rows []string
		for _, row := range s.Rows {
			rows = append(rows, "**"+row.Celsius+"** "+row.Ohms+", "+row.Volts)
		}
		lines = append(lines, "**"+wording.List(s.Labels)+"** at the temperature of the work order, unplugged, and "+
			"volts at the input with the key on: "+strings.Join(rows, "; ")+".")
	}
	return content.Paragraph{Text: strings.Join(lines, " "), Look: running.Look}
}

// meterTable says what each meter of the pack is.
func meterTable(meters []handout.MeterNote) content.Table {
	t := content.Table{Paper: running, Columns: []content.Column{
		{Head: "meter", Header: true, Strong: true}, {Head: "what it is and shows"},
	}}
	for _, m := range meters {
		t.Row(m.Meter, m.Note)
	}
	return t
}

// repairTable gives everything that best play knows of a repair: how often it is needed, what it costs, and which
// checks make it proven.
func repairTable(ref handout.Reference) content.Table {
	t := content.Table{Paper: running, Columns: []content.Column{
		{Head: "code", Header: true, Strong: true}, {Head: "repair", Strong: true}, {Head: "how often"},
		{Head: "takes"},
	}}
	proofs := slices.ContainsFunc(ref.Proofs, func(p handout.Proof) bool { return len(p) > 0 })
	if proofs {
		t.Columns = append(t.Columns, content.Column{Head: "its own checks"})
	}
	for i, r := range ref.Repairs {
		row := []string{r.Code + r.Letters, r.Label, r.Rarity, wording.Minutes(r.Minutes) + " min"}
		if proofs {
			row = append(row, strings.Join(alike(ref.Proofs[i]), "; "))
		}
		t.Row(row...)
	}
	return t
}

// alike tells at once what is owed of several parts of one name: "plug 1, 2, 3 and 4: own test".
func alike(proof []string) []string {
	var told []string
	var numbers []string // of the parts that the last entry of told speaks of
	last := ""           // their name, and what is owed of each
	for _, check := range proof {
		part, owed, _ := strings.Cut(check, ": ")
		at := strings.LastIndexByte(part, ' ')
		name, number := part[:max(at, 0)], part[at+1:]
		if key := name + ": " + owed; at >= 0 && key == last {
			numbers = append(numbers, number)
			told[len(told)-1] = name + " " + wording.List(numbers) + ": " + owed
			continue
		}
		told, last, numbers = append(told, check), name+": "+owed, []string{number}
	}
	return told
}

// neverChecked names the checks for which the vehicle has no test.
func neverChecked(ref handout.Reference) string {
	if len(ref.Never) == 0 {
		return ""
	}
	return "**Cannot be checked on this vehicle, so no repair needs it:** " + wording.List(ref.Never) + "."
}

// labeled leads in a text with its name; "" where there is none.
func labeled(name, text string) string {
	if text == "" {
		return ""
	}
	return "**" + name + ":** " + text
}
