package entry

import (
	"nospark/printouts/workbook"
	"nospark/scenarios/lab"
)

// writeRepairs writes the sheet with the codes of the repairs, which the drop-down list of the form shows. It is in the
// order of the codes: whoever types has a code on paper and looks for it.
func writeRepairs(b *workbook.Book, repairs []lab.Repair) {
	s := b.AddSheet(repairsSheet)
	s.Portrait, s.Locked = true, true
	s.Set(1, 1, workbook.TitleStyle, "Repairs of this lab")
	s.Set(2, 1, workbook.NoteStyle, "As in the booklet. The two letters are a typing check.")
	const head = 4
	var rows [][]any
	for _, r := range repairs {
		rows = append(rows, []any{r.Code + r.Letters, r.Label, float64(r.Minutes) / 10, r.Rarity})
	}
	// Minutes and frequency are on the booklet too, so the form tells students nothing that they do not have.
	end := s.Table(head, 1, []workbook.Column{
		{Title: "code", Width: 9, Style: workbook.CenterStyle},
		{Title: "repair", Width: 52, Style: workbook.WrapStyle},
		{Title: "minutes", Width: 10, Style: workbook.TenthsStyle},
		{Title: "how often", Width: 13, Style: workbook.CenterStyle},
	}, rows)
	s.Frozen, s.HeadRow = [2]int{head, 0}, head
	b.DefineName(codesName, s.Range(head+1, 1, max(end-1, head+1), 1))
}

// writeHowTo writes the page that explains the form, with an example of a worksheet and how it is typed: the form may
// be filled in by somebody who was not in the shop and has no manual.
func writeHowTo(b *workbook.Book, l *lab.Lab, repairs []lab.Repair) {
	s := b.AddSheet(howToSheet)
	s.Portrait, s.Locked, s.OnePage = true, true, true
	for i, width := range []float64{19, 30, 13, 13, 13, 19} {
		s.Widths[i+1] = width
	}
	s.Set(1, 1, workbook.TitleStyle, "How to fill in the form")
	row := 3
	for _, c := range entryWords {
		s.Set(row, 1, workbook.Style{Bold: true, Top: true, Align: "left", Border: true, Fill: workbook.PaleGray},
			c.name)
		s.Merge(row, 2, 6, workbook.Style{Wrap: true, Top: true, Align: "left", Border: true}, c.text)
		s.Heights[row] = float64(workbook.LineCount(c.text, 84))*workbook.LineHeight + 5
		row++
	}
	// The two words that the column safe takes, named as a range so that capitals do not matter.
	row++
	s.Set(row, 1, workbook.NoteStyle, "safe is")
	s.Set(row, 2, workbook.NoteStyle, "yes")
	s.Set(row+1, 1, workbook.NoteStyle, "or")
	s.Set(row+1, 2, workbook.NoteStyle, "no")
	b.DefineName(yesNoName, s.Range(row, 2, row+1, 2))
	row += 3
	s.Set(row, 1, workbook.HeadingStyle, "An example")
	row++
	s.Set(row, 1, workbook.Style{}, "On the worksheet the student has written:")
	row++
	row = s.Table(row, 1, []workbook.Column{
		{Title: "", Style: workbook.CenterStyle}, {Title: "test", Style: workbook.TextStyle},
		{Title: "line", Style: workbook.CenterStyle}, {Title: "letters", Style: workbook.CenterStyle},
		{Title: "OK?", Style: workbook.CenterStyle},
		{Title: "you type", Style: workbook.Style{Border: true, Bold: true, Align: "center"}},
	}, exampleSteps(l, repairs))
	s.Set(row+1, 1, workbook.Style{}, "So the row of the form reads:")
	row += 2
	for i, pair := range [][2]string{{"repair", exampleRepair(l)}, {"step 1", "214KQ+"}, {"step 2", "058BT-"},
		{"step 3", "330XZ+"}} {
		s.Set(row, 1+i, workbook.HeadStyle, pair[0])
		s.Set(row+1, 1+i, workbook.CenterStyle, pair[1])
	}
}

// entryWords explain the columns of the form, and what people ask when they meet one.
var entryWords = []struct{ name, text string }{
	{"id, name", "Who worked on the sheet. They are filled in; on a row of a spare sheet type both, the id as in the " +
		"class list."},
	{"sheet", "The code on the worksheet. With it a row finds its student even if the id is missing."},
	{"repair",
		"The student's conclusion: the code of the repair and its two letters. Leave it empty if there is none."},
	{"step 1, 2, ...", "In the order in which the student took them: the number of the line, the two letters beside " +
		"the reading, and + for a reading judged OK " +
		"or - for one judged not OK. Without a verdict type line and letters only; a question mark then follows in the " +
		"cell, as a reminder."},
	{"reasoning",
		"Yours, 0 to 4, from what the student wrote under \"expected\" and \"rules out\". Empty: not judged."},
	{"safe", "Yours: did the student work safely? yes or no. Empty: not judged."},
	{"more steps", "If a worksheet has more steps than the form has columns, type several into the last cell: 214KQ+ " +
		"058BT-."},
	{"nothing handed in", "Leave the row empty. It is reported as missing and never counted as zero."},
	{"a question mark", "It appears in front of an entry that does not look right: a digit or a letter is missing, " +
		"or no repair has that code. Type what the " +
		"worksheet says; grading reports what it cannot read and grades the rest."},
	{"protection", "The gray cells are locked against slips, without a password: Review, Unprotect Sheet. Columns of " +
		"your own go right of the last one, with a " +
		"heading. You may also hand in a CSV file with the same headings, called class.csv."},
}

// exampleSteps is an invented record. Its lines and letters are the same for every lab, and fit none of its sheets on
// purpose.
func exampleSteps(l *lab.Lab, repairs []lab.Repair) [][]any {
	// a lab without repairs is none that build makes, but a form of it should still explain itself
	repair := "the repair"
	if len(repairs) > 0 {
		repair = repairs[0].Label
	}
	return [][]any{
		{"1", "first test", "214", "KQ", "OK", "214KQ+"},
		{"2", "second test", "058", "BT", "not OK", "058BT-"},
		{"3", "third test", "330", "XZ", "OK", "330XZ+"},
		{"conclusion", repair, nil, nil, nil, exampleRepair(l)},
	}
}
