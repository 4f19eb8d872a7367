package grading

import (
	"fmt"
	"strings"

	"nospark/grading/submission"
	"nospark/scenarios/lab"
)

// sheetLines finds sheets by what stands on them.
type sheetLines struct {
	lab    *lab.Lab
	sheets map[lineKey][]int32 // that have such a line; made when first needed
}

type lineKey struct {
	line    int
	letters string
}

// with lists the sheets on which a line has these letters.
func (x *sheetLines) with(line int, letters string) []int32 {
	if x.sheets == nil {
		x.sheets = map[lineKey][]int32{}
		for i, s := range x.lab.Sheets {
			for _, l := range s.Lines {
				key := lineKey{l.Number, l.Letters}
				x.sheets[key] = append(x.sheets[key], int32(i))
			}
		}
	}
	return x.sheets[lineKey{line, letters}]
}

// neighbor finds the sheet, other than the given one, that most of the steps fit which do not fit the own sheet. At
// least two must: among 2,000 sheets of 150 lines a single foreign step fits some sheet by accident in half of all
// cases, two of five the same sheet in one case of 300.
func (x *sheetLines) neighbor(row submission.Row, own int) (sheet, fit int) {
	count := map[int32]int{}
	sheet = -1
	for _, step := range row.Steps {
		if step.Line < 0 || own >= 0 && hasLine(&x.lab.Sheets[own], step.Line, step.Letters) {
			continue
		}
		for _, s := range x.with(step.Line, step.Letters) {
			count[s]++
			n := count[s]
			if int(s) != own && (n > fit || n == fit && int(s) < sheet) {
				sheet, fit = int(s), n
			}
		}
	}
	if fit < 2 {
		return -1, 0
	}
	return sheet, fit
}

// guess words the sheet that the letters of a row fit, for the end of a hint.
func (x *sheetLines) guess(row submission.Row, own int) string {
	sheet, fit := x.neighbor(row, own)
	if sheet < 0 {
		return ""
	}
	return fmt.Sprintf("; %d of its %d steps fit %s", fit, len(row.Steps), owner(&x.lab.Sheets[sheet]))
}

// fits counts the readable steps of a row whose line and letters stand on a sheet.
func (x *sheetLines) fits(sheet int, row submission.Row) (fit, total int) {
	for _, step := range row.Steps {
		if step.Line < 0 {
			continue
		}
		total++
		for _, line := range x.lab.Sheets[sheet].Lines {
			if line.Number == step.Line && line.Letters == step.Letters {
				fit++
				break
			}
		}
	}
	return fit, total
}

// owner names a sheet by whose it is.
func owner(s *lab.Sheet) string {
	if s.Student == "" {
		return "spare sheet " + s.Code
	}
	return fmt.Sprintf("sheet %s of student %s", s.Code, s.Student)
}

// hasLine tells whether a sheet has a line with these letters.
func hasLine(s *lab.Sheet, line int, letters string) bool {
	for _, l := range s.Lines {
		if l.Number == line && l.Letters == letters {
			return true
		}
	}
	return false
}

// meant looks for the step that somebody meant: one line of the sheet that differs from what was written by one wrong
// digit, two swapped digits or one wrong letter. It is "" when there is none or more than one.
func meant(s *lab.Sheet, line int, letters, judged string) string {
	var found string
	for _, l := range s.Lines {
		slip := l.Letters == letters && oneSlip(fmt.Sprintf("%03d", l.Number), fmt.Sprintf("%03d", line)) ||
			l.Number == line && oneSlip(l.Letters, letters)
		if !slip {
			continue
		}
		if found != "" {
			return ""
		}
		found = fmt.Sprintf("%03d%s%s", l.Number, l.Letters, judged)
	}
	return found
}

// oneSlip tells whether two texts of equal length differ in one character or in two neighboring ones that changed
// places.
func oneSlip(a, b string) bool {
	if len(a) != len(b) || a == b {
		return false
	}
	i := 0
	for a[i] == b[i] {
		i++
	}
	if a[i+1:] == b[i+1:] {
		return true
	}
	return a[i] == b[i+1] && a[i+1] == b[i] && strings.HasSuffix(a[i+2:], b[i+2:]) && len(a[i+2:]) == len(b[i+2:])
}
