package main

import (
	"fmt"
	"slices"

	"nospark/scenarios/build"
	"nospark/scenarios/lab"
	"nospark/scenarios/roster"
	"nospark/scenarios/term"
)

// sameClass gives students back the zeros that a spreadsheet has taken from their ids, and refuses a class list of
// somebody else: everybody would get a second sheet, and the first ones would belong to nobody. known are ids of
// earlier labs.
func sameClass(in *build.Input, known []string) (notes []string, err error) {
	var had []string
	if in.Previous != nil {
		for _, s := range in.Previous.Sheets {
			if s.Student != "" {
				had = append(had, s.Student)
			}
		}
	}
	var ids []string
	for _, s := range in.Students {
		ids = append(ids, s.ID)
	}
	meant := roster.LostZeros(ids, slices.Concat(had, known))
	var told []string
	for i := range in.Students {
		if id, lost := meant[in.Students[i].ID]; lost {
			in.Students[i].ID, ids[i] = id, id
			told = append(told, id)
		}
	}
	if len(told) > 0 {
		notes = append(notes,
			"ids of the class list have lost their leading zeros; they were taken for "+quoteSome(told))
	}
	gone := slices.DeleteFunc(slices.Clone(had), func(id string) bool { return slices.Contains(ids, id) })
	fresh := slices.DeleteFunc(slices.Clone(ids), func(id string) bool { return slices.Contains(had, id) })
	if 2*len(gone) > len(had) && 2*len(fresh) > len(had) {
		return nil, fmt.Errorf("the class list lacks %d of the %d students of lab %q and has %d others, "+
			"for example %s instead of %s; is it the list of another class, or have its ids changed? for another "+
			"class give the plan a new name",
			len(gone), len(had), in.Previous.Name, len(fresh), quoteSome(fresh[:1]), quoteSome(gone[:1]))
	}
	return notes, nil
}

// hiddenNotes tells what the sheets hide that the instructor should know before handing them out.
func hiddenNotes(plan *term.Plan, l *lab.Lab) []string {
	healthy := 0
	still := map[string][]string{} // sheets by excluded fault
	for _, s := range l.Sheets {
		id := l.Faults[l.Hypotheses[s.Truth].Fault].ID
		if id == lab.NothingWrong {
			healthy++
		}
		if slices.Contains(plan.Exclude, id) {
			still[id] = append(still[id], s.Code)
		}
	}
	var notes []string
	if plan.Nothing {
		notes = append(notes, fmt.Sprintf("%d of %s hide a vehicle with nothing wrong", healthy,
			sheetsText(len(l.Sheets))))
	}
	for _, id := range plan.Exclude {
		if sheets := still[id]; len(sheets) > 0 {
			notes = append(notes, fmt.Sprintf("exclude names %q, but sheets that were made before hide it still: %s; "+
				"hand out spares in their place", id, quoteSome(sheets)))
		}
	}
	return notes
}
