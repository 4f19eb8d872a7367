package workbook

import (
	"cmp"
	"fmt"
	"nospark/scenarios/lab"
	"slices"

	"github.com/xuri/excelize/v2"
)

// The sheets of the entry form. EntrySheet is the one that is read.
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

// Looks of the form: what may be typed into is white, the rest grey. Steps and codes are text, lest a program take one for a number.
var (
	givenLook  = look{Border: true, Across: "left", Fill: paleGrey, Number: asText}
	typedLook  = look{Border: true, Across: "left", Unlocked: true, Number: asText}
	centreLook = look{Border: true, Unlocked: true, Across: "center"}
	stepLook   = look{Border: true, Unlocked: true, Across: "center", Number: asText}
)

// Entry makes the form in which an instructor types what a class handed in, one row per sheet of the lab. It holds nothing secret:
// students know their codes and the repairs, and the checks in it are of the form of an entry only.
func Entry(lab *lab.Lab) ([]byte, error) {
	b := newBook("Entry form for "+lab.Title, lab.Paper, lab.Date)
	form := b.sheet(entrySheet)
	repairs := sortedRepairs(lab)
	b.repairs(repairs)
	b.howTo(lab, repairs)
	form.entryForm(lab, len(repairs))
	return b.bytes(entrySheet)
}

// sortedRepairs gives the repairs by their codes, as one looks for them.
func sortedRepairs(l *lab.Lab) []lab.Repair {
	return slices.SortedFunc(slices.Values(l.Repairs), func(a, b lab.Repair) int {
		return cmp.Or(cmp.Compare(a.Code, b.Code), cmp.Compare(a.Letters, b.Letters))
	})
}

// entryColumns are the headings of the form, the same in both of its formats.
func entryColumns(lab *lab.Lab) []string {
	titles := []string{"id", "name", "section", "sheet", "repair"}
	for i := range lab.Rows {
		titles = append(titles, fmt.Sprintf("step %d", i+1))
	}
	return append(titles, "reasoning", "safe")
}

func (s *sheet) entryForm(lab *lab.Lab, repairs int) {
	s.set(1, 1, titleLook, "Entry form for "+lab.Title)
	for i, line := range []string{
		"One row per sheet handed in. repair: the code with its letters, like " + exampleRepair(lab) + ". step 1, 2, ...: line, letters and verdict, like 214KQ+ (+ judged OK, - judged not OK).",
		"Type in the white cells; Tab goes to the next one. Small letters and spaces do not matter. A question mark that appears in a cell asks you to look at the worksheet again.",
		"reasoning (0 to 4) and safe (yes or no) are yours; leave them empty if you do not use them. On a row of a spare sheet, type the student's id and name. More on the sheet \"How to\".",
	} {
		s.set(2+i, 1, noteLook, line)
	}
	last := firstStep + lab.Rows - 1
	reasoning, safe := last+1, last+2
	nameWidth := 14.0
	for i, sheet := range lab.Sheets {
		row := entryHead + 1 + i
		s.entryRow(row, sheet, last)
		nameWidth = max(nameWidth, min(textWidth(sheet.Name)+2, maxWidth))
	}
	for c, title := range entryColumns(lab) {
		s.set(entryHead, c+1, headLook, title)
		s.widths[c+1] = 9.5
	}
	s.widths[idColumn], s.widths[nameColumn], s.widths[sheetColumn] = 12, nameWidth, 10
	s.widths[reasoning], s.widths[safe] = 11, 8
	// Two lines high: the buttons for filtering stand in the lower one. There are buttons only where a row says who and which section.
	s.heights[entryHead] = 2*lineHeight + 4
	s.frozen, s.head, s.locked, s.tab = [2]int{entryHead, sheetColumn}, entryHead, true, blue
	if len(lab.Sheets) == 0 {
		return
	}
	end := entryHead + len(lab.Sheets)
	s.filter = at(entryHead, 1) + ":" + at(end, sheetColumn)
	s.entryLists(end, reasoning, safe)
	s.entryHints(end, last)
}

// entryRow writes the row of a sheet. A spare takes the id and the name of whoever got it.
func (s *sheet) entryRow(row int, sheet lab.Sheet, lastStep int) {
	person := givenLook
	if sheet.Student == "" {
		person = typedLook
	}
	s.set(row, idColumn, person, orNil(sheet.Student))
	s.set(row, nameColumn, person, orNil(sheet.Name))
	s.set(row, sectionColumn, givenLook, orNil(sheet.Section))
	s.set(row, sheetColumn, givenLook, sheet.Code)
	for c := repairColumn; c <= lastStep; c++ {
		s.set(row, c, stepLook, nil)
	}
	s.set(row, lastStep+1, centreLook, nil)
	s.set(row, lastStep+2, centreLook, nil)
}

