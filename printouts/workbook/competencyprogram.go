package workbook

import (
	"cmp"
	"fmt"
	"math"

	"nospark/grading/competency"
)

// program writes shares of the whole program and the statistics of its labs: the sheet that can be passed on, since no figure on it speaks of
// fewer than competency.LeastGroup students.
func (s *summary) program() {
	sh := s.sheet(programSheet)
	sh.set(1, 1, titleLook, "Program: "+s.t.Term.Program)
	sh.set(2, 1, noteLook, fmt.Sprintf("%s Groups of fewer than %d students are hidden.", onPaper, competency.LeastGroup))
	sh.widths[1] = 30
	const widest = 14 // columns of the widest table
	for c := 2; c <= widest; c++ {
		sh.widths[c] = 12
	}
	sh.widths[1+place(groupColumns, shareTitle)] = shareWidth
	s.labStatistics(sh, s.allGroups(sh, 4)+1)
}

// shareTitle is the heading of the column with the share of competent students, or with words instead.
const (
	shareTitle = "competent, of those judged"
	shareWidth = 20
)

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
	// 0 % of nobody would read like a failure of everybody.
	var share any = g.Competent.Share
	if g.Judged == 0 {
		share = nobodyJudged
	}
	return []any{g.Students, g.Count[competency.TooLittle], g.Judged, g.Count[competency.NotYet], g.Count[competency.ToSign], g.Count[competency.Competent],
		share, g.Competent.Low, g.Competent.High, g.Mean}
}

// allGroups writes all students together, one row per competency, and returns the row after the last. It has no filter and no frozen heading,
// since another table follows below.
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

// sections writes one row per section and competency. It has a sheet of its own because a school has hundreds of rows: they want a filter, and
// headings on every page. Where there is one section it would say the same as the sheet Program, so there is none.
func (s *summary) sections() {
	if len(s.t.Sections()) < 2 {
		return
	}
	sh := s.sheet(sectionsSheet)
	sh.set(1, 1, titleLook, "Sections: "+s.t.Term.Program)
	sh.set(2, 1, noteLook, fmt.Sprintf("%s Groups of fewer than %d students are hidden. The columns are those of the sheet Program.", onPaper, competency.LeastGroup))
	columns := []column{{title: "competency", width: 30, look: textLook}, {title: "section", width: 12, look: textLook}}
	for _, c := range groupColumns {
		c.width = 12
		if c.title == shareTitle {
			c.width = shareWidth
		}
		columns = append(columns, c)
	}
	var rows [][]any
	for c := range s.t.Competencies {
		for _, g := range s.t.Groups(c)[1:] { // the first is all students
			rows = append(rows, append([]any{s.t.Competencies[c].Title, cmp.Or(g.Section, "(no section)")}, groupCells(g)...))
		}
	}
	const head = 4
	end := sh.main(head, columns, rows, 2)
	sh.bars(head+1, end-1, place(columns, shareTitle), "1", skyBlue)
}

// labStatistics writes what can be said of the labs as measurements. The columns for shares stand together and those for fits after them, since one compares
// a step from lab to lab, down a column.
func (s *summary) labStatistics(sh *sheet, row int) {
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
	// A missing figure says why it is missing; an empty cell would look like a mistake.
	switch {
	case !math.IsNaN(alpha):
		text += fmt.Sprintf(", alpha %.2f: how far the labs agree about the students.", alpha)
	case n < competency.LeastN:
		text += fmt.Sprintf("; fewer than %d, so nothing is computed.", competency.LeastN)
	default:
		text += "; nothing varies, so there is no alpha."
	}
	sh.set(row, 1, noteLook, text)
}

// twoPlaces is the look of a coefficient.
var twoPlaces = look{Border: true, Across: "right", Number: "0.00"}

// hiddenFaults tells how often each hidden fault was found: on a sheet of its own, since the sheet Program may be passed on to people who
// should not read it.
func (s *summary) hiddenFaults() {
	sh := s.sheet(faultsSheet)
	sh.set(1, 1, titleLook, "Hidden faults: "+s.t.Term.Program)
	sh.set(2, 1, noteLook, fmt.Sprintf("For the instructor, not for students. Share of the sheets worked on whose right repair was concluded; blank below N = %d.", competency.LeastN))
	var rows [][]any
	for _, f := range s.t.Faults() {
		rows = append(rows, []any{f.Fault, f.Pack, f.N, f.Found.Share, f.Found.Low, f.Found.High})
	}
	columns := []column{{title: "fault", width: 30, look: textLook}, {title: "pack", width: 24, look: textLook}, {title: "N", width: 8, look: wholeLook},
		{title: shareFound, width: 12, look: percentLook}, {title: "95 % from", width: 12, look: percentLook}, {title: "to", width: 12, look: percentLook}}
	const head = 4
	end := sh.main(head, columns, rows, 1)
	sh.bars(head+1, end-1, place(columns, shareFound), "1", skyBlue)
}

const shareFound = "share found"
