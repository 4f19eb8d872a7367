package rollup

import (
	"fmt"
	"strings"

	"nospark/grading/competency"
	"nospark/grading/competency/lists"
	"nospark/grading/outcomes"
	"nospark/printouts/workbook"
)

// listedTasks writes the program's own list of tasks as it was imported, a verdict a task: what the records tell, or
// why they tell nothing. Every line of the list is there, so that a gap is seen and not left out.
func (s *summary) listedTasks() {
	if len(s.t.Tasks) == 0 {
		return
	}
	sh := s.AddSheet(tasksSheet)
	sh.Set(1, 1, workbook.TitleStyle, "Tasks: "+s.t.Term.Program)
	sh.Set(2, 1, workbook.NoteStyle, onPaper+" A task may need hands-on evidence beside it; that is kept elsewhere.")
	columns := []workbook.Column{
		{Title: "code", Width: 14, Style: workbook.TextStyle}, {Title: "task", Width: 60, Style: workbook.WrapStyle},
		{Title: "type", Width: 12, Style: workbook.TextStyle},
		{Title: "verdict", Width: 46, Style: workbook.WrapStyle},
	}
	columns = append(columns, shareColumns()...)
	gap := workbook.Style{Border: true, Align: "left", Wrap: true, Fill: workbook.PaleAmber}
	var rows [][]any
	var gaps []int
	for k := range s.t.Tasks {
		task := &s.t.Tasks[k]
		row := []any{task.Name(), strings.Repeat("    ", task.Depth) + task.Statement, workbook.OrEmpty(task.Type),
			outcomes.TaskWords(s.t, k)}
		cells := shareCells(outcomes.TaskGroupOf(s.t, k))
		if s.t.Gaps[k] != "" {
			gaps = append(gaps, k)
			clear(cells)
		}
		rows = append(rows, append(row, cells...))
	}
	const head = 4
	end := sh.MainTable(head, columns, rows, 2)
	for _, k := range gaps {
		sh.Set(head+1+k, workbook.ColumnIndex(columns, "verdict"), gap, outcomes.TaskWords(s.t, k))
	}
	sh.Bars(head+1, end-1, workbook.ColumnIndex(columns, "share"), "1", workbook.SkyBlue)
}

// taskTable writes a row a student and a column a task, in the order of the list.
func (s *summary) taskTable() {
	t := s.t
	if len(t.Tasks) == 0 {
		return
	}
	sh := s.AddSheet(taskTableSheet)
	sh.Set(1, 1, workbook.TitleStyle, "Task table: "+t.Term.Program)
	sh.Set(2, 1, workbook.NoteStyle, onPaper+" The sheet Tasks says what each code is. A gap is a task without "+
		"evidence of anybody.")
	columns := s.studentColumns()
	first := len(columns) + 1
	for k := range t.Tasks {
		columns = append(columns, workbook.Column{Title: t.Tasks[k].Name(), Width: 15, Style: workbook.CenterStyle})
	}
	var rows [][]any
	for _, i := range s.order {
		row := s.studentCells(&t.Students[i])
		for range t.Tasks {
			row = append(row, nil) // written below, each with its own look
		}
		rows = append(rows, row)
	}
	const head = 4
	sh.MainTable(head, columns, rows, len(s.studentColumns()))
	for r, i := range s.order {
		for k := range t.Tasks {
			writeVerdict(sh, head+1+r, first+k, t.Gaps[k] != "", t.Verdict(&t.Students[i], k))
		}
	}
}

// writeVerdict writes one cell of the table: status and evidence, or that there is none of anybody.
func writeVerdict(sh *workbook.Sheet, row, column int, gap bool, v competency.Verdict) {
	style := workbook.Style{Border: true, Align: "center", Wrap: true, Fill: statusStyles[v.Status].fill}
	if gap {
		style.Fill = workbook.PaleGray
		sh.Set(row, column, style, "gap")
		return
	}
	lines := workbook.Lines{statusText(v.Status)}
	switch {
	case v.Of > 0:
		lines = append(lines, fmt.Sprintf("%d of %d below", v.Shown, v.Of))
	case v.Standing != nil:
		lines = append(lines, evidenceText(v.Standing))
	}
	sh.Set(row, column, style, lines)
	sh.Heights[row] = max(sh.Heights[row], float64(len(lines))*workbook.LineHeight+4)
}

// taskRule says where the program's own tasks come from, and what a verdict on one is.
func (s *summary) taskRule() string {
	if len(s.t.Tasks) > 0 {
		return s.t.TaskRule()
	}
	return "A block [[task]] with competency, code, title, priority and taught in term.toml makes a sheet Map of the " +
		"program's own tasks; a whole list of them in " + lists.TasksFile + " makes the sheets Tasks and Task table."
}
