package build

import (
	"slices"

	"nospark/scenarios/term"
)

// neighbors lists for each person the places of those nearby and of the partners, wherever they sit: their sheets shall
// begin differently.
func neighbors(people []person, seats term.Seating) [][]int {
	near := nearby(people, seats)
	for i, holder := range holders(people, seats) {
		if holder >= 0 && !slices.Contains(near[i], holder) {
			near[i], near[holder] = append(near[i], holder), append(near[holder], i)
		}
	}
	return near
}

// nearby lists for each person the places of those around. People are in the order of the roster, without seats the one
// before and the one after in the same section are near; with seats the eight around. Somebody without a seat has
// nobody around.
func nearby(people []person, seats term.Seating) [][]int {
	near := make([][]int, len(people))
	link := func(a, b int) {
		near[a], near[b] = append(near[a], b), append(near[b], a)
	}
	if seats == nil {
		last := map[string]int{}
		for i, p := range people {
			if p.spare {
				continue
			}
			if before, ok := last[p.section]; ok {
				link(before, i)
			}
			last[p.section] = i
		}
		return near
	}
	type spot struct {
		section string
		seat    term.Seat
	}
	taken := map[spot][]int{}
	for i, p := range people {
		seat, ok := seats[p.id]
		if !ok || p.spare {
			continue
		}
		for row := seat.Row - 1; row <= seat.Row+1; row++ {
			for column := seat.Column - 1; column <= seat.Column+1; column++ {
				for _, j := range taken[spot{p.section, term.Seat{Row: row, Column: column}}] {
					link(j, i)
				}
			}
		}
		at := spot{p.section, seat}
		taken[at] = append(taken[at], i)
	}
	return near
}