// orNil leaves a cell without a text truly empty.
func orNil(text string) any {
	if text == "" {
		return nil
	}
	return text
}

// entryLists gives the columns with few possible entries their drop-down lists. A repair that is not on the list is only warned of: what
// the student wrote is what counts.
func (s *sheet) entryLists(end, reasoning, safe int) {
	// The lists are ranges with names: a list written into the rule itself ends at 255 characters and minds capitals.
	list := func(column int, source string, style excelize.DataValidationErrorStyle, title, text string) {
		v := excelize.NewDataValidation(true)
		v.Sqref = at(entryHead+1, column) + ":" + at(end, column)
		v.SetSqrefDropList(source)
		v.SetError(style, title, text)
		s.book.check(s.book.file.AddDataValidation(s.name, v))
	}
	list(repairColumn, codesName, excelize.DataValidationErrorStyleWarning, "Not on the list",
		"No repair of this lab has this code and letters. Look at the worksheet again, and keep the entry if that is what it says.")
	list(safe, yesNoName, excelize.DataValidationErrorStyleStop, "yes or no", "Type yes or no, or leave the cell empty.")
	v := excelize.NewDataValidation(true)
	v.Sqref = at(entryHead+1, reasoning) + ":" + at(end, reasoning)
	s.book.check(v.SetDropList([]string{"0", "1", "2", "3", "4"}))
	v.SetError(excelize.DataValidationErrorStyleStop, "0 to 4", "Type 0, 1, 2, 3 or 4, or leave the cell empty.")
	s.book.check(s.book.file.AddDataValidation(s.name, v))
}

// entryHints marks what does not look like an entry, with a question mark besides the colour. A mark changes no value, and nothing is
// refused.
func (s *sheet) entryHints(end, lastStep int) {
	first := entryHead + 1
	repair := squeezed(at(first, repairColumn))
	s.when(at(first, repairColumn)+":"+at(end, repairColumn),
		fmt.Sprintf("AND(LEN(%s)>0,COUNTIF(%s,%s)=0)", repair, codesName, repair), paleAmber, `"? "@`)
	// References are to the first cell of the range; programs move them along with each cell.
	step := squeezed(at(first, firstStep))
	steps := at(first, firstStep) + ":" + at(end, lastStep)
	// Ten characters and more are several steps in one cell, which the reader takes apart.
	s.when(steps, fmt.Sprintf("AND(LEN(%s)>0,LEN(%s)<10,NOT(%s))", step, step, looksLikeStep(step)), paleAmber, `"? "@`)
	s.when(steps, fmt.Sprintf("AND(LEN(%s)=5,%s)", step, looksLikeStep(step)), "", `@" ?"`)
}

// squeezed is a formula for what a cell holds, in capitals and without spaces.
func squeezed(cell string) string { return fmt.Sprintf(`SUBSTITUTE(UPPER(%s)," ","")`, cell) }

// looksLikeStep is a formula that is true for three digits, two letters and at most one sign. It is a hint for the eye: it accepts every
// dash that a keyboard may make of a minus, and leaves it to the reader to decide what an entry means.
func looksLikeStep(text string) string {
	// FIND and not SEARCH, which takes some signs for wildcards; no test by value, since 1E2 is a number.
	one := func(i int, of string) string { return fmt.Sprintf(`ISNUMBER(FIND(MID(%s,%d,1),"%s"))`, text, i, of) }
	const digits, letters = "0123456789", "ABCDEFGHIJKLMNOPQRSTUVWXYZ"
	return fmt.Sprintf("AND(LEN(%s)>4,LEN(%s)<7,%s,%s,%s,%s,%s,OR(LEN(%s)=5,%s))", text, text, one(1, digits), one(2, digits), one(3, digits),
		one(4, letters), one(5, letters), text, one(6, "+-\u2010\u2013\u2014\u2212"))
}

// exampleRepair is the code of some repair of the lab.
func exampleRepair(lab *lab.Lab) string {
	if len(lab.Repairs) == 0 {
		return "12HM"
	}
	first := sortedRepairs(lab)[0]
	return first.Code + first.Letters
}
