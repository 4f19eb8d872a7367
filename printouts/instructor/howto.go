package instructor

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"nospark/printouts/content"
	"nospark/printouts/wording"
	"nospark/scenarios/lab"
)

// HowTo is one page: how to prepare, hand out, run and grade this lab. It names no fault, so it may lie open.
func HowTo(lab *lab.Lab) content.Document {
	var parts []content.Block
	for _, p := range howToParts(lab) {
		parts = append(parts, content.Heading{Level: 3, Text: p.heading},
			content.List{Items: p.items, Numbered: p.numbered})
	}
	return document(lab, "how to run this lab", content.Section{
		Name: "How to run this lab", Foot: wording.Join(", ", "How to run lab "+lab.Name, lab.Program, lab.Date),
		Size: 8.5, Side: 12,
		Blocks: []content.Block{
			content.Title{Text: "How to run this lab", Below: wording.Join(", ", lab.Title, lab.Pack.Title, lab.Date)},
			content.Paragraph{Text: labInShort(lab)},
			content.Columns{N: 2, Blocks: parts},
			content.Cautions{All: true, Lacks: lab.Lacks},
		},
	})
}

// labInShort says what students get and what they may know.
func labInShort(l *lab.Lab) string {
	students, spares := 0, 0
	var complaints []string
	seen := map[int]bool{}
	for _, s := range l.Sheets {
		if s.Student == "" {
			spares++
		} else {
			students++
		}
		if !seen[s.Complaint] {
			seen[s.Complaint] = true
			complaints = append(complaints, "“"+strings.TrimRight(l.Complaints[s.Complaint].Label, ".")+"”")
		}
	}
	text := fmt.Sprintf("**%s and %s.** Every sheet hides one fault behind the complaint %s. ",
		wording.Count(students, "student", "students"),
		wording.Count(spares, "spare sheet", "spare sheets"), strings.Join(fewOf(complaints), " or "))
	if l.Faults[len(l.Faults)-1].ID == lab.NothingWrong {
		text += "A vehicle with nothing wrong is possible, and the students are told. "
	}
	faults := map[int]bool{}
	for _, s := range l.Sheets {
		faults[l.Hypotheses[s.Truth].Fault] = true
	}
	return text + fmt.Sprintf("The class shares %s. Sheets begin with different work orders, neighbors’ as far as "+
		"there are enough; what a sheet hides is drawn from what its work order leaves possible, and from nothing else.",
		wording.Count(len(faults), "fault", "faults"))
}

// fewOf keeps a list short enough for the page.
func fewOf(words []string) []string {
	const most = 3
	if len(words) <= most {
		return words
	}
	return append(slices.Clone(words[:most-1]), fmt.Sprintf("%d more", len(words)-most+1))
}

// howToPart is one part of the page.
type howToPart struct {
	heading  string
	items    []string
	numbered bool
}

// Minutes of a lesson that are not for working: before the sheets are out, handing out, and the end together.
const (
	toSettle  = 5
	toHandOut = 5
	toEnd     = 10
)

// twoVehicles is the working time, in minutes, in which two vehicles fit. Practice of this project, no source: best
// play takes 5 to 14 minutes a vehicle and students about twice that.
const twoVehicles = 60

// working says what there is to know about the time that students have.
func working(l *lab.Lab) (minutes int, items []string) {
	minutes = cmp.Or(l.Period, lab.UsualPeriod) - toSettle - toHandOut - toEnd
	switch n := max(1, l.Vehicles); {
	case n > 1:
		items = append(items, fmt.Sprintf("Everybody has %d vehicles: say every %d minutes that the next one begins.",
			n, minutes/n))
	case minutes >= twoVehicles:
		items = append(items, "So long a lesson fits two vehicles: **vehicles = 2** in the plan of the next.")
	}
	return minutes, items
}

// howToParts is the text of the page, in the order of the day.
func howToParts(l *lab.Lab) []howToPart {
	minutes, more := working(l)
	forbid := ""
	if len(l.Technique.Forbid) > 0 {
		forbid = " Say that this lab forbids: " + wording.List(fewOf(l.Technique.Forbid)) + "."
	}
	large := ""
	if slices.ContainsFunc(l.Sheets, func(s lab.Sheet) bool { return s.LargePrint }) {
		large = " Whoever has large print gets booklet-large.pdf; on a screen **booklet.html** is the same, in letters " +
			"as large as one likes."
	}
	return []howToPart{
		{"Before class", []string{
			"The PDFs are for the printer: worksheets on both sides; from the folder **partners** the readings, **on " +
				"one side only**; and, unless an earlier lab of this pack has them, booklets for two students each, to " +
				"keep all term.",
			"What goes on line are the folders **pages** and **text**, which a screen reader reads as well. Readings " +
				"never go on line." + large,
			"Print the pairing list from the folder **instructor** and cut its slips. Keep key and isolation " +
				"chart out of the shop.",
			"Lay each readings sheet face down with the partner named on the slip, never with the student whose " +
				"code it carries.",
			fmt.Sprintf("On phones instead, without partners, readings on paper and typing: cut **claims.pdf** into "+
				"strips and run **nospark serve labs/%s**.", l.Name),
		}, true},
		{fmt.Sprintf("Handing out, %d minutes", toHandOut), []string{
			"Worksheet and slip to each student; the strip with the name comes off before the sheet is handed in.",
			"Say: **“Write the test and what it should read. Only then ask your partner for that line. Your " +
				"partner answers with two letters and the reading, " +
				fmt.Sprintf("and nothing else. Stop when one repair is left and its own checks are made: a guess without "+
					"proof earns %d points of 100 at most.”**", l.Rubric.Diagnosis) + forbid,
			"Say that minutes count, not the number of tests: each test costs those of its column plus the " +
				"access to the point.",
		}, false},
		{fmt.Sprintf("While they work, about %d minutes", minutes), append([]string{
			"Walk round and ask what a student expects to read and what each outcome would rule out. Do not say " +
				"whether a choice was good.",
			"A student without a partner asks you: **nospark reading** gives one line. Spare sheets are in files " +
				"of their own: print one when needed; write the id on it.",
			"Note the two columns of yours while you see it happen: reasoning 0 to 4, and safe working yes or no.",
		}, more...), false},
		{fmt.Sprintf("Last %d minutes", toEnd), []string{
			"Collect worksheets, readings and booklets before anybody talks about faults. The numbers that the " +
				"partner wrote beside the lines tell the order of the tests.",
			"Draw best play from the isolation chart on the board, one branch of it. Ask who began otherwise, " +
				"and what it cost.",
		}, false},
		{"After class", []string{
			fmt.Sprintf("Type the sheets into **labs/%s/entries/entry.xlsx**, one row each: id, repair such as "+
				"12HM, then steps such as 214KQ+ (line, letters, judged good) or 214KQ-. Grading names every "+
				"cell whose letters do not fit.", l.Name),
			fmt.Sprintf("Run **nospark grade labs/%s**. The results are in the folder **graded**; it may be run "+
				"again at any time.", l.Name),
			"Look at problems.csv first. Provisional marks wait for you: correct a step, confirm a mark, accept " +
				"a repair, drop a line, excuse a student or set a mark in **adjust.toml** in the lab’s folder, " +
				"each with a reason, then grade again.",
			"Give the debriefs back as **pages**, each to its own student, or print them **on one side**. Begin the " +
				"next class with the one thing to practice.",
		}, true},
	}
}
