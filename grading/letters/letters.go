// Package letters tells by line numbers and their letters, which differ from sheet to sheet, whose sheet was read.
package letters

import (
	"fmt"
	"strings"

	"nospark/grading/submission"
	"nospark/scenarios/lab"
)

// Index finds sheets by what stands on them.
type Index struct {
	lab    *lab.Lab
	sheets map[lineKey][]int32 // that have such a line; made when first needed
}

// NewIndex prepares a lab.
func NewIndex(l *lab.Lab) *Index { return &Index{lab: l} }

type lineKey struct {
	line    int
	letters string
}

// with lists the sheets on which a line has these letters.
func (x *Index) with(line int, letters string) []int32 {
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

// Neighbor finds the sheet, other than the given one, that most of the steps fit which do not fit the own sheet. At
// least two must: among 2,000 sheets of 150 lines a single foreign step fits some sheet by accident in half of all
// cases, two of five the same sheet in one case of 300.
func (x *Index) Neighbor(row submission.Row, own int) (sheet, fit int) {
	count := map[int32]int{}
	sheet = -1
	for _, step := range row.Steps {
		if step.Line < 0 || own >= 0 && HasLine(&x.lab.Sheets[own], step.Line, step.Letters) {
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

// Guess words the sheet that the letters of a row fit, for the end of a hint.
func (x *Index) Guess(row submission.Row, own int) string {
	sheet, fit := x.Neighbor(row, own)
	if sheet < 0 {
		return ""
	}
	return fmt.Sprintf("; %d of its %d steps fit %s", fit, len(row.Steps), Owner(&x.lab.Sheets[sheet]))
}

// Fits counts the readable steps of a row whose line and letters stand on a sheet.
func (x *Index) Fits(sheet int, row submission.Row) (fit, total int) {
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

// Owner names a sheet by whose it is.
func Owner(s *lab.Sheet) string {
	if s.Student == "" {
		return "spare sheet " + s.Code
	}
	return fmt.Sprintf("sheet %s of student %s", s.Code, s.Student)
}

// HasLine tells whether a sheet has a line with these letters.
func HasLine(s *lab.Sheet, line int, letters string) bool {
	for _, l := range s.Lines {
		if l.Number == line && l.Letters == letters {
			return true
		}
	}
	return false
}

// Meant looks for the step that somebody meant: one line of the sheet that differs from what was written by one wrong
// digit, two swapped digits or one wrong letter. It is "" when there is none or more than one.
func Meant(s *lab.Sheet, line int, letters, judged string) string {
	var found string
	for _, l := range s.Lines {
		slip := l.Letters == letters && OneSlip(fmt.Sprintf("%03d", l.Number), fmt.Sprintf("%03d", line)) ||
			l.Number == line && OneSlip(l.Letters, letters)
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

// OneSlip tells whether two texts of equal length differ in one character or in two neighboring ones that changed
// places.
func OneSlip(a, b string) bool {
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
