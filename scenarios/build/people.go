package build

import (
	"cmp"
	"errors"
	"fmt"
	"maps"
	"slices"
	"strconv"

	"nospark/scenarios/roster"
	"nospark/scenarios/spelling"
	"nospark/scenarios/term"
)

// person is somebody who gets a sheet, or a spare for somebody who turns up.
type person struct {
	id, name, family, section string
	large                     bool
	spare                     bool
}

// labels name the person's random streams: neither a spare nor a student can pass for the other.
func (p person) labels(lab, purpose string, more ...string) []string {
	kind := "student"
	if p.spare {
		kind = "spare"
	}
	return append([]string{"lab", lab, kind, p.id, purpose}, more...)
}

// people lists who shall have a sheet: the students of the plan's sections in the order of the roster, then the spares,
// numbered from 1.
func people(plan *term.Plan, students []roster.Student) ([]person, error) {
	var found []error
	var sections []string
	for _, s := range students {
		if !slices.Contains(sections, s.Section) {
			sections = append(sections, s.Section)
		}
	}
	for _, s := range plan.Sections {
		if !slices.Contains(sections, s) {
			found = append(found, fmt.Errorf("%s: sections names %q, which the roster does not have%s",
				plan.Place("sections"), s, hint(s, sections)))
		}
	}
	var list []person
	var ids, class []string
	for _, s := range students {
		class = append(class, s.ID)
	}
	large := slices.Clone(plan.LargePrint)
	recognize(large, class)
	for _, s := range students { // the order of the roster is that of the sheets
		if plan.Sections != nil && !slices.Contains(plan.Sections, s.Section) {
			continue
		}
		ids = append(ids, s.ID)
		list = append(list, person{id: s.ID, name: s.Name, family: s.Family, section: s.Section, large: s.LargePrint ||
			slices.Contains(large, s.ID)})
	}
	for i, id := range plan.LargePrint {
		if !slices.Contains(ids, large[i]) {
			found = append(found, fmt.Errorf("%s: large_print names %q, who is not in this lab's roster%s",
				plan.Place("large_print"), id, spelling.Ask(id, ids)))
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

// recognize puts the ids of the class list in the place of those that differ from them by leading zeros alone.
func recognize(ids, class []string) {
	meant := roster.SameIDs(ids, class)
	for i, id := range ids {
		if own, same := meant[id]; same {
			ids[i] = own
		}
	}
}

// seatsOf gives the seats by the ids of the class list.
func seatsOf(seats term.Seating, list []person) term.Seating {
	if seats == nil {
		return nil
	}
	var class []string
	for _, p := range list {
		if !p.spare {
			class = append(class, p.id)
		}
	}
	meant := roster.SameIDs(slices.Collect(maps.Keys(seats)), class)
	own := term.Seating{}
	for id, seat := range seats {
		own[cmp.Or(meant[id], id)] = seat
	}
	return own
}

// seatNotes tells what does not add up in a seating file: seats of people who have no sheet, people without a seat, and
// seats that two of a section share.
func seatNotes(file string, list []person, seats term.Seating) []string {
	var strangers, standing, squeezed []string
	type place struct {
		section string
		seat    term.Seat
	}
	taken := map[place]bool{}
	known := map[string]bool{}
	for _, p := range list {
		if p.spare {
			continue
		}
		known[p.id] = true
		seat, ok := seats[p.id]
		switch at := (place{p.section, seat}); {
		case !ok:
			standing = append(standing, p.id)
		case taken[at]:
			squeezed = append(squeezed, p.id)
		default:
			taken[at] = true
		}
	}
	for id := range seats {
		if !known[id] {
			strangers = append(strangers, id)
		}
	}
	slices.Sort(strangers)
	var notes []string
	for _, n := range []struct {
		what string
		ids  []string
	}{
		{"seats students who have no sheet in this lab", strangers},
		{"has no seat for students, whose neighbors are therefore not known", standing},
		{"puts students on a seat that another one of the section has", squeezed},
	} {
		if len(n.ids) > 0 {
			notes = append(notes, fmt.Sprintf("%s %s: %s", file, n.what, some(n.ids)))
		}
	}
	return notes
}

// some quotes the first few of a list and says how many more there are.
func some(ids []string) string {
	const most = 5
	if len(ids) <= most {
		return quoted(ids)
	}
	return fmt.Sprintf("%s and %d more", quoted(ids[:most]), len(ids)-most)
}
