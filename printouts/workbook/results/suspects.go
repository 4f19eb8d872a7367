package results

import (
	"fmt"
	"iter"

	"nospark/grading"
	"nospark/printouts/workbook"
)

const suspectsSheet = "Suspects"

// suspectColumns: what a suspect weighs stands once for what it was at the start and once for what was left of it, so
// that e and c are sums of columns.
var suspectColumns = []workbook.Column{
	{Title: "sheet", Width: 10, Style: workbook.TextStyle},
	{Title: "id", Width: 10, Style: workbook.Style{Border: true, Align: "left", Format: workbook.AsText}},
	{Title: "suspect", Width: 38, Style: workbook.WrapStyle, Note: "fault that the work order left possible; a form is " +
		"a range of its severity"},
	{Title: "repair", Width: 38, Style: workbook.WrapStyle, Note: "that it needs"},
	{Title: "counts as right", Width: 10, Style: workbook.CenterStyle, Note: "the right repair, or one that no test " +
		"can tell from it"},
	{Title: "weight", Width: 9, Style: workbook.WholeStyle, Note: "how common it is among the faults of the lab"},
	{Title: "checks owed", Width: 9, Style: workbook.WholeStyle, Note: "by its repair at the start; each stands for a " +
		"cause that is not on the list, and weighs a fifth of the suspect, at least 1"},
	{Title: "their weight", Width: 9, Style: workbook.WholeStyle, Note: "of all those checks"},
	{Title: "counts for e", Width: 9, Style: workbook.WholeStyle, Note: "weight, unless its repair counts as right, + " +
		"their weight"},
	{Title: "ruled out", Width: 9, Style: workbook.WholeStyle, Note: "by the readings, of what counts for e"},
	{Title: "still possible", Width: 10, Style: workbook.CenterStyle, Note: "at the end"},
	{Title: "checks still owed", Width: 9, Style: workbook.WholeStyle},
	{Title: "weight left", Width: 9, Style: workbook.WholeStyle, Note: "at the end, of the suspect and its checks"},
	{Title: "left and right", Width: 9, Style: workbook.WholeStyle, Note: "of it that of the suspect itself, where its " +
		"repair counts as right"},
}

// suspects writes one row per suspect of every sheet that was worked on, so that e and c can be made again with a
// pencil. Above them live formulas add up the rows that a filter shows.
func (r *report) suspects() explained {
	s := r.AddSheet(suspectsSheet)
	s.Set(1, 1, workbook.TitleStyle, "Suspects: "+r.lab.Title)
	s.Set(2, 1, workbook.NoteStyle, "Not for students. Choose one sheet in the filter below: e is the sum of \"ruled "+
		"out\" divided by that of \"counts for e\" (where nothing counts, 1 once the repair is proven, else 0);")
	s.Set(3, 1, workbook.NoteStyle, "c is the sum of \"left and right\" divided by that of \"weight left\". These "+
		"sums are over the rows that are shown:")
	const sums, head = 4, 5
	var n int
	for range r.suspectRows() {
		n++
	}
	s.LongTable(head, suspectColumns, 3, n, r.suspectRows())
	for _, title := range []string{"counts for e", "ruled out", "weight left", "left and right"} {
		column := workbook.ColumnIndex(suspectColumns, title)
		total := 0
		for row := range r.suspectRows() {
			total += row[column-1].(int)
		}
		s.Set(sums, column, workbook.Style{Border: true, Bold: true, Align: "right", Format: workbook.Whole},
			workbook.Formula{Text: fmt.Sprintf("SUBTOTAL(109,%s:%s)", workbook.Ref(head+1, column),
				workbook.Ref(max(head+1, head+n), column)), Value: float64(total)})
	}
	return explained{suspectsSheet, suspectColumns}
}

// suspectRows gives the rows one after the other: a large school has many.
func (r *report) suspectRows() iter.Seq[[]any] {
	return func(yield func([]any) bool) {
		for _, student := range r.students {
			if !worked(student) {
				continue
			}
			forms := map[int]int{} // of each fault, how many rows it has here
			for _, x := range student.Suspects {
				forms[r.lab.Hypotheses[x.Row].Fault]++
			}
			form := map[int]int{}
			for _, x := range student.Suspects {
				f := r.lab.Hypotheses[x.Row].Fault
				form[f]++
				label := r.lab.Faults[f].Label
				if forms[f] > 1 {
					label += fmt.Sprintf(", form %d of %d", form[f], forms[f])
				}
				if !yield(r.suspectRow(student, label, x)) {
					return
				}
			}
		}
	}
}

// suspectRow has the values of a row in the order of suspectColumns.
func (r *report) suspectRow(student *grading.StudentResult, label string, x grading.Suspect) []any {
	counts, left, right := x.ChecksWeight, x.LeftChecksWeight, int64(0)
	if !x.Right {
		counts += x.Weight
	}
	ruledOut := counts - x.LeftChecksWeight
	if x.Left {
		left += x.Weight
		if x.Right {
			right = x.Weight
		} else {
			ruledOut -= x.Weight
		}
	}
	return []any{student.Sheet, workbook.OrEmpty(student.Student), label,
		r.repairText(r.lab.Faults[r.lab.Hypotheses[x.Row].Fault].Repair), yesNo(x.Right), int(x.Weight), x.Checks,
		int(x.ChecksWeight), int(counts), int(ruledOut), yesNo(x.Left), x.LeftChecks, int(left), int(right)}
}
