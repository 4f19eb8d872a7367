package grading

import (
	"errors"
	"slices"

	"nospark/grading/submission"
	"nospark/scenarios/spelling"
)

// rowRulings are the entries of an Adjust that say which rows count and for which sheet. They are needed before
// rows find their students; all others afterwards.
type rowRulings struct {
	trust  map[string]bool   // files
	choose map[string]string // by student: the place of the row that counts
	worked map[string]int    // by student: index of the sheet
	reason map[string]string // of worked, by student
}

// resolveRows checks the names in these entries against the lab and what was handed in.
func (a Adjust) resolveRows(m *matcher, rows []submission.Row) (rowRulings, error) {
	r := &resolver{m: m, sheets: map[string]int{}}
	for id, own := range m.byID {
		r.sheets[id] = own[0]
	}
	var files, places []string
	for _, row := range rows {
		places = append(places, row.Place)
		if row.File != "" && !slices.Contains(files, row.File) {
			files = append(files, row.File)
		}
		if m.student(row.Student) == "" && row.Student != "" {
			r.sheets[row.Student] = -1 // somebody new, who can be named too
		}
	}
	g := rowRulings{map[string]bool{}, map[string]string{}, map[string]int{}, map[string]string{}}
	for _, v := range a.Trust {
		if !slices.Contains(files, v.File) && !submission.IsForm(v.File) {
			r.fail(v.Place, "no rows were read from a file %q%s", v.File, spelling.Ask(v.File, files))
		}
		g.trust[v.File] = true
	}
	for _, v := range a.Choose {
		if !slices.Contains(places, v.Row) {
			r.fail(v.Place, "there is no row %q%s", v.Row, spelling.Ask(v.Row, places))
		}
		unique(r, g.choose, r.student(v.Place, v.Student), v.Place, "choose", v.Row)
	}
	for _, v := range a.Worked {
		student, sheet := r.student(v.Place, v.Student), r.sheet(v.Place, v.Sheet)
		unique(r, g.worked, student, v.Place, "worked", sheet)
		g.reason[student] = v.Reason
	}
	return g, errors.Join(r.err...)
}
