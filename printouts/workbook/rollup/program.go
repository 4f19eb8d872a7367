package rollup

import (
	"cmp"
	"fmt"

	"nospark/grading/competency"
	"nospark/grading/outcomes"
	"nospark/printouts/workbook"
)

// program writes shares of the whole program and the statistics of its labs: the sheet that can be passed on, since no
// figure on it speaks of fewer than outcomes.LeastGroup students.
func (s *summary) program() {
	sh := s.AddSheet(programSheet)
	sh.Set(1, 1, workbook.TitleStyle, "Program: "+s.t.Term.Program)
	sh.Set(2, 1, workbook.NoteStyle, fmt.Sprintf("%s Groups of fewer than %d students are hidden.", onPaper,
		outcomes.LeastGroup))
	sh.Widths[1] = 30
	const widest = 14 // columns of the widest table
	for c := 2; c <= widest; c++ {
		sh.Widths[c] = 12
	}
	sh.Widths[1+workbook.ColumnIndex(groupColumns, shareTitle)] = shareWidth
	s.precision(sh, s.allGroups(sh, 4)+1)
}

// shareTitle is the heading of the column with the share of competent students, or with words instead.
const (
	shareTitle = "competent, of those judged"
	shareWidth = 20
)

var groupColumns = []workbook.Column{
	{Title: "students", Style: workbook.WholeStyle}, {Title: "… too few opportunities", Style: workbook.WholeStyle},
	{Title: "▲ at risk", Style: workbook.WholeStyle}, {Title: "◊ at the vehicle", Style: workbook.WholeStyle},
	{Title: "could be judged", Style: workbook.WholeStyle},
	{Title: "✗ not yet", Style: workbook.WholeStyle}, {Title: "✎ met the count, signature missing",
		Style: workbook.WholeStyle}, {Title: "✓ competent", Style: workbook.WholeStyle},
	{Title: shareTitle, Style: workbook.Style{Border: true, Align: "right", Format: workbook.Percent, Wrap: true}},
	{Title: "95 % from", Style: workbook.PercentStyle},
	{Title: "to", Style: workbook.PercentStyle}, {Title: "opportunities per student", Style: workbook.TenthsStyle},
}

// groupCells are the values of those columns; of a hidden group the number of students alone.
func groupCells(g outcomes.Group) []any {
	if g.Hidden {
		return []any{fmt.Sprintf("fewer than %d", outcomes.LeastGroup), nil, nil, nil, nil, nil, nil, nil, nil, nil,
			nil, nil}
	}
	// 0 % of nobody would read like a failure of everybody.
	var share any = g.Competent.Share
	switch {
	case g.HandsOn:
		share = "signed at the vehicle"
	case g.Judged == 0:
		share = nobodyJudged
	}
	return []any{g.Students, g.Count[competency.TooLittle], g.Count[competency.AtRisk],
		g.Count[competency.HandsOn], g.Judged, g.Count[competency.NotYet],
		g.Count[competency.ToSign], g.Count[competency.Competent],
		share, g.Competent.Low, g.Competent.High, g.Mean}
}

// allGroups writes all students together, one row per competency, and returns the row after the last. It has no filter
// and no frozen heading, since another table follows below.
func (s *summary) allGroups(sh *workbook.Sheet, row int) int {
	sh.Set(row, 1, workbook.HeadingStyle, "All students")
	sh.Set(row+1, 1, workbook.NoteStyle, "Share of the students with enough opportunities to be judged; the interval "+
		"is Wilson's score interval and says how far chance alone may move a share of so many students.")
	var rows [][]any
	for c := range s.t.Competencies {
		rows = append(rows, append([]any{s.t.Competencies[c].Title}, groupCells(outcomes.GroupsOf(s.t, c)[0])...))
	}
	head := row + 2
	end := sh.Table(head, 1, append([]workbook.Column{{Title: "competency", Style: workbook.TextStyle}},
		groupColumns...), rows)
	sh.Bars(head+1, end-1, 1+workbook.ColumnIndex(groupColumns, shareTitle), "1", workbook.SkyBlue)
	return end
}

// sections writes one row per section and competency. It has a sheet of its own because a school has hundreds of rows:
// they want a filter, and headings on every page. Where there is one section it would say the same as the sheet
// Program, so there is none.
func (s *summary) sections() {
	if len(s.t.Sections()) < 2 {
		return
	}
	sh := s.AddSheet(sectionsSheet)
	sh.Set(1, 1, workbook.TitleStyle, "Sections: "+s.t.Term.Program)
	sh.Set(2, 1, workbook.NoteStyle, fmt.Sprintf("%s Groups of fewer than %d students are hidden. The columns are "+
		"those of the sheet Program.", onPaper, outcomes.LeastGroup))
	columns := []workbook.Column{{Title: "competency", Width: 30, Style: workbook.TextStyle},
		{Title: "section", Width: 12, Style: workbook.TextStyle}}
	for _, c := range groupColumns {
		c.Width = 12
		if c.Title == shareTitle {
			c.Width = shareWidth
		}
		columns = append(columns, c)
	}
	var rows [][]any
	for c := range s.t.Competencies {
		for _, g := range outcomes.GroupsOf(s.t, c)[1:] { // the first is all students
			rows = append(rows, append([]any{s.t.Competencies[c].Title, cmp.Or(g.Section, "(no section)")},
				groupCells(g)...))
		}
	}
	const head = 4
	end := sh.MainTable(head, columns, rows, 2)
	sh.Bars(head+1, end-1, workbook.ColumnIndex(columns, shareTitle), "1", workbook.SkyBlue)
}

// hiddenFaults tells how often each hidden fault was found: on a sheet of its own, since the sheet Program may be
// passed on to people who should not read it.
func (s *summary) hiddenFaults() {
	sh := s.AddSheet(faultsSheet)
	sh.Set(1, 1, workbook.TitleStyle, "Hidden faults: "+s.t.Term.Program)
	sh.Set(2, 1, workbook.NoteStyle, fmt.Sprintf("For the instructor, not for students. Share of the sheets worked "+
		"on whose right repair was concluded; blank below N = %d.", outcomes.LeastN))
	var rows [][]any
	for _, f := range outcomes.FaultsOf(s.t) {
		rows = append(rows, []any{f.Fault, f.Pack, f.N, f.Found.Share, f.Found.Low, f.Found.High})
	}
	columns := []workbook.Column{{Title: "fault", Width: 30, Style: workbook.TextStyle},
		{Title: "pack", Width: 24, Style: workbook.TextStyle}, {Title: "N", Width: 8, Style: workbook.WholeStyle},
		{Title: shareFound, Width: 12, Style: workbook.PercentStyle},
		{Title: "95 % from", Width: 12, Style: workbook.PercentStyle},
		{Title: "to", Width: 12, Style: workbook.PercentStyle}}
	const head = 4
	end := sh.MainTable(head, columns, rows, 1)
	sh.Bars(head+1, end-1, workbook.ColumnIndex(columns, shareFound), "1", workbook.SkyBlue)
}

const shareFound = "share found"
