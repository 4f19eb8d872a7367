package build

import (
	"fmt"
	"slices"
	"testing"

	"nospark/scenarios/term"
)

// grid seats n students row by row, five to a row.
func grid(n int) ([]person, term.Seating) {
	var list []person
	seats := term.Seating{}
	for i := range n {
		p := person{id: fmt.Sprint(i), section: "A"}
		list = append(list, p)
		seats[p.id] = term.Seat{Row: i / 5, Column: i % 5}
	}
	return list, seats
}

func TestNeighbors(t *testing.T) {
	list := []person{{id: "a", section: "1"}, {id: "x", section: "2"}, {id: "b", section: "1"}, {id: "c", section: "1"},
		{id: "1", spare: true}}
	near := neighbors(list, nil)
	want := [][]int{{2, 3}, nil, {0, 3}, {2, 0}, nil} // three pass their readings round
	for i := range want {
		if !slices.Equal(near[i], want[i]) {
			t.Errorf("in the order of the roster %d has %v, want %v", i, near[i], want[i])
		}
	}
	people, seats := grid(15)
	for i, n := range neighbors(people, seats) {
		want := map[int]int{0: 3, 2: 5, 4: 3, 5: 5, 7: 8, 14: 3}[i]
		if want > 0 && len(n) != want {
			t.Errorf("seat %d has %d neighbors, want %d", i, len(n), want)
		}
	}
	// Two sections use the same seats at other hours.
	other := append(slices.Clone(people), person{id: "0b", section: "B"})
	seats["0b"] = seats["7"]
	if n := neighbors(other, seats)[15]; len(n) != 0 {
		t.Errorf("neighbors in another section: %v", n)
	}
}
