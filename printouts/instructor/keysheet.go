package instructor

import (
	"fmt"
	"slices"
	"strings"

	"nospark/grading/bestplay"
	"nospark/printouts/content"
	"nospark/printouts/wording"
	"nospark/scenarios/lab"
)

// sheet is one sheet of the key: a heading that is found when leafing, and labeled lines below it. What reads
// abnormal is a running text, since a dead feed shows at a hundred tests and a table would take a page.
func (k answerKey) sheet(i int) []content.Block {
	lab, sheet, v := k.lab, k.lab.Sheets[i], k.key.Sheets[i]
	fault := lab.Faults[v.Fault]
	var repairs []string
	for _, r := range append([]int{v.Repair}, v.Also...) {
		repairs = append(repairs, wording.Repair(lab.Repairs[r]))
	}
	var fields []content.Field
	if len(k.key.Complaints) > 1 { // otherwise it is that of the front page
		fields = append(fields, content.Field{Label: "Complaint", Text: lab.Complaints[sheet.Complaint].Label})
	}
	for n, known := range v.Known {
		label := ""
		if n == 0 {
			label = "Known"
		}
		fields = append(fields, content.Field{Label: label, Text: lab.TestName(known.Test) + ": " +
			lab.Tests[known.Test].Bands[known.Band].Name})
	}
	fields = append(fields, content.Field{Label: "Repair", Text: strings.Join(repairs, ", or ") + alsoNote(v)},
		content.Field{Label: "How it shows", Text: fault.Note})
	var checks []string
	for _, c := range v.Checks {
		checks = append(checks, lab.Checks[c].Words(lab))
	}
	if len(checks) > 0 {
		fields = append(fields, content.Field{Label: "Proven by", Text: strings.Join(checks, "; ")})
	}
	var path []string
	for n, p := range v.Path {
		path = append(path, k.pathText(sheet, n, p))
	}
	fields = append(fields, oneLabel("Best play", path)...)
	fields = append(fields, content.Field{Label: "Reads abnormal", Text: k.abnormalText(sheet, v.Abnormal)})
	fields = append(fields, oneLabel("Traps", k.trapTexts(sheet, v.Traps))...)
	return []content.Block{
		content.Entry{Code: sheet.Code, Text: studentName(sheet) + ": " + fault.Label, Aside: k.codes(v) + "   " +
			wording.Minutes(v.Minutes) + " min"},
		content.Fields{List: fields, Look: content.Look{Size: 8.5, Condensed: true}},
	}
}

// oneLabel labels the first of several texts for all of them.
func oneLabel(label string, texts []string) []content.Field {
	var fields []content.Field
	for _, text := range texts {
		fields = append(fields, content.Field{Label: label, Text: text})
		label = ""
	}
	return fields
}

// mostTraps is the number of traps that are told one by one of those that the same test shows; the cheapest ones
// come first.
const mostTraps = 5

// alsoNote explains a second repair.
func alsoNote(v bestplay.KeySheet) string {
	if len(v.Also) == 0 {
		return ""
	}
	return "; no allowed test tells them apart, so each counts as right"
}

// pathText is one step of best play with its line on this sheet.
func (k answerKey) pathText(sheet lab.Sheet, n int, p bestplay.PathStep) string {
	verdict := "normal"
	if !p.Normal {
		verdict = "**abnormal**"
	}
	l := sheet.Lines[p.Test]
	return fmt.Sprintf("**%d**  **%s%s**  %s: %s, %s, %d → %d, %s min", n+1, wording.Line(l.Number), l.Letters,
		k.lab.TestName(p.Test), p.Reading,
		verdict, p.Before, p.After, wording.Minutes(p.Minutes))
}

// trapTexts names the traps together that the same test at the same place shows.
func (k answerKey) trapTexts(sheet lab.Sheet, traps []bestplay.Trap) []string {
	var shows []int
	names := map[int][]string{}
	for _, t := range traps {
		if !slices.Contains(shows, t.Shows) {
			shows = append(shows, t.Shows)
		}
		names[t.Shows] = append(names[t.Shows], k.reads(sheet, t.Test))
	}
	var texts []string
	for _, test := range shows {
		list := names[test]
		if n := len(list) - mostTraps; n > 1 {
			list = append(list[:mostTraps:mostTraps], fmt.Sprintf("%d more", n))
		}
		text := strings.Join(list, "; ") + ": **normal**, "
		if test < 0 {
			texts = append(texts, text+"and no test at the same place shows the fault")
			continue
		}
		texts = append(texts, text+"but "+k.reads(sheet, test))
	}
	return texts
}

// reads is a test with its line and what it reads on a sheet.
func (k answerKey) reads(sheet lab.Sheet, test int) string {
	l := sheet.Lines[test]
	return fmt.Sprintf("%s %s, %s", wording.Line(l.Number), k.lab.TestName(test), l.Reading)
}

// abnormalText groups what reads abnormal: tests of the grid by column, and within by reading with the points that
// have it; other tests by the heading of their table.
func (k answerKey) abnormalText(sheet lab.Sheet, tests []int) string {
	if len(tests) == 0 {
		return "nothing"
	}
	var heads []string
	groups := map[string][]int{}
	for _, t := range tests {
		head := k.groupOf(t)
		if groups[head] == nil {
			heads = append(heads, head)
		}
		groups[head] = append(groups[head], t)
	}
	var parts []string
	for _, head := range heads {
		list := groups[head]
		if k.lab.Tests[list[0]].Column >= 0 {
			parts = append(parts, "**"+head+"** "+k.byReading(sheet, list))
			continue
		}
		var texts []string
		for _, t := range list {
			texts = append(texts, fmt.Sprintf("%s: %s", k.lab.TestName(t), sheet.Lines[t].Reading))
		}
		parts = append(parts, "**"+head+"** "+strings.Join(texts, "; "))
	}
	return strings.Join(parts, ".  ") + "."
}

// groupOf names the column of a test of the grid, or the table of another.
func (k answerKey) groupOf(t int) string {
	test := k.lab.Tests[t]
	if test.Column >= 0 {
		return k.lab.Columns[test.Column].Label + ", " + k.lab.Columns[test.Column].Condition + ":"
	}
	if test.Group != "" {
		return test.Group + ":"
	}
	return "other tests:"
}

// byReading lists readings with the points at which they are read: "0.000 V at 6, 7 and 9; 4.31 V at 11".
func (k answerKey) byReading(sheet lab.Sheet, tests []int) string {
	var readings []string
	points := map[string][]string{}
	for _, t := range tests {
		r := sheet.Lines[t].Reading
		if !slices.Contains(readings, r) {
			readings = append(readings, r)
		}
		points[r] = append(points[r], fmt.Sprint(k.lab.Points[k.lab.Tests[t].Point].Number))
	}
	var texts []string
	for _, r := range readings {
		texts = append(texts, r+" at "+wording.List(points[r]))
	}
	return strings.Join(texts, "; ")
}
