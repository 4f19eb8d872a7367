package workbook

import (
	"cmp"
	"fmt"
	"math"

	"nospark/grading/competency"
)

// program writes shares of the whole program and of its sections, and the statistics of its labs.
func (s *summary) program() {
	sh := s.sheet(programSheet)
	sh.set(1, 1, titleLook, "Program: "+s.t.Term.Program)
	sh.set(2, 1, noteLook, fmt.Sprintf("%s Groups of fewer than %d students are hidden.", onPaper, competency.LeastGroup))
	sh.widths[1] = 30
	sh.widths[8], sh.widths[9] = 20, 20 // where the share stands, or words instead
	const widest = 14                   // columns of the widest table
	for c := 2; c <= widest; c++ {
		if sh.widths[c] == 0 {
			sh.widths[c] = 12
		}
	}
	row := s.allGroups(sh, 4)
	row = s.labStatistics(sh, row+1)
	row = s.faultStatistics(sh, row+1)
	s.sectionGroups(sh, row+1)
}

// shareTitle is the heading of the column with the share of competent students.
const shareTitle = "competent, of those judged"

// nobodyJudged stands in place of a share of nobody.
const nobodyJudged = "nobody has enough evidence yet"

var groupColumns = []column{
	{title: "students", look: wholeLook}, {title: "… too few opportunities", look: wholeLook}, {title: "could be judged", look: wholeLook},
	{title: "✗ not yet", look: wholeLook}, {title: "✎ met the count, signature missing", look: wholeLook}, {title: "✓ competent", look: wholeLook},
	{title: shareTitle, look: look{Border: true, Across: "right", Number: percent, Wrap: true}}, {title: "95 % from", look: percentLook},
	{title: "to", look: percentLook}, {title: "opportunities per student", look: tenthsLook},
}

// groupCells are the values of those columns; of a hidden group the number of students alone.
func groupCells(g competency.Group) []any {
	if g.Hidden {
		return []any{fmt.Sprintf("fewer than %d", competency.LeastGroup), nil, nil, nil, nil, nil, nil, nil, nil, nil}
	}
	var share any = g.Competent.Share
	if g.Judged == 0 {
		share = nobodyJudged
	}
	return []any{g.Students, g.Count[competency.TooLittle], g.Judged, g.Count[competency.NotYet], g.Count[competency.ToSign], g.Count[competency.Competent],
		share, g.Competent.Low, g.Competent.High, g.Mean}
}

// allGroups writes all students together, one row per competency.
func (s *summary) allGroups(sh *sheet, row int) int {
	sh.set(row, 1, headingLook, "All students")
	sh.set(row+1, 1, noteLook, "Share of the students with enough opportunities to be judged; the interval is Wilson's score interval and says how far chance alone may move a share of so many students.")
	var rows [][]any
	for c := range s.t.Competencies {
		rows = append(rows, append([]any{s.t.Competencies[c].Title}, groupCells(s.t.Groups(c)[0])...))
	}
	head := row + 2
	end := sh.table(head, 1, append([]column{{title: "competency", look: textLook}}, groupColumns...), rows)
	sh.bars(head+1, end-1, 1+place(groupColumns, shareTitle), "1", skyBlue)
	return end
}

// sectionGroups writes every section, one row per section and competency. Where there is one section it would say the same again.
func (s *summary) sectionGroups(sh *sheet, row int) {
	sh.set(row, 1, headingLook, "By section")
	var rows [][]any
	for c := range s.t.Competencies {
		groups := s.t.Groups(c)
		if len(groups) <= 2 {
			sh.set(row+1, 1, noteLook, "There is one section.")
			return
		}
		for _, g := range groups[1:] {
			cells := groupCells(g)
			rows = append(rows, append([]any{s.t.Competencies[c].Title, cmp.Or(g.Section, "(no section)")}, cells...))
		}
	}
	columns := append([]column{{title: "competency", look: textLook}, {title: "section", look: textLook}}, groupColumns...)
	end := sh.table(row+1, 1, columns, rows)
	sh.bars(row+2, end-1, 2+place(groupColumns, shareTitle), "1", skyBlue)
}

// labStatistics writes what can be said of the labs as measurements.
func (s *summary) labStatistics(sh *sheet, row int) int {
	sh.set(row, 1, headingLook, "Labs")
	sh.set(row+1, 1, noteLook, fmt.Sprintf("Over the steps that all sheets have in common, whatever fault they hide; blank below N = %d. A prompt to look at the question, not a verdict.", competency.LeastN))
	sh.set(row+2, 1, noteLook, "KR-20: how far the steps agree about the students. Fit: correlation of a step with the other steps. Divisor N throughout.")
	labs := s.t.Labs()
	columns := []column{{title: "lab", look: textLook}, {title: "date", look: midLook}, {title: "N", look: wholeLook}, {title: "KR-20", look: twoPlaces}}
	var rows [][]any
	for i, l := range labs {
		cells := []any{l.Name, l.Date, l.Statistics.N, l.Statistics.KR20}
		var fits []any
		var fitColumns []column
		for _, f := range l.Statistics.Steps {
			if i == 0 {
				columns = append(columns, column{title: "met: " + f.Title, look: percentLook})
				fitColumns = append(fitColumns, column{title: "fit: " + f.Title, look: twoPlaces})
			}
			cells, fits = append(cells, f.Share), append(fits, f.Fit)
		}
		columns = append(columns, fitColumns...)
		rows = append(rows, append(cells, fits...))
	}
	row = sh.table(row+3, 1, columns, rows)
	alpha, k, n := s.t.Marks()
	text := fmt.Sprintf("Marks over the term: N = %d with a final mark in each of the %d labs", n, k)
	switch {
	case !math.IsNaN(alpha):
		text += fmt.Sprintf(", alpha %.2f: how far the labs agree about the students.", alpha)
	case n < competency.LeastN:
		text += fmt.Sprintf("; fewer than %d, so nothing is computed.", competency.LeastN)
	default:
		text += "; nothing varies, so there is no alpha."
	}
	sh.set(row, 1, noteLook, text)
	return row + 1
}

// twoPlaces is the look of a coefficient.
var twoPlaces = look{Border: true, Across: "right", Number: "0.00"}

// faultStatistics tells how often each hidden fault was found.
func (s *summary) faultStatistics(sh *sheet, row int) int {
	sh.set(row, 1, headingLook, "Hidden faults: share found")
	sh.set(row+1, 1, noteLook, fmt.Sprintf("For the instructor, not for students. Share of the sheets worked on whose right repair was concluded; blank below N = %d, which is more than the %d students of a group above.", competency.LeastN, competency.LeastGroup))
	var rows [][]any
	for _, f := range s.t.Faults() {
		rows = append(rows, []any{f.Fault, f.Pack, f.N, f.Found.Share, f.Found.Low, f.Found.High})
	}
	head := row + 2
	end := sh.table(head, 1, []column{{title: "fault", look: textLook}, {title: "pack", look: textLook}, {title: "N", look: wholeLook},
		{title: "share found", look: percentLook}, {title: "95 % from", look: percentLook}, {title: "to", look: percentLook}}, rows)
	sh.bars(head+1, end-1, 4, "1", skyBlue)
	return end
}
