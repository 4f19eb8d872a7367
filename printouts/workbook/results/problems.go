package results

import (
	"fmt"

	"nospark/printouts/workbook"
)

// problems writes what a person should look at: rows that could not be read or do not fit, and pairs of sheets. The
// sheet is there even when it is empty: that nothing was found is worth reading.
func (r *report) problems() {
	s := r.AddSheet("Problems")
	s.Set(1, 1, workbook.TitleStyle, "Problems: "+r.lab.Title)
	row := 3
	if len(r.result.Problems) == 0 {
		s.Set(row, 1, workbook.Style{}, "Nothing in what was handed in needs a look.")
		s.Widths[1], s.Widths[2], s.Widths[3] = 30, 64, 64
		row += 2
	} else {
		s.Set(2, 1, workbook.NoteStyle, fmt.Sprintf("%d to look at. Correct the entry form, or write the decision "+
			"into adjust.toml, and grade again.", len(r.result.Problems)))
		var rows [][]any
		for _, p := range r.result.Problems {
			rows = append(rows, []any{p.Place, p.What, p.Do})
		}
		row = s.MainTable(row, []workbook.Column{{Title: "place", Width: 30, Style: workbook.WrapStyle},
			{Title: "what", Width: 64, Style: workbook.WrapStyle},
			{Title: "what to do", Width: 64, Style: workbook.WrapStyle}},
			rows, 0) + 1
		s.TabColor = workbook.Orange
	}
	if len(r.result.Alike) == 0 {
		return
	}
	s.Set(row, 1, workbook.HeadingStyle, "Sheets to look at side by side")
	s.Set(row+1, 1, workbook.NoteStyle, "They share errors that hardly anybody else made. That happens by accident "+
		"too: a reason to look, never a verdict.")
	// The last column is for the instructor's hand: what came of the look belongs beside it.
	var rows [][]any
	for _, pair := range r.result.Alike {
		rows = append(rows, []any{pair.Sheets[0] + " and " + pair.Sheets[1], pair.Why, nil})
	}
	s.Table(row+2, 1, []workbook.Column{{Title: "please look", Style: workbook.WrapStyle},
		{Title: "why", Style: workbook.WrapStyle}, {Title: "your note", Style: workbook.WrapStyle}}, rows)
}
