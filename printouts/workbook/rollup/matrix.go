// Package rollup makes the workbook of a term: who can do what, on how much evidence, and where it goes. Start at
// Workbook, which calls a method for each sheet.
package rollup

import (
	"cmp"
	"errors"
	"fmt"
	"slices"

	"nospark/grading/competency"
	"nospark/grading/outcomes"
	"nospark/printouts/workbook"
)

// Options say what a workbook of a term shows.
type Options struct {
	Names bool // ids and names; otherwise codes, in an order that tells nothing about names
}

// onPaper stands on every sheet of a term's workbook.
const onPaper = competency.OnPaper

// The sheets of the workbook.
const (
	coordinatorSheet = "Coordinator"
	matrixSheet      = "Matrix"
	marksSheet       = "Marks"
	standingSheet    = "Standings"
	labsSheet        = "Labs"
	evidenceSheet    = "Evidence"
	programSheet     = "Program"
	sectionsSheet    = "Sections"
	faultsSheet      = "Faults"
	mapSheet         = "Map"
	tasksSheet       = "Tasks"
	taskTableSheet   = "Task table"
	rulesSheet       = "Rules"
	problemsSheet    = "Problems"
)

// summary is what the sheets of a term's workbook are made from. Its methods write a sheet each, in the order of their
// tabs.
type summary struct {
	*workbook.Book
	t     *competency.Term
	labs  []outcomes.Lab
	marks outcomes.Marks
	names bool
	order []int             // students as they are listed
	code  map[string]string // by id
}

// Workbook makes the workbook of a term: who can do what, on how much evidence, and where it goes. The error is about
// options that the term cannot meet.
func Workbook(t *competency.Term, o Options) ([]byte, error) {
	s := &summary{t: t, labs: outcomes.LabsOf(t), marks: outcomes.MarksOf(t), names: o.Names, code: map[string]string{}}
	for i := range t.Students {
		student := &t.Students[i]
		if !o.Names && student.Code == "" {
			return nil, errors.New("students have codes only with the key of the term")
		}
		s.order = append(s.order, i)
		s.code[student.ID] = student.Code
	}
	date := ""
	if n := len(t.Records); n > 0 {
		date = t.Records[n-1].Date
	}
	if !o.Names {
		slices.SortStableFunc(s.order, func(a, b int) int {
			x, y := &t.Students[a], &t.Students[b]
			return cmp.Or(cmp.Compare(x.Section, y.Section), cmp.Compare(x.Code, y.Code))
		})
	}
	// Dated by the latest lab and not by today, so that the same records give the same bytes.
	s.Book = workbook.New("Competency, "+t.Term.Program, t.Term.Paper, date)
	s.coordinator()
	s.matrix()
	s.standings()
	s.termMarks()
	s.byLab()
	s.evidence()
	s.program()
	s.sections()
	s.hiddenFaults()
	s.tasks()
	s.listedTasks()
	s.taskTable()
	s.rules()
	s.problems()
	return s.Bytes(coordinatorSheet)
}

// statusStyle is how a status is shown beside its words: a sign and a color that say the same.
type statusStyle struct {
	sign, fill string
}

// What the matrix says beside a status.
const (
	underHalf    = "✗ under half"
	latestMissed = "latest missed"
)

var statusStyles = [...]statusStyle{
	competency.TooLittle: {"…", workbook.PaleGray},
	competency.AtRisk:    {"▲", paleVermillion},
	competency.NotYet:    {"✗", deepAmber},
	competency.ToSign:    {"✎", workbook.PaleBlue},
	competency.HandsOn:   {"◊", workbook.PaleBlue},
	competency.Competent: {"✓", paleGreen},
}

// Colors of the matrix beside those of all workbooks: tints of the same set. They get darker with the distance from
// competent, so that a black-and-white print is a heat map too.
const (
	paleGreen      = "DDF3EA"
	deepAmber      = "F3D9A4"
	paleVermillion = "EFB48A"
)

// order is how the statuses are told.
var order = [...]competency.Status{competency.Competent, competency.ToSign, competency.HandsOn, competency.NotYet,
	competency.AtRisk, competency.TooLittle}

// statusText is a status with its sign, by which it can be filtered.
func statusText(s competency.Status) string { return statusStyles[s].sign + " " + s.String() }

// studentColumns are the columns that say who somebody is. They are as wide as the texts need, the same on every sheet:
// what they do not take makes the print of the matrix larger.
func (s *summary) studentColumns() []workbook.Column {
	if !s.names {
		return []workbook.Column{{Title: "section", Width: 9, Style: workbook.TextStyle},
			{Title: "student", Width: 13, Style: workbook.TextStyle}}
	}
	id, name := 8.0, 14.0
	for i := range s.t.Students {
		id = max(id, workbook.TextWidth(s.t.Students[i].ID)+2.5)
		name = max(name, workbook.TextWidth(s.t.Students[i].Name)+2.5)
	}
	return []workbook.Column{{Title: "section", Width: 9, Style: workbook.TextStyle},
		{Title: "id", Width: min(id, workbook.MaxWidth), Style: workbook.Style{Border: true, Align: "left",
			Format: workbook.AsText}},
		{Title: "name", Width: min(name, workbook.MaxWidth), Style: workbook.WrapStyle}}
}

// studentCells are their values.
func (s *summary) studentCells(student *competency.Student) []any {
	if !s.names {
		return []any{workbook.OrEmpty(student.Section), student.Code}
	}
	return []any{workbook.OrEmpty(student.Section), student.ID, workbook.OrEmpty(student.Name)}
}

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

// evidenceText is what a standing rests on.
func evidenceText(x *competency.Standing) string {
	text := fmt.Sprintf("%d of %d, n %d", x.MetInWindow, x.Window, len(x.Opportunities))
	if x.Award != nil {
		text += " ★"
	}
	return text
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

// count words a number of things.
func count(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}
