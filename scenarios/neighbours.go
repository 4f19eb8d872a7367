package scenarios

import (
	"nospark/scenarios/draw"
)

// neighbours lists for each person the places of those nearby. People are in the order of the roster, without seats the one before and
// the one after in the same section are near; with seats the eight around. Somebody without a seat has no neighbours.
func neighbours(people []person, seats Seating) [][]int {
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
		seat    Seat
	}
	taken := map[spot][]int{}
	for i, p := range people {
		seat, ok := seats[p.id]
		if !ok || p.spare {
			continue
		}
		for row := seat.Row - 1; row <= seat.Row+1; row++ {
			for column := seat.Column - 1; column <= seat.Column+1; column++ {
				for _, j := range taken[spot{p.section, Seat{row, column}}] {
					link(j, i)
				}
			}
		}
		at := spot{p.section, seat}
		taken[at] = append(taken[at], i)
	}
	return near
}

// seatingChart is the problem of giving each person a fault: neighbours differ, counts are even, neighbours differ in repair too.
type seatingChart struct {
	near    [][]int
	fault   []int // per person: index into choices, -1 while open
	offered int   // choices before this one may be dealt; the others are on printed sheets only
	repair  []int // of each choice
	count   []int // persons per choice
}

// What a blemish costs. A pair of neighbours with one fault outweighs any unevenness, and unevenness by more than one outweighs a pair
// with one repair.
const (
	sameFault  = 1_000_000
	uneven     = 100 // times the square of each count
	sameRepair = 30
)

// fill gives every open person a fault: an even deal in random order, mended by random exchanges and changes until no neighbours share
// a fault and nothing improves for a while. A deal in a fixed rotation would be even as well, but then a few known sheets would betray
// the others.
func (c *seatingChart) fill(s *draw.Stream) {
	var open []int
	for i, f := range c.fault {
		if f < 0 {
			open = append(open, i)
		} else {
			c.count[f]++
		}
	}
	if len(open) == 0 {
		return
	}
	c.deal(open, s)
	idle := 0
	for idle < 40*len(open)+200 {
		i := open[s.Intn(len(open))]
		var gain int
		if s.Intn(2) == 0 {
			gain = c.change(i, s.Intn(c.offered))
		} else {
			gain = c.exchange(i, open[s.Intn(len(open))])
		}
		idle++
		if gain > 0 {
			idle = 0
		}
	}
}

// deal hands out faults evenly and at random; the first of several equally rare faults is drawn too.
func (c *seatingChart) deal(open []int, s *draw.Stream) {
	order := shuffled(0, c.offered, s)
	hand := make([]int, len(open))
	for i := range hand {
		least := order[0]
		for _, f := range order {
			if c.count[f] < c.count[least] {
				least = f
			}
		}
		hand[i] = least
		c.count[least]++
	}
	s.Shuffle(len(hand), func(i, j int) { hand[i], hand[j] = hand[j], hand[i] })
	for i, person := range open {
		c.fault[person] = hand[i]
	}
}

// friction is the cost of person i having fault f, seen from i's neighbours.
func (c *seatingChart) friction(i, f int) int {
	cost := 0
	for _, j := range c.near[i] {
		switch g := c.fault[j]; {
		case g < 0:
		case g == f:
			cost += sameFault + sameRepair
		case c.repair[g] == c.repair[f]:
			cost += sameRepair
		}
	}
	return cost
}

// change gives person i fault f unless that is worse, and tells how much better it is.
func (c *seatingChart) change(i, f int) int {
	old := c.fault[i]
	if f == old {
		return 0
	}
	gain := c.friction(i, old) - c.friction(i, f) + uneven*2*(c.count[old]-c.count[f]-1)
	if gain < 0 {
		return 0
	}
	c.fault[i] = f
	c.count[old]--
	c.count[f]++
	return gain
}

// exchange swaps the faults of persons i and j unless that is worse, and tells how much better it is.
func (c *seatingChart) exchange(i, j int) int {
	f, g := c.fault[i], c.fault[j]
	if f == g {
		return 0
	}
	before := c.friction(i, f) + c.friction(j, g)
	c.fault[i], c.fault[j] = g, f
	gain := before - c.friction(i, g) - c.friction(j, f)
	if gain < 0 {
		c.fault[i], c.fault[j] = f, g
		return 0
	}
	return gain
}

// clashes counts pairs of neighbours with the same fault.
func (c *seatingChart) clashes() int {
	n := 0
	for i, near := range c.near {
		for _, j := range near {
			if j > i && c.fault[i] == c.fault[j] && c.fault[i] >= 0 {
				n++
			}
		}
	}
	return n
}
