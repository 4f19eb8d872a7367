package grading

import (
	"fmt"
	"strings"

	"nospark/grading/submission"
	"nospark/scenarios/lab"
)

// sheetsWith lists the sheets on which a line has these letters.
func (m *matcher) sheetsWith(line int, letters string) []int32 {
	if m.letters == nil {
		m.letters = map[lineKey][]int32{}
		for i, s := range m.lab.Sheets {
			for _, l := range s.Lines {
				key := lineKey{l.Number, l.Letters}
				m.letters[key] = append(m.letters[key], int32(i))
			}
		}
	}
	return m.letters[lineKey{line, letters}]
}

// neighbour finds the sheet, other than the given one, that most of the steps fit which do not fit the own sheet. At least two must:
// among 2,000 sheets of 150 lines a single foreign step fits some sheet by accident in half of all cases, two of five the same sheet in
// one case of 300.
func (m *matcher) neighbour(row submission.Row, own int) (sheet, fit int) {
	count := map[int32]int{}
	sheet = -1
	for _, step := range row.Steps {
		if step.Line < 0 || own >= 0 && hasLine(&m.lab.Sheets[own], step.Line, step.Letters) {
			continue
		}
		for _, s := range m.sheetsWith(step.Line, step.Letters) {
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
func (m *matcher) guess(row submission.Row, own int) string {
	sheet, fit := m.neighbour(row, own)
	if sheet < 0 {
		return ""
	}
	return fmt.Sprintf("; %d of its %d steps fit %s", fit, len(row.Steps), owner(&m.lab.Sheets[sheet]))
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

// meant looks for the step that somebody meant: one line of the sheet that differs from what was written by one wrong digit, two
// swapped digits or one wrong letter. It is "" when there is none or more than one.
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

// oneSlip tells whether two texts of equal length differ in one character or in two neighbouring ones that changed places.
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
