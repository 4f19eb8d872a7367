package scenarios

import (
	"cmp"
	"slices"
)

// holders gives for each person the place of who holds their readings sheet, -1 for the instructor. In each section two who follow each
// other hold each other's, and the last three of an odd number pass theirs round. Who is alone in a section, and whoever takes a spare, has
// the instructor. The order is that of the list; with seats it runs along the rows and back, so that partners sit side by side.
func holders(people []person, seats Seating) []int {
	held := make([]int, len(people))
	sections := map[string][]int{} // looked up only, never walked
	var order []string
	for i, p := range people {
		held[i] = -1
		if p.spare {
			continue
		}
		if sections[p.section] == nil {
			order = append(order, p.section)
		}
		sections[p.section] = append(sections[p.section], i)
	}
	for _, name := range order {
		round := alongRows(sections[name], people, seats)
		for len(round) > 1 {
			n := 2
			if len(round) == 3 { // nobody stays alone
				n = 3
			}
			for k := range n {
				held[round[k]] = round[(k+1)%n]
			}
			round = round[n:]
		}
	}
	return held
}

// alongRows puts those with a seat into the order of a walk through the rows, to and fro, and those without after them.
func alongRows(section []int, people []person, seats Seating) []int {
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

// persons are those whom sheets are for, as far as partners are concerned.
func (l *Lab) persons() []person {
	var all []person
	for _, s := range l.Sheets {
		all = append(all, person{id: s.Student, name: s.Name, section: s.Section, spare: s.Student == ""})
	}
	return all
}

// firstPaired is the first format of lab.json that says who holds whose readings.
const firstPaired = 2

// partner tells new sheets, those from one on, who holds their readings. What the others say stays: it is on slips by now.
func (l *Lab) partner(from int, seats Seating) {
	if l.Format < firstPaired {
		return
	}
	fresh := l.Sheets[from:]
	for i, holder := range holders(l.persons()[from:], seats) {
		if holder >= 0 {
			fresh[i].Holder = fresh[holder].Code
		}
	}
}

// held gives for each sheet the code of the one whose student holds its readings, "" for the instructor.
func (l *Lab) held() []string {
	codes := make([]string, len(l.Sheets))
	for i, s := range l.Sheets {
		codes[i] = s.Holder
	}
	if l.Format < firstPaired {
		for i, holder := range holders(l.persons(), nil) {
			if holder >= 0 {
				codes[i] = l.Sheets[holder].Code
			}
		}
	}
	return codes
}
