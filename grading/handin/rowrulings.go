package handin

import (
	"errors"
	"maps"
	"slices"

	"nospark/grading/adjust"
	"nospark/grading/submission"
	"nospark/scenarios/spelling"
)

// workedOnOther is a Worked with names resolved.
type workedOnOther struct {
	sheet int
	own   int // or AnySheet
}

// resolveRows checks the names in these entries against the lab and what was handed in.
func resolveRows(a adjust.Decisions, m *matcher, rows []submission.Row) (rowRulings, error) {
	r := &resolver{m: m, sheets: map[string][]int{}}
	maps.Copy(r.sheets, m.byID)
	var files, places []string
	for _, row := range rows {
		places = append(places, row.Place)
		if row.File != "" && !slices.Contains(files, row.File) {
			files = append(files, row.File)
		}
		if m.student(row.Student) == "" && row.Student != "" {
			r.sheets[row.Student] = nil // somebody new, who can be named too
		}
	}
	g := rowRulings{map[string]bool{}, map[Work]string{}, map[string][]workedOnOther{}}
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
		unique(r, g.choose, Work{r.student(v.Place, v.Student), r.sheet(v.Place, v.Sheet)}, v.Place, "choose", v.Row)
	}
	known := map[Work]bool{}
	for _, v := range a.Worked {
		student, sheet := r.student(v.Place, v.Student), r.sheet(v.Place, v.Sheet)
		own := r.sheet(v.Place, v.InsteadOf)
		if n := len(r.sheets[student]); own == AnySheet && n > 1 {
			r.fail(v.Place, "student %s has several sheets; name the one left unused with instead_of: %s", student,
				List(r.codes(student)))
		}
		unique(r, known, Work{student, own}, v.Place, "worked", true)
		g.worked[student] = append(g.worked[student], workedOnOther{sheet, own})
	}
	return g, errors.Join(r.err...)
}
