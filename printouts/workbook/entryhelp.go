package workbook

import "nospark/scenarios/lab"

// repairs writes the sheet with the codes of the repairs, which the drop-down list of the form shows. It is in the order of the codes: whoever
// types has a code on paper and looks for it.
func (b *book) repairs(repairs []lab.Repair) {
	s := b.sheet(repairsSheet)
	s.tall, s.locked = true, true
	s.set(1, 1, titleLook, "Repairs of this lab")
	s.set(2, 1, noteLook, "As on the class reference. The two letters are a typing check.")
	const head = 4
	var rows [][]any
	for _, r := range repairs {
		rows = append(rows, []any{r.Code + r.Letters, r.Label, number(r.Minutes), r.Rarity})
	}
	// Minutes and frequency are on the class reference too, so the form tells students nothing that they do not have.
	end := s.table(head, 1, []column{
		{title: "code", width: 9, look: midLook},
		{title: "repair", width: 52, look: wrapLook},
		{title: "minutes", width: 10, look: tenthsLook},
		{title: "how often", width: 13, look: midLook},
	}, rows)
	s.frozen, s.head = [2]int{head, 0}, head
	b.name(codesName, s.area(head+1, 1, max(end-1, head+1), 1))
}

// howTo writes the page that explains the form, with an example of a worksheet and how it is typed: the form may be filled in by somebody who
// was not in the shop and has no manual.
func (b *book) howTo(lab *lab.Lab, repairs []lab.Repair) {
	s := b.sheet(howToSheet)
	s.tall, s.locked, s.onePage = true, true, true
	for i, width := range []float64{19, 30, 13, 13, 13, 19} {
		s.widths[i+1] = width
	}
	s.set(1, 1, titleLook, "How to fill in the form")
	row := 3
	for _, c := range entryWords {
		s.set(row, 1, look{Bold: true, Top: true, Across: "left", Border: true, Fill: paleGrey}, c.name)
		s.merge(row, 2, 6, look{Wrap: true, Top: true, Across: "left", Border: true}, c.text)
		s.heights[row] = float64(lineCount(c.text, 84))*lineHeight + 5
		row++
	}
	// The two words that the column safe takes, named as a range so that capitals do not matter.
	row++
	s.set(row, 1, noteLook, "safe is")
	s.set(row, 2, noteLook, "yes")
	s.set(row+1, 1, noteLook, "or")
	s.set(row+1, 2, noteLook, "no")
	b.name(yesNoName, s.area(row, 2, row+1, 2))
	row += 3
	s.set(row, 1, headingLook, "An example")
	row++
	s.set(row, 1, look{}, "On the worksheet the student has written:")
	row++
	row = s.table(row, 1, []column{
		{title: "", look: midLook}, {title: "test", look: textLook}, {title: "line", look: midLook}, {title: "letters", look: midLook},
		{title: "OK?", look: midLook}, {title: "you type", look: look{Border: true, Bold: true, Across: "center"}},
	}, exampleSteps(lab, repairs))
	s.set(row+1, 1, look{}, "So the row of the form reads:")
	row += 2
	for i, pair := range [][2]string{{"repair", exampleRepair(lab)}, {"step 1", "214KQ+"}, {"step 2", "058BT-"}, {"step 3", "330XZ+"}} {
		s.set(row, 1+i, headLook, pair[0])
		s.set(row+1, 1+i, midLook, pair[1])
	}
}

// entryWords explain the columns of the form, and what people ask when they meet one.
var entryWords = []struct{ name, text string }{
	{"id, name", "Who worked on the sheet. They are filled in; on a row of a spare sheet type both, the id as in the class list."},
	{"sheet", "The code on the worksheet. With it a row finds its student even if the id is missing."},
	{"repair", "The student's conclusion: the code of the repair and its two letters. Leave it empty if there is none."},
	{"step 1, 2, ...", "In the order in which the student took them: the number of the line, the two letters beside the reading, and + for a reading judged OK " +
		"or - for one judged not OK. Without a verdict type line and letters only; a question mark then follows in the cell, as a reminder."},
	{"reasoning", "Yours, 0 to 4, from what the student wrote under \"expected\" and \"rules out\". Empty: not judged."},
	{"safe", "Yours: did the student work safely? yes or no. Empty: not judged."},
	{"more steps", "If a worksheet has more steps than the form has columns, type several into the last cell: 214KQ+ 058BT-."},
	{"nothing handed in", "Leave the row empty. It is reported as missing and never counted as zero."},
	{"a question mark", "It appears in front of an entry that does not look right: a digit or a letter is missing, or no repair has that code. Type what the " +
		"worksheet says; grading reports what it cannot read and grades the rest."},
	{"protection", "The grey cells are locked against slips, without a password: Review, Unprotect Sheet. Columns of your own go right of the last one, with a " +
		"heading. You may also hand in a CSV file with the same headings, called class.csv."},
}

// exampleSteps is an invented record. Its lines and letters are the same for every lab, and fit none of its sheets on purpose.
func exampleSteps(lab *lab.Lab, repairs []lab.Repair) [][]any {
	repair := "the repair" // a lab without repairs is none that build makes, but a form of it should still explain itself
	if len(repairs) > 0 {
		repair = repairs[0].Label
	}
	return [][]any{
		{"1", "first test", "214", "KQ", "OK", "214KQ+"},
		{"2", "second test", "058", "BT", "not OK", "058BT-"},
		{"3", "third test", "330", "XZ", "OK", "330XZ+"},
		{"conclusion", repair, nil, nil, nil, exampleRepair(lab)},
	}
}

// number gives tenths of a minute as minutes.
func number(tenths int64) float64 { return float64(tenths) / 10 }
