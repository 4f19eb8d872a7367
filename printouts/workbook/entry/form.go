// Package entry makes the form in which an instructor types what a class handed in. Start at Form.
package entry

import (
	"cmp"
	"fmt"
	"slices"

	"nospark/printouts/workbook"
	"nospark/scenarios/lab"
)

// The sheets of the entry form. Entry is the one that is read.
const (
	entrySheet   = "Entry"
	repairsSheet = "Repairs"
	howToSheet   = "How to"
)

// Names of ranges that the form's lists and formats use.
const (
	codesName = "repair_codes"
	yesNoName = "yes_or_no"
)

// Columns of the form before the steps.
const (
	idColumn = 1 + iota
	nameColumn
	sectionColumn
	sheetColumn
	repairColumn
	firstStep
)

// entryHead is the row of the form's headings; the reader looks for it in the first 20.
const entryHead = 6

// Styles of the form: what may be typed into is white, the rest gray. Steps and codes are text, lest a program take one
// for a number.
var (
	givenStyle  = workbook.Style{Border: true, Align: "left", Fill: workbook.PaleGray, Format: workbook.AsText}
	typedStyle  = workbook.Style{Border: true, Align: "left", Unlocked: true, Format: workbook.AsText}
	centerStyle = workbook.Style{Border: true, Unlocked: true, Align: "center"}
	stepStyle   = workbook.Style{Border: true, Unlocked: true, Align: "center", Format: workbook.AsText}
)

// Form makes the form in which an instructor types what a class handed in, one row per sheet of the lab. It holds
// nothing secret: students know their codes and the repairs, and the checks in it are of the form of an entry only.
func Form(l *lab.Lab) ([]byte, error) {
	b := workbook.New("Entry form for "+l.Title, l.Paper, l.Date)
	form := b.AddSheet(entrySheet)
	repairs := sortedRepairs(l)
	writeRepairs(b, repairs)
	writeHowTo(b, l, repairs)
	writeForm(form, l)
	return b.Bytes(entrySheet)
}

// sortedRepairs gives the repairs by their codes, as one looks for them.
func sortedRepairs(l *lab.Lab) []lab.Repair {
	return slices.SortedFunc(slices.Values(l.Repairs), func(a, b lab.Repair) int {
		return cmp.Or(cmp.Compare(a.Code, b.Code), cmp.Compare(a.Letters, b.Letters))
	})
}

// headings of the form.
func headings(l *lab.Lab) []string {
	titles := []string{"id", "name", "section", "sheet", "repair"}
	for i := range l.Rows {
		titles = append(titles, fmt.Sprintf("step %d", i+1))
	}
	return append(titles, "reasoning", "safe")
}

// writeForm writes the sheet that is typed into.
func writeForm(s *workbook.Sheet, l *lab.Lab) {
	s.Set(1, 1, workbook.TitleStyle, "Entry form for "+l.Title)
	for i, line := range []string{
		"One row per sheet handed in. repair: the code with its letters, like " + exampleRepair(l) +
			". step 1, 2, ...: line, letters and verdict, like 214KQ+ (+ judged OK, - judged not OK).",
		"Type in the white cells; Tab goes to the next one. Small letters and spaces do not matter. A question mark " +
			"that " +
			"appears in a cell asks you to look at the worksheet again.",
		"reasoning (0 to 4) and safe (yes or no) are yours; leave them empty if you do not use them. On a row of a " +
			"spare " +
			"sheet, type the student's id and name. More on the sheet \"How to\".",
	} {
		s.Set(2+i, 1, workbook.NoteStyle, line)
	}
	last := firstStep + l.Rows - 1
	reasoning, safe := last+1, last+2
	nameWidth := 14.0
	for i, sheet := range l.Sheets {
		row := entryHead + 1 + i
		writeRow(s, row, sheet, last)
		nameWidth = max(nameWidth, min(workbook.TextWidth(sheet.Name)+2, workbook.MaxWidth))
	}
	for c, title := range headings(l) {
		s.Set(entryHead, c+1, workbook.HeadStyle, title)
		s.Widths[c+1] = 9.5
	}
	s.Widths[idColumn], s.Widths[nameColumn], s.Widths[sheetColumn] = 12, nameWidth, 10
	s.Widths[reasoning], s.Widths[safe] = 11, 8
	// Two lines high: the buttons for filtering stand in the lower one. There are buttons only where a row says who and
	// which section.
	s.Heights[entryHead] = 2*workbook.LineHeight + 4
	s.Frozen, s.HeadRow, s.Locked, s.TabColor = [2]int{entryHead, sheetColumn}, entryHead, true, workbook.Blue
	if len(l.Sheets) == 0 {
		return
	}
	end := entryHead + len(l.Sheets)
	s.Filter = workbook.Ref(entryHead, 1) + ":" + workbook.Ref(end, sheetColumn)
	addLists(s, end, reasoning, safe)
	addHints(s, end, last)
}

