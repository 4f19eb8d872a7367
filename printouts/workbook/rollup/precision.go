package rollup

import (
	"fmt"
	"math"

	"nospark/grading/outcomes"
	"nospark/grading/statistics"
	"nospark/printouts/workbook"
)

// precision writes how far the figures can be trusted, and the sections against each other: below the table of all
// students, on the sheet that can be passed on.
func (s *summary) precision(sh *workbook.Sheet, row int) {
	row = s.oneMark(sh, row+1)
	row = s.consistency(sh, row+1)
	row = s.sectionMarks(sh, row+1)
	s.rulings(sh, row+1)
}

// oneMark says what a mark is worth: the variances it is made of, and the error by level.
func (s *summary) oneMark(sh *workbook.Sheet, row int) int {
	m := s.marks
	sh.Set(row, 1, workbook.HeadingStyle, "What a mark is worth")
	if !m.OK || m.DF < outcomes.LeastDF {
		sh.Set(row+1, 1, workbook.NoteStyle, fmt.Sprintf("Cannot be said: %d residual degrees of freedom, it takes %d.",
			max(0, m.DF), outcomes.LeastDF))
		return row + 2
	}
	sh.Set(row+1, 1, workbook.NoteStyle, fmt.Sprintf("%s. Variance of persons %.0f, of labs %.0f, of person by "+
		"lab and error %.0f; %d persons, %d "+
		"labs, %d sheets, %d residual degrees of freedom.", m.OneLab(), m.Person, m.Task, m.Residual, m.Persons,
		m.Tasks, m.Cells, m.DF))
	var rows [][]any
	for _, l := range m.Levels {
		var one any = "too few data"
		if !math.IsNaN(l.Error) {
			one = l.Error
		}
		rows = append(rows, []any{fmt.Sprintf("term marks from %.0f to %.0f", l.From, l.To), math.Round(l.DF), one,
			l.Error / math.Sqrt(12)})
	}
	return sh.Table(row+2, 1, []workbook.Column{{Title: "level", Style: workbook.TextStyle},
		{Title: "degrees of freedom", Style: workbook.WholeStyle},
		{Title: "error of one lab", Style: workbook.TenthsStyle},
		{Title: "error of 12 labs", Style: workbook.TenthsStyle}}, rows)
}

// consistency says how often the count of the rule would decide the same way again: from the records where there are
// enough students, else for given true rates.
func (s *summary) consistency(sh *workbook.Sheet, row int) int {
	rule := s.t.Term.Mastery
	sh.Set(row, 1, workbook.HeadingStyle, "How consistent the count decides")
	sh.Set(row+1, 1, workbook.NoteStyle, fmt.Sprintf("With %d other opportunities of the same kind, without the "+
		"signature. Kappa is the agreement "+
		"beyond chance, 0 to 1; from %d students with full windows on.", rule.Of, outcomes.LeastForKappa))
	row += 2
	var rows [][]any
	for c := range s.t.Competencies {
		if d := outcomes.DecisionsOf(s.t, c); d.N >= outcomes.LeastForKappa {
			rows = append(rows, []any{s.t.Competencies[c].Title, d.N, d.Agree, d.Kappa, d.Low, d.High})
		}
	}
	if len(rows) > 0 {
		row = sh.Table(row, 1, []workbook.Column{{Title: "competency", Style: workbook.TextStyle},
			{Title: "students", Style: workbook.WholeStyle},
			{Title: "decided alike twice", Style: workbook.PercentStyle}, {Title: "kappa", Style: twoPlaces},
			{Title: "95 % from", Style: twoPlaces},
			{Title: "to", Style: twoPlaces}}, rows) + 1
	}
	rows = nil
	labs := len(s.labs)
	for _, rate := range []float64{.5, .6, .7, .8, .9} {
		rows = append(rows, []any{fmt.Sprintf("true rate %.1f", rate), statistics.RuleMet(rule.Met, rule.Of, rate),
			statistics.WindowMet(rule.Met, rule.Of, labs, rate), statistics.AgreeAt(rule.Met, rule.Of, rate)})
	}
	return sh.Table(row, 1, []workbook.Column{{Title: "who meets an opportunity with the", Style: workbook.TextStyle},
		{Title: "passes one window", Style: workbook.PercentStyle},
		{Title: fmt.Sprintf("passes some window in %d", labs), Style: workbook.PercentStyle},
		{Title: "decided alike twice", Style: workbook.PercentStyle}}, rows)
}

// twoPlaces is the style of a coefficient.
var twoPlaces = workbook.Style{Border: true, Align: "right", Format: "0.00"}

// sectionMarks compares the sections on the same labs. Small ones are left out.
func (s *summary) sectionMarks(sh *workbook.Sheet, row int) int {
	sh.Set(row, 1, workbook.HeadingStyle, "Sections on the same labs")
	sh.Set(row+1, 1, workbook.NoteStyle, fmt.Sprintf("Points against the mean of each lab; the interval says "+
		"how far one more section of the others' "+
		"kind would be from them. Nothing is said of fewer than %d others.", outcomes.LeastSections))
	var rows [][]any
	for _, x := range outcomes.SectionMarksOf(s.t) {
		if x.Students < outcomes.LeastGroup {
			continue
		}
		word := ""
		if x.Behind() {
			word = "behind"
		}
		rows = append(rows, []any{x.Section, x.Students, x.Sheets, x.Against, x.Others.Mean, x.Others.Low,
			x.Others.High, workbook.OrEmpty(word)})
	}
	return sh.Table(row+2, 1, []workbook.Column{{Title: "section", Style: workbook.TextStyle},
		{Title: "students", Style: workbook.WholeStyle},
		{Title: "sheets", Style: workbook.WholeStyle}, {Title: "against the labs", Style: workbook.TenthsStyle},
		{Title: "from the others", Style: workbook.TenthsStyle}, {Title: "95 % from", Style: workbook.TenthsStyle},
		{Title: "to", Style: workbook.TenthsStyle}, {Title: "", Style: workbook.TextStyle}}, rows)
}

// rulings tells how often each instructor changed what was handed in or set a mark.
func (s *summary) rulings(sh *workbook.Sheet, row int) {
	sh.Set(row, 1, workbook.HeadingStyle, "Corrected, confirmed or set by the instructor")
	var rows [][]any
	for _, x := range outcomes.RulingsOf(s.t) {
		name := x.Instructor
		if name == "" {
			name = "(not named)"
		}
		rows = append(rows, []any{name, x.Sheets, x.Adjusted, x.Set, float64(x.Adjusted) / float64(x.Sheets)})
	}
	sh.Table(row+1, 1, []workbook.Column{{Title: "instructor", Style: workbook.TextStyle},
		{Title: "sheets", Style: workbook.WholeStyle},
		{Title: "changed", Style: workbook.WholeStyle}, {Title: "of these set", Style: workbook.WholeStyle},
		{Title: "share changed", Style: workbook.PercentStyle}}, rows)
}
