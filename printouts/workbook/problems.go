package workbook

import "fmt"

// problems writes what a person should look at: rows that could not be read or do not fit, and pairs of sheets. The sheet is there even when
// it is empty: that nothing was found is worth reading.
func (r *report) problems() {
	s := r.sheet("Problems")
	s.set(1, 1, titleLook, "Problems: "+r.lab.Title)
	row := 3
	if len(r.result.Problems) == 0 {
		s.set(row, 1, look{}, "Nothing in what was handed in needs a look.")
		s.widths[1], s.widths[2], s.widths[3] = 30, 64, 64
		row += 2
	} else {
		s.set(2, 1, noteLook, fmt.Sprintf("%d to look at. Correct the entry form, or write the decision into adjust.toml, and grade again.", len(r.result.Problems)))
		var rows [][]any
		for _, p := range r.result.Problems {
			rows = append(rows, []any{p.Place, p.What, p.Do})
		}
		row = s.main(row, []column{{title: "place", width: 30, look: wrapLook}, {title: "what", width: 64, look: wrapLook}, {title: "what to do", width: 64, look: wrapLook}},
			rows, 0) + 1
		s.tab = orange
	}
	if len(r.result.Alike) == 0 {
		return
	}
	s.set(row, 1, headingLook, "Sheets to look at side by side")
	s.set(row+1, 1, noteLook, "They share errors that hardly anybody else made. That happens by accident too: a reason to look, never a verdict.")
	// The last column is for the instructor's hand: what came of the look belongs beside it.
	var rows [][]any
	for _, pair := range r.result.Alike {
		rows = append(rows, []any{pair.Sheets[0] + " and " + pair.Sheets[1], pair.Why, nil})
	}
	s.table(row+2, 1, []column{{title: "please look", look: wrapLook}, {title: "why", look: wrapLook}, {title: "your note", look: wrapLook}}, rows)
}
