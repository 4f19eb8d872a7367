package rollup

import (
	"fmt"

	"nospark/grading/competency"
	"nospark/printouts/workbook"
)

// What the matrix says beside a status.
const (
	underHalf    = "✗ under half"
	latestMissed = "latest missed"
)

// Rows of the matrix above the students.
const (
	legendRow  = 3
	countRow   = 4
	matrixHead = 5
)

// matrix writes one row per student and one column per competency: the whole class on one page, as a heat map whose
// cells can be read without the heat.
func (s *summary) matrix() {
	t, rule := s.t, s.t.Term.Mastery
	sh := s.AddSheet(matrixSheet)
	sh.TabColor = workbook.Blue
	sh.Set(1, 1, workbook.TitleStyle, "Competency: "+t.Term.Program)
	note := fmt.Sprintf("%s %s", onPaper, s.coverage())
	sh.Set(2, 1, workbook.NoteStyle, note)
	columns := append(s.studentColumns(), workbook.Column{Title: "sheets", Width: 8, Style: workbook.CenterStyle})
	first := len(columns) + 1
	for _, c := range t.Competencies {
		columns = append(columns, workbook.Column{Title: c.Title, Width: 13, Style: workbook.CenterStyle})
	}
	var rows [][]any
	for _, i := range s.order {
		student := &t.Students[i]
		row := append(s.studentCells(student), student.Sheets)
		for range t.Competencies {
			row = append(row, nil) // written below, each with its own look
		}
		rows = append(rows, row)
	}
	// To the right of the title, since the rows below it are full.
	sh.Set(1, first+5, workbook.NoteStyle, "More: Standings by student, Marks, Labs, Evidence for every "+
		"opportunity, Rules for what is counted.")
	writeLegend(sh, legendRow, first, rule.Of)
	end := sh.MainTable(matrixHead, columns, rows, len(s.studentColumns()))
	for r, i := range s.order {
		for c := range t.Competencies {
			writeStanding(sh, matrixHead+1+r, first+c, &t.Students[i].Standings[c])
		}
	}
	sh.Merge(countRow, 1, first-1, workbook.Style{Color: workbook.TextGray, Align: "right"}, "students by status")
	for c := range t.Competencies {
		s.writeCounts(sh, countRow, first+c, matrixHead+1, end-1, c)
	}
	sh.Heights[countRow] = 3*workbook.LineHeight + 4
}

// coverage says what the workbook rests on. Sheets that wait and problems are told here, on the first sheet, because
// each of them changes the figures.
func (s *summary) coverage() string {
	labs := s.labs
	text := fmt.Sprintf("%s, %s", count(len(s.t.Students), "student", "students"), count(len(labs), "lab", "labs"))
	if n := len(labs); n > 0 {
		text += fmt.Sprintf(" from %s to %s", labs[0].Date, labs[n-1].Date)
	}
	if s.t.Cohort != "" {
		text += ", cohort " + s.t.Cohort
	}
	if n := s.t.Former; n > 0 {
		text += fmt.Sprintf("; %s of earlier cohorts to compare with", count(n, "student", "students"))
	}
	waiting := 0
	for i := range s.t.Students {
		waiting += s.t.Students[i].Waiting
	}
	if waiting > 0 {
		text += fmt.Sprintf("; %s without evidence until confirmed", count(waiting, "provisional sheet",
			"provisional sheets"))
	}
	if n := len(s.t.Problems); n > 0 {
		text += fmt.Sprintf("; %s in the records", count(n, "thing to look at", "things to look at"))
	}
	return text + "."
}

// writeLegend explains the signs in the row above the table; first is the column of the first competency, of the rule's
// number of opportunities.
func writeLegend(sh *workbook.Sheet, row, first, of int) {
	for i, status := range order {
		sh.Set(row, first+i, workbook.Style{Border: true, Align: "center", Fill: statusStyles[status].fill},
			statusText(status))
	}
	sh.Set(row, first+len(order), workbook.Style{Border: true, Align: "center", Fill: paleVermillion}, underHalf)
	sh.Set(row, first+len(order)+1, workbook.NoteStyle, fmt.Sprintf("3 of %d, n 8: met 3 of the last %d "+
		"opportunities, 8 in "+
		"the term. ★ awarded.", of, of))
}

// writeStanding writes one cell of the matrix: status and evidence. The number of opportunities always
// stands beside the status, since "competent" from 5 and from 15 are not the same.
func writeStanding(sh *workbook.Sheet, row, column int, x *competency.Standing) {
	l := statusStyles[x.Status]
	fill := l.fill
	if x.Status == competency.NotYet && 2*x.MetInWindow < x.Window {
		fill = paleVermillion
	}
	lines := workbook.Lines{statusText(x.Status), evidenceText(x)}
	if x.Status == competency.ToSign && x.LatestMissed() {
		lines = append(lines, latestMissed)
	}
	sh.Set(row, column, workbook.Style{Border: true, Align: "center", Fill: fill, Wrap: true}, lines)
	sh.Heights[row] = max(sh.Heights[row], float64(len(lines))*workbook.LineHeight+4)
}

// writeCounts writes how many students have each status, as a formula over the column below.
func (s *summary) writeCounts(sh *workbook.Sheet, row, column, from, to, c int) {
	l := workbook.Style{Border: true, Align: "center", Wrap: true, Fill: workbook.PaleGray}
	if to < from {
		sh.Set(row, column, l, nil)
		return
	}
	var have [len(statusStyles)]int
	for i := range s.t.Students {
		have[s.t.Students[i].Standings[c].Status]++
	}
	// Two beside each other in three lines: CHAR(10) is a line break.
	text, value := "", workbook.Lines{"", "", ""}
	for i, status := range order {
		sign := statusStyles[status].sign
		text += fmt.Sprintf(`%s"%s "&COUNTIF(%s:%s,"%s*")`, [...]string{"", `&"  "&`, "&CHAR(10)&", `&"  "&`,
			"&CHAR(10)&", `&"  "&`}[i], sign,
			workbook.Ref(from, column), workbook.Ref(to, column), sign)
		value[i/2] += fmt.Sprintf("%s%s %d", [...]string{"", "  "}[i%2], sign, have[status])
	}
	sh.Set(row, column, l, workbook.Formula{Text: text, Value: value})
}
