package main

import (
	"fmt"
	"slices"

	"nospark/scenarios/build"
	"nospark/scenarios/lab"
	"nospark/scenarios/roster"
	"nospark/scenarios/term"
)

// sameClass gives students the ids that the lab has them under where these differ by leading zeros alone, which
// spreadsheets take, and refuses a class list of somebody else: everybody would get a second sheet, and the first ones
// would belong to nobody. known are ids of earlier labs.
func sameClass(in *build.Input, known []string) (notes []string, err error) {
	var had, ids []string
	if in.Previous != nil {
		for _, s := range in.Previous.Sheets {
			if s.Student != "" {
				had = append(had, s.Student)
			}
		}
	}
	for _, s := range in.Students {
		ids = append(ids, s.ID)
	}
	meant := roster.SameIDs(ids, had)
	for id, k := range roster.SameIDs(ids, known) {
		switch {
		case meant[id] != "" || slices.Contains(had, id):
		case len(k) > len(id):
			meant[id] = k
		case in.History[id] == nil: // the class list is right, so what the student has had goes with its id
			in.History[id] = in.History[k]
		}
	}
	var lost, came []string
	for i := range in.Students {
		id, same := meant[ids[i]]
		if !same {
			continue
		}
		if len(id) > len(ids[i]) {
			lost = append(lost, id)
		} else {
			came = append(came, id)
		}
		in.Students[i].ID, ids[i] = id, id
	}
	if len(lost) > 0 {
		notes = append(notes,
			"ids of the class list have lost their leading zeros; they were taken for "+quoteSome(lost))
	}
	if len(came) > 0 {
		notes = append(notes, "ids of the class list have leading zeros that they had not when the lab was built; they "+
			"were taken for "+quoteSome(came))
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
