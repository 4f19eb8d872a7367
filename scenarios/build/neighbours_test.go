package build

import (
	"fmt"
	"slices"
	"testing"

	"nospark/scenarios/draw"
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

func TestNeighbours(t *testing.T) {
	list := []person{{id: "a", section: "1"}, {id: "x", section: "2"}, {id: "b", section: "1"}, {id: "c", section: "1"}, {id: "1", spare: true}}
	near := neighbours(list, nil)
	want := [][]int{{2, 3}, nil, {0, 3}, {2, 0}, nil} // three pass their readings round
	for i := range want {
		if !slices.Equal(near[i], want[i]) {
			t.Errorf("in the order of the roster %d has %v, want %v", i, near[i], want[i])
		}
	}
	people, seats := grid(15)
	for i, n := range neighbours(people, seats) {
		want := map[int]int{0: 3, 2: 5, 4: 3, 5: 5, 7: 8, 14: 3}[i]
		if want > 0 && len(n) != want {
			t.Errorf("seat %d has %d neighbours, want %d", i, len(n), want)
		}
	}
	// Two sections use the same seats at other hours.
	other := append(slices.Clone(people), person{id: "0b", section: "B"})
	seats["0b"] = seats["7"]
	if n := neighbours(other, seats)[15]; len(n) != 0 {
		t.Errorf("neighbours in another section: %v", n)
	}
}

// TestFill wants no clashes and even counts on a row and on grids with eight neighbours. Four versions suffice there: the corners of any
// square of four seats take one each. But then the seats decide how often each version comes, and five versions leave little room too.
func TestFill(t *testing.T) {
	check := func(name string, near [][]int, repairs []int, uneven int) {
		t.Helper()
		for k := range 20 {
			c := &seatingChart{near: near, fault: make([]int, len(near)), offered: len(repairs), repair: repairs, count: make([]int, len(repairs))}
			for i := range c.fault {
				c.fault[i] = -1
			}
			c.fill(draw.New([]byte{byte(k)}, "test"))
			if n := c.clashes(); n > 0 {
				t.Errorf("%s, key %d: %d clashes", name, k, n)
			}
			for f := range c.count {
				n := 0
				for _, g := range c.fault {
					if g == f {
						n++
					}
				}
				if n != c.count[f] {
					t.Errorf("%s: count of %d is %d, want %d", name, f, c.count[f], n)
				}
			}
			if d := slices.Max(c.count) - slices.Min(c.count); d > uneven {
				t.Errorf("%s, key %d: counts %v", name, k, c.count)
			}
		}
	}
	row, _ := grid(30)
	check("row of 30, 2 faults", neighbours(row, nil), []int{0, 1}, 1)
	check("row of 30, 5 faults", neighbours(row, nil), []int{0, 1, 2, 3, 3}, 1)
	for _, n := range []int{12, 24, 40} {
		people, seats := grid(n)
		near := neighbours(people, seats)
		check(fmt.Sprintf("grid of %d, 6 faults", n), near, []int{0, 1, 2, 3, 4, 5}, 1)
		check(fmt.Sprintf("grid of %d, 5 faults", n), near, []int{0, 1, 2, 3, 4}, 2)
		check(fmt.Sprintf("grid of %d, 4 faults", n), near, []int{0, 1, 2, 3}, n)
	}
}

// TestGuessingDoesNotPay: no repair is right for more than half of a class where there is another, though most faults may need it.
func TestGuessingDoesNotPay(t *testing.T) {
	check := func(class int, repairs []int, most float64) {
		t.Helper()
		list, _ := grid(class)
		c := &seatingChart{near: neighbours(list, nil), fault: make([]int, class), offered: len(repairs), repair: repairs, count: make([]int, len(repairs))}
		for i := range c.fault {
			c.fault[i] = -1
		}
		c.fill(draw.New([]byte{9}, "guess"))
		right := map[int]int{}
		for f, n := range c.count {
			right[repairs[f]] += n
			if n == 0 {
				t.Errorf("%d students, repairs %v: fault %d does not come", class, repairs, f)
			}
		}
		for r, n := range right {
			if float64(n) > most*float64(class) {
				t.Errorf("%d students, repairs %v: repair %d is right for %d, counts %v", class, repairs, r, n, c.count)
			}
		}
		if c.clashes() > 0 {
			t.Errorf("%d students, repairs %v: %d clashes", class, repairs, c.clashes())
		}
	}
	// Four plugs and one lead, as under the complaint "rough" of a distributor. Counts are whole, so a class of 24 may miss the half by two.
	check(24, []int{0, 1, 1, 1, 1}, 0.6)
	check(200, []int{0, 1, 1, 1, 1}, 0.56) // every second one would have to have the lead
	check(24, []int{0, 1, 1}, 0.55)
	check(24, []int{0, 1, 2, 2, 2, 2, 2}, 0.6)
	check(24, []int{3, 3, 3}, 1)
}

// TestFillAroundPrinted adds people between sheets that are there.
func TestFillAroundPrinted(t *testing.T) {
	list, _ := grid(9)
	c := &seatingChart{near: neighbours(list, nil), fault: []int{0, -1, 1, -1, 0, -1, -1, 2, -1}, offered: 3, repair: []int{0, 1, 2}, count: make([]int, 3)}
	c.fill(draw.New([]byte{1}, "test"))
	if c.clashes() > 0 || c.fault[0] != 0 || c.fault[2] != 1 || c.fault[7] != 2 {
		t.Errorf("faults %v", c.fault)
	}
}

// TestFillIsNoPattern wants the faults of a class to be as good as independent: the same fault k places on must not come much more often
// or less often than chance has it, apart from the direct neighbour.
func TestFillIsNoPattern(t *testing.T) {
	const n, kinds = 60, 6
	list, _ := grid(n)
	near := neighbours(list, nil)
	var same [10]int
	for k := range 40 {
		c := &seatingChart{near: near, fault: make([]int, n), offered: kinds, repair: []int{0, 1, 2, 3, 4, 5}, count: make([]int, kinds)}
		for i := range c.fault {
			c.fault[i] = -1
		}
		c.fill(draw.New([]byte{byte(k)}, "pattern"))
		for d := 2; d < len(same); d++ {
			for i := d; i < n; i++ {
				if c.fault[i] == c.fault[i-d] {
					same[d]++
				}
			}
		}
	}
	for d := 2; d < len(same); d++ {
		share := float64(same[d]) / float64(40*(n-d))
		// Two places on: not the fault between, so 1/5; further on 1/6. The margin is more than four standard errors.
		want := 1.0 / kinds
		if d == 2 {
			want = 1.0 / (kinds - 1)
		}
		if share < want-0.045 || share > want+0.045 {
			t.Errorf("the same fault %d places on in %.3f of cases, want about %.3f", d, share, want)
		}
	}
}
