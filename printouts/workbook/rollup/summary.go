package rollup

import (
	"fmt"

	"nospark/grading/competency"
	"nospark/grading/outcomes"
	"nospark/printouts/workbook"
)

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

// statusStyle is how a status is shown beside its words: a sign and a color that say the same.
type statusStyle struct {
	sign, fill string
}

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

// shareColumns are the columns of the cells that shareCells gives.
func shareColumns() []workbook.Column {
	return []workbook.Column{
		{Title: "competent", Width: 11, Style: workbook.WholeStyle},
		{Title: "of those judged", Width: 11, Style: workbook.WholeStyle},
		{Title: "share", Width: 9, Style: workbook.PercentStyle},
		{Title: "95 % from", Width: 10, Style: workbook.PercentStyle},
		{Title: "to", Width: 9, Style: workbook.PercentStyle},
	}
}

// shareCells are empty in a group that is too small.
func shareCells(g outcomes.Group) []any {
	if g.Hidden {
		return make([]any, 5)
	}
	return []any{g.Count[competency.Competent], g.Judged, g.Competent.Share, g.Competent.Low, g.Competent.High}
}

// taskCells say how the students stand in a task's competency, over all sections; the counts are hidden in a group that
// is too small, as on the sheet Program.
func taskCells(g outcomes.Group) []any {
	if g.Hidden {
		return append([]any{fmt.Sprintf("fewer than %d students", outcomes.LeastGroup)}, shareCells(g)...)
	}
	status := fmt.Sprintf("%d competent, %d to be signed, %d not yet, %d with too few opportunities",
		g.Count[competency.Competent], g.Count[competency.ToSign],
		g.Count[competency.NotYet], g.Count[competency.TooLittle])
	if g.Judged == 0 {
		status = nobodyJudged
	}
	return append([]any{status}, shareCells(g)...)
}

// nobodyJudged stands in place of a share of nobody.
const nobodyJudged = "nobody has enough evidence yet"

// competencyOf finds a competency by its id, -1 for none.
func (s *summary) competencyOf(id string) int {
	for i, c := range s.t.Competencies {
		if c.ID == id {
			return i
		}
	}
	return -1
}

// count words a number of things.
func count(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}

// evidenceText is what a standing rests on.
func evidenceText(x *competency.Standing) string {
	text := fmt.Sprintf("%d of %d, n %d", x.MetInWindow, x.Window, len(x.Opportunities))
	if x.Award != nil {
		text += " ★"
	}
	return text
}
