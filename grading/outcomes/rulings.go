package outcomes

import (
	"maps"
	"slices"

	"nospark/grading/competency"
	"nospark/grading/evidence"
)

// Rulings tells how often an instructor corrected, confirmed or set marks.
type Rulings struct {
	Instructor            string
	Sheets, Adjusted, Set int // Adjusted counts those that were set too
}

// RulingsOf lists the instructors by name, "" for records that name none.
func RulingsOf(t *competency.Term) []Rulings {
	of := map[string]*Rulings{}
	t.Worked(func(r *evidence.Record, e *evidence.Entry) {
		if of[r.Instructor] == nil {
			of[r.Instructor] = &Rulings{Instructor: r.Instructor}
		}
		x := of[r.Instructor]
		x.Sheets++
		if e.Set {
			x.Set++
		}
		if e.Adjusted || e.Set {
			x.Adjusted++
		}
	})
	var list []Rulings
	for _, name := range slices.Sorted(maps.Keys(of)) {
		list = append(list, *of[name])
	}
	return list
}
