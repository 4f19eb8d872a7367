package handouts

import (
	"fmt"
	"strings"

	"nospark/printouts/wording"
	"nospark/scenarios/handout"
	"nospark/scenarios/lab"
)

// What the papers tell students and partners.
const (
	howToWork = "Write the test and what a good reading is in the record. Only then ask your partner for that " +
		"line. Copy letters and reading, judge the reading, and write what it rules out. Minutes count. Stop " +
		"when one repair is left and its own checks are made."
	cellsAbout = "Each number is a line to ask for; a dash, or no number, means there is no such test. The " +
		"role of a point tells what it should read: see the specifications of the booklet. The minutes behind it are " +
		"for access: add them to those of the column. Points without such a test are left out."
	// RepairCode says what a repair's code looks like.
	RepairCode = "the four characters of its code, like 12HM"
)

// HowToAnswer is for the partner. Only what has an engine can answer that it does not run.
func HowToAnswer(of lab.Lacks) string {
	silent := ""
	if !of.Engine {
		silent = "“Engine does not run” is an answer too; it is not judged. "
	}
	return "Wait until the test and the expected reading are written down. Then write a number beside the line that is " +
		"asked for, 1, 2, 3 in their order, and read it out, letters first, and no other: “214: K, Q, 12.39 volts.” " +
		silent + "Keep this page to yourself until the conclusion is written, and hand it in with the worksheet."
}

// Names of the parts of a worksheet, and the remarks beside them where there is no room for a paragraph.
const (
	PointTests     = "Tests at the numbered points"
	PointTestsNote = "Ask for the line in the cell; a dash means there is no such test."
	OtherTests     = "Other tests"
	OtherTestsNote = "Of tests that share a row, the lines stand in the order of their numbers."
	RecordNote     = "Write the first four, then ask your partner for the line."
	Conclusion     = "Conclusion"
	Reason         = "Reason"
	TotalMinutes   = "total minutes"
)

// SheetName names a worksheet.
func SheetName(code string) string { return "Sheet " + code }

// RecordName names the part of a worksheet in which the tests are written down.
func RecordName(code string) string { return "Record of sheet " + code }

// ReadingsName names a readings sheet by its code, never by a name.
func ReadingsName(code string) string { return "Readings for sheet " + code }

// PlotName names an oscilloscope picture by the line that asks for it and its test.
func PlotName(p handout.Plot) string { return wording.Join(", ", "line "+wording.Line(p.Line), p.Test) }

// MoreTests says where to go on when the record is full.
func MoreTests(rows int) string {
	return fmt.Sprintf("More than %d tests: on a sheet of your own.", rows)
}

// Forbidden says what must not be used, "" where everything may.
func Forbidden(h handout.Handout) string {
	if len(h.Forbidden) == 0 {
		return ""
	}
	return "Not allowed in this lab: " + wording.List(h.Forbidden) + "."
}

// Person is a student's name with the id beside it, which tells the student even where the typeface lacks the
// letters of the name; "" for a spare sheet.
func Person(w handout.Worksheet) string { return wording.Join(", ", w.Name, w.Student, w.Section) }

// About names program, lab and day.
func About(h handout.Handout) string { return wording.Join(", ", h.Program, h.Title, h.Date) }

// VehicleName is the first of the facts, which says what vehicle it is; the others stand on the booklet.
func VehicleName(facts []handout.VehicleFact) string {
	if len(facts) == 0 {
		return ""
	}
	return Vehicle(facts[:1])
}

// Vehicle makes a sentence of each fact. The one that is called "vehicle" needs no name, for the label beside it
// says so.
func Vehicle(facts []handout.VehicleFact) string {
	var sentences []string
	for _, f := range facts {
		text := wording.Capital(strings.TrimSpace(f.Value))
		if !strings.EqualFold(f.Name, "vehicle") {
			text = "**" + wording.Capital(f.Name) + ":** " + f.Value
		}
		if !strings.HasSuffix(text, ".") {
			text += "."
		}
		sentences = append(sentences, text)
	}
	return strings.Join(sentences, " ")
}

// RecordColumn is a column of the record table: what is written down of a test.
type RecordColumn struct {
	Label string
	Head  string // shorter, above a narrow column
	Below string // second line of the head
	Asked bool   // filled in with what the partner answers
}

// RecordColumns are the columns of the record, in the order in which they are filled in.
func RecordColumns() []RecordColumn {
	return []RecordColumn{
		{Label: "test", Head: "test", Below: "point, column; or name"},
		{Label: "expected", Head: "expected", Below: "a good reading"},
		{Label: "line", Head: "line"},
		{Label: "minutes", Head: "min"},
		{Label: "letters", Head: "letters", Asked: true},
		{Label: "reading", Head: "reading", Below: "from your partner", Asked: true},
		{Label: "OK?", Head: "OK?", Below: "+ or -"},
		{Label: "rules out", Head: "rules out"},
	}
}
