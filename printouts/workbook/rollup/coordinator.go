package rollup

import (
	"fmt"
	"math"

	"nospark/grading/outcomes"
	"nospark/printouts/workbook"
)

// coordinator writes the page that answers a coordinator's questions, a line each with what it rests on. The other
// sheets are where one looks for the names and numbers behind a line.
func (s *summary) coordinator() {
	sh := s.AddSheet(coordinatorSheet)
	sh.OnePage, sh.TabColor = true, workbook.Blue
	for i, width := range []float64{30, 108, 9, 16} {
		sh.Widths[i+1] = width
	}
	sh.Set(1, 1, workbook.TitleStyle, "Coordinator: "+s.t.Term.Program)
	sh.Set(2, 1, workbook.NoteStyle, onPaper+" "+s.coverage())
	const head = 4
	for i, title := range []string{"question", "what the records say", "N", "of"} {
		sh.Set(head, i+1, workbook.HeadStyle, title)
	}
	question := workbook.Style{Bold: true, Top: true, Border: true, Align: "left", Wrap: true, Fill: workbook.PaleGray}
	text := workbook.Style{Top: true, Border: true, Align: "left", Wrap: true}
	row := head
	for _, a := range outcomes.AnswersOf(s.t, s.labs, s.marks) {
		row++
		sh.Set(row, 1, question, workbook.OrEmpty(a.Question))
		sh.Set(row, 2, text, a.Text)
		sh.Set(row, 3, workbook.Style{Top: true, Border: true, Align: "right", Format: workbook.Whole}, a.N)
		sh.Set(row, 4, text, a.Of)
		sh.FitLines(row, max(workbook.LineCount(a.Question, sh.Widths[1]-2),
			workbook.LineCount(a.Text, sh.Widths[2]-2)))
	}
	sh.Set(row+2, 1, workbook.NoteStyle, "Who: sheets Matrix and Standings. Sections and what a lab is worth: "+
		"sheet Program. Term marks "+
		"and trends of students: sheet Marks. How it is worked out: sheet Rules.")
}

// termMarks writes one row per student: the term mark with its standard error.
func (s *summary) termMarks() {
	sh := s.AddSheet(marksSheet)
	sh.Set(1, 1, workbook.TitleStyle, "Term marks: "+s.t.Term.Program)
	note := "Mean of the final marks, in whole points; a lab that was not handed in is no zero. "
	switch m := s.marks; {
	case !m.OK || m.DF < outcomes.LeastDF:
		note += fmt.Sprintf("No standard error: it takes %d residual degrees of freedom.", outcomes.LeastDF)
	default:
		note += "Standard error: how far another set of as many labs would move the mark, against others on the " +
			"same labs. " + m.OneLab() + "."
	}
	sh.Set(2, 1, workbook.NoteStyle, note)
	columns := append(s.studentColumns(), []workbook.Column{
		{Title: "labs", Width: 8, Style: workbook.WholeStyle},
		{Title: "term mark", Width: 9, Style: workbook.WholeStyle},
		{Title: "standard error", Width: 10, Style: workbook.TenthsStyle},
		{Title: "against the class", Width: 14, Style: workbook.TextStyle},
		{Title: "repeats", Width: 9, Style: workbook.CenterStyle},
	}...)
	var rows [][]any
	for _, i := range s.order {
		m := s.marks.Students[i]
		var repeats any
		if s.t.Students[i].Repeater {
			repeats = "yes"
		}
		mark := m.Mean
		if m.Labs > 0 {
			mark = math.Round(mark)
		}
		rows = append(rows, append(s.studentCells(&s.t.Students[i]), m.Labs, mark, m.Error,
			workbook.OrEmpty(m.Trend.String()), repeats))
	}
	const head = 4
	end := sh.MainTable(head, columns, rows, len(s.studentColumns()))
	sh.Bars(head+1, end-1, workbook.ColumnIndex(columns, "term mark"), "100", workbook.SkyBlue)
}

// byLab writes one row per lab: how it went, and which share of the opportunities of each competency was met. The
// shares of two labs differ by their faults as well as by the students, so no line is drawn through them.
func (s *summary) byLab() {
	sh := s.AddSheet(labsSheet)
	sh.Set(1, 1, workbook.TitleStyle, "Labs: "+s.t.Term.Program)
	sh.Set(2, 1, workbook.NoteStyle, fmt.Sprintf("%s Shares of the opportunities met, by competency; blank "+
		"below N = %d. Labs hide different "+
		"faults: growth is told only where a lab recurs, on the sheet Coordinator.", onPaper, outcomes.LeastN))
	columns := []workbook.Column{{Title: "date", Width: 12, Style: workbook.DateStyle},
		{Title: "lab", Width: 14, Style: workbook.TextStyle},
		{Title: "title", Width: 28, Style: workbook.WrapStyle}, {Title: "term", Width: 14, Style: workbook.TextStyle},
		{Title: "N", Width: 7, Style: workbook.WholeStyle}, {Title: "mean mark", Width: 8, Style: workbook.WholeStyle}}
	for _, c := range s.t.Competencies {
		columns = append(columns, workbook.Column{Title: c.Title, Width: 11, Style: workbook.PercentStyle})
	}
	if len(s.labs) > 0 {
		for _, step := range s.labs[0].Steps {
			columns = append(columns, workbook.Column{Title: "sheets with: " + step.Title, Width: 11,
				Style: workbook.PercentStyle})
		}
	}
	var rows [][]any
	for _, l := range s.labs {
		row := []any{workbook.Date(l.Date), l.Name, l.Title, l.Term, l.N, l.Mean}
		for c := range s.t.Competencies {
			if l.Of[c] < outcomes.LeastN {
				row = append(row, nil)
				continue
			}
			row = append(row, float64(l.Met[c])/float64(l.Of[c]))
		}
		for _, step := range l.Steps {
			row = append(row, step.Share)
		}
		rows = append(rows, row)
	}
	const head = 4
	end := sh.MainTable(head, columns, rows, 2)
	sh.Bars(head+1, end-1, workbook.ColumnIndex(columns, "mean mark"), "100", workbook.SkyBlue)
}
