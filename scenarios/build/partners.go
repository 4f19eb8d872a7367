package build

import (
	"cmp"
	"slices"

	"nospark/scenarios/lab"
	"nospark/scenarios/term"
)

// holders gives for each person the place of who holds their readings sheet, -1 for the instructor: see Pair. The order
// in a section is that of the list; with seats it runs along the rows and back, so that partners sit side by side.
func holders(people []person, seats term.Seating) []int {
	sections := lab.Sections(len(people), func(i int) (string, bool) { return people[i].section, !people[i].spare })
	for i := range sections {
		sections[i] = alongRows(sections[i], people, seats)
	}
	return lab.Pair(sections, len(people))
}

// alongRows puts those with a seat into the order of a walk through the rows, to and fro, and those without after them.
func alongRows(section []int, people []person, seats term.Seating) []int {
	return slices.SortedStableFunc(slices.Values(section), func(i, j int) int {
		a, seated := seats[people[i].id]
		b, too := seats[people[j].id]
		switch {
		case !seated && !too:
			return 0
		case !too:
			return -1
		case !seated:
			return 1
		}
		along := cmp.Compare(a.Column, b.Column)
		if a.Row%2 == 0 {
			along = -along
		}
		return cmp.Or(cmp.Compare(a.Row, b.Row), along)
	})
}

// partner tells new sheets, those from one on, who holds their readings. What the others say stays: it is on slips by
// now.
func partner(l *lab.Lab, from int, seats term.Seating) {
	if l.Format < lab.FirstPaired {
		return
	}
	fresh := l.Sheets[from:]
	var people []person
	var own [][]int // of each person the fresh sheets, one for each vehicle
	for i, s := range fresh {
		if n := len(people); n > 0 && s.Student != "" && people[n-1].id == s.Student {
			own[n-1] = append(own[n-1], i)
			continue
		}
		people = append(people, person{id: s.Student, name: s.Name, section: s.Section, spare: s.Student == ""})
		own = append(own, []int{i})
	}
	for p, holder := range holders(people, seats) {
		if holder < 0 {
			continue
		}
		for v, i := range own[p] { // the readings of somebody's second vehicle are with the partner's second
			theirs := own[holder]
			fresh[i].Holder = fresh[theirs[min(v, len(theirs)-1)]].Code
		}
	}
}