// writeRow writes the row of a sheet. A spare takes the id and the name of whoever got it.
func writeRow(s *workbook.Sheet, row int, sheet lab.Sheet, lastStep int) {
	person := givenStyle
	if sheet.Student == "" {
		person = typedStyle
	}
	s.Set(row, idColumn, person, workbook.OrEmpty(sheet.Student))
	s.Set(row, nameColumn, person, workbook.OrEmpty(sheet.Name))
	s.Set(row, sectionColumn, givenStyle, workbook.OrEmpty(sheet.Section))
	s.Set(row, sheetColumn, givenStyle, sheet.Code)
	for c := repairColumn; c <= lastStep; c++ {
		s.Set(row, c, stepStyle, nil)
	}
	s.Set(row, lastStep+1, centerStyle, nil)
	s.Set(row, lastStep+2, centerStyle, nil)
}

// addLists gives the columns with few possible entries their drop-down lists. A repair that is not on the list is only
// warned of: what the student wrote is what counts.
func addLists(s *workbook.Sheet, end, reasoning, safe int) {
	first := entryHead + 1
	// The lists are ranges with names: a list written into the rule itself ends at 255 characters and minds capitals.
	s.Choices(first, end, repairColumn, workbook.Choices{Source: codesName, Warn: true, Title: "Not on the list",
		Text: "No repair of this lab has this code and letters. Look at the worksheet again, and keep the entry if " +
			"that is what it says."})
	s.Choices(first, end, safe, workbook.Choices{Source: yesNoName, Title: "yes or no",
		Text: "Type yes or no, or leave the cell empty."})
	s.Choices(first, end, reasoning, workbook.Choices{List: []string{"0", "1", "2", "3", "4"}, Title: "0 to 4",
		Text: "Type 0, 1, 2, 3 or 4, or leave the cell empty."})
}

// addHints marks what does not look like an entry, with a question mark besides the color. A mark changes no value, and
// nothing is refused.
func addHints(s *workbook.Sheet, end, lastStep int) {
	first := entryHead + 1
	repair := squeezed(workbook.Ref(first, repairColumn))
	s.Highlight(workbook.Ref(first, repairColumn)+":"+workbook.Ref(end, repairColumn),
		fmt.Sprintf("AND(LEN(%s)>0,COUNTIF(%s,%s)=0)", repair, codesName, repair), workbook.PaleAmber, `"? "@`)
	// References are to the first cell of the range; programs move them along with each cell.
	step := squeezed(workbook.Ref(first, firstStep))
	steps := workbook.Ref(first, firstStep) + ":" + workbook.Ref(end, lastStep)
	// Ten characters and more are several steps in one cell, which the reader takes apart.
	s.Highlight(steps, fmt.Sprintf("AND(LEN(%s)>0,LEN(%s)<10,NOT(%s))", step, step, looksLikeStep(step)),
		workbook.PaleAmber, `"? "@`)
	s.Highlight(steps, fmt.Sprintf("AND(LEN(%s)=5,%s)", step, looksLikeStep(step)), "", `@" ?"`)
}

// squeezed is a formula for what a cell holds, in capitals and without spaces.
func squeezed(cell string) string { return fmt.Sprintf(`SUBSTITUTE(UPPER(%s)," ","")`, cell) }

// looksLikeStep is a formula that is true for three digits, two letters and at most one sign. It is a hint for the eye:
// it accepts every dash that a keyboard may make of a minus, and leaves it to the reader to decide what an entry means.
func looksLikeStep(text string) string {
	// FIND and not SEARCH, which takes some signs for wildcards; no test by value, since 1E2 is a number.
	one := func(i int, of string) string { return fmt.Sprintf(`ISNUMBER(FIND(MID(%s,%d,1),"%s"))`, text, i, of) }
	const digits, letters = "0123456789", "ABCDEFGHIJKLMNOPQRSTUVWXYZ"
	return fmt.Sprintf("AND(LEN(%s)>4,LEN(%s)<7,%s,%s,%s,%s,%s,OR(LEN(%s)=5,%s))", text, text, one(1, digits),
		one(2, digits), one(3, digits),
		one(4, letters), one(5, letters), text, one(6, "+-\u2010\u2013\u2014\u2212"))
}

// exampleRepair is the code of some repair of the lab.
func exampleRepair(l *lab.Lab) string {
	if len(l.Repairs) == 0 {
		return "12HM"
	}
	first := sortedRepairs(l)[0]
	return first.Code + first.Letters
}
