package results

import (
	"nospark/grading"
	"nospark/printouts/workbook"
)

const faultsSheet = "Faults"

// faultColumns: the spreads tell a fault that is hard for everybody from one that some find at once.
var faultColumns = []workbook.Column{
	{Title: "hidden fault", Width: 34, Style: workbook.WrapStyle},
	{Title: "repair", Width: 34, Style: workbook.WrapStyle, Note: "that it needs"},
	{Title: "sheets", Width: 9, Style: workbook.WholeStyle, Note: "given to students"},
	{Title: "handed in", Width: 10, Style: workbook.WholeStyle},
	{Title: "right", Width: 9, Style: workbook.WholeStyle, Note: "students who found it"},
	{Title: "share right", Width: 9, Style: workbook.PercentStyle},
	{Title: "best play", Width: 10, Style: workbook.TenthsStyle, Note: "minutes, mean"},
	{Title: "mean mark", Width: 10, Style: workbook.TenthsStyle},
	{Title: "lowest mark", Width: 10, Style: workbook.TenthsStyle},
	{Title: "highest mark", Width: 10, Style: workbook.TenthsStyle},
	{Title: "spread of marks", Width: 10, Style: workbook.TenthsStyle, Note: "standard deviation, divisor N"},
	{Title: "mean minutes lost", Width: 10, Style: workbook.TenthsStyle},
	{Title: "spread of lost", Width: 10, Style: workbook.TenthsStyle, Note: "standard deviation, divisor N"},
}

// faults writes one row per fault that some student's sheet hid, in the order of the lab. Spare sheets that nobody used
// do not count.
func (r *report) faults() explained {
	s := r.AddSheet(faultsSheet)
	s.Set(1, 1, workbook.TitleStyle, "Faults: "+r.lab.Title)
	s.Set(2, 1, workbook.NoteStyle, "Not for students. A handful of sheets per fault says little; look at the single "+
		"sheets before you change a lab.")
	of := make([][]*grading.StudentResult, len(r.lab.Faults)) // a list and no map: the order of the lab stays
	for _, student := range r.students {
		of[r.truth(student)] = append(of[r.truth(student)], student)
	}
	var rows [][]any
	for i, students := range of {
		if len(students) > 0 {
			rows = append(rows, r.faultRow(i, students))
		}
	}
	const head = 4
	end := s.MainTable(head, faultColumns, rows, 1)
	s.Bars(head+1, end-1, workbook.ColumnIndex(faultColumns, "mean mark"), "100", workbook.SkyBlue)
	return explained{faultsSheet, faultColumns}
}

// faultRow has the values of a row in the order of faultColumns. Marks and lost minutes are over those who worked, best
// play over all sheets, since it is the same whoever had them.
func (r *report) faultRow(fault int, students []*grading.StudentResult) []any {
	handed, right := 0, 0
	var best []float64
	for _, s := range students {
		best = append(best, number(s.Best))
		if worked(s) {
			handed++
			if s.Right {
				right++
			}
		}
	}
	// Nobody found it is a zero only if somebody looked.
	found := any(right)
	if handed == 0 {
		found = nil
	}
	all, lost := marks(students), lostMinutes(students)
	f := r.lab.Faults[fault]
	return []any{f.Label, r.repairText(f.Repair), len(students), handed, found, share(right, handed), mean(best),
		mean(all), lowest(all), highest(all), deviation(all),
		mean(lost), deviation(lost)}
}
