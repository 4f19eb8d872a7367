package scenarios

import (
	"errors"
	"fmt"
	"slices"
	"strconv"

	"nospark/scenarios/roster"
	"nospark/scenarios/spelling"
)

// person is somebody who gets a sheet, or a spare for somebody who turns up.
type person struct {
	id, name, section string
	large             bool
	spare             bool
}

// labels name the person's random streams: neither a spare nor a student can pass for the other.
func (p person) labels(lab, purpose string, more ...string) []string {
	kind := "student"
	if p.spare {
		kind = "spare"
	}
	return append([]string{"lab", lab, kind, p.id, purpose}, more...)
}

// people lists who shall have a sheet: the students of the plan's sections in the order of the roster, then the spares, numbered from 1.
func people(plan *Plan, students []roster.Student) ([]person, error) {
	var found []error
	var sections []string
	for _, s := range students {
		if !slices.Contains(sections, s.Section) {
			sections = append(sections, s.Section)
		}
	}
	for _, s := range plan.Sections {
		if !slices.Contains(sections, s) {
			found = append(found, fmt.Errorf("%s: sections names %q, which the roster does not have%s", plan.place("sections"), s, hint(s, sections)))
		}
	}
	var list []person
	var ids []string
	for _, s := range students { // the order of the roster is that of the sheets
		if plan.Sections != nil && !slices.Contains(plan.Sections, s.Section) {
			continue
		}
		ids = append(ids, s.ID)
		list = append(list, person{id: s.ID, name: s.Name, section: s.Section, large: s.LargePrint || slices.Contains(plan.LargePrint, s.ID)})
	}
	for _, id := range plan.LargePrint {
		if !slices.Contains(ids, id) {
			found = append(found, fmt.Errorf("%s: large_print names %q, who is not in this lab's roster%s", plan.place("large_print"), id, spelling.Ask(id, ids)))
		}
	}
	// The number of a spare is its identity: asking for more later adds to those that are printed.
	for i := range plan.Spares {
		list = append(list, person{id: strconv.Itoa(i + 1), spare: true})
	}
	if len(list) == 0 && len(found) == 0 {
		found = append(found, fmt.Errorf("%s: nobody gets a sheet: no students and no spares", plan.File))
	}
	return list, errors.Join(found...)
}

// strangers are the ids with a seat that nobody in the class has, ascending.
func strangers(list []person, seats Seating) []string {
	var ids []string
	for id := range seats {
		if !slices.ContainsFunc(list, func(p person) bool { return !p.spare && p.id == id }) {
			ids = append(ids, id)
		}
	}
	slices.Sort(ids)
	return ids
}
