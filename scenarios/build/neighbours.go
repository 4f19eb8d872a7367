package build

import (
	"math"
	"slices"

	"nospark/scenarios/draw"
	"nospark/scenarios/term"
)

// neighbours lists for each person the places of those nearby and of the partners, who must differ wherever they sit: who holds the
// readings of a sheet with the own fault has read what the own meter will show.
func neighbours(people []person, seats term.Seating) [][]int {
	near := nearby(people, seats)
	for i, holder := range holders(people, seats) {
		if holder >= 0 && !slices.Contains(near[i], holder) {
			near[i], near[holder] = append(near[i], holder), append(near[holder], i)
		}
	}
	return near
}

// nearby lists for each person the places of those around. People are in the order of the roster, without seats the one before and the one
// after in the same section are near; with seats the eight around. Somebody without a seat has nobody around.
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

// seatingChart is the problem of giving each person a fault: neighbours differ, counts are even, neighbours differ in repair too.
type seatingChart struct {
	near    [][]int
	fault   []int // per person: index into choices, -1 while open
	offered int   // choices before this one may be dealt; the others are on printed sheets only
	open    []bool
	repair  []int   // of each choice
	count   []int   // persons per choice
	price   []int   // of each choice; see setPrices
	again   [][]int // per person: what each choice costs because the person has had it; nil: nothing
}

// What a blemish costs. A pair of neighbours with one fault outweighs any unevenness, and unevenness by more than one outweighs a pair
// with one repair.
const (
	sameFault  = 1_000_000
	uneven     = 100 // times the square of each count, for a choice with an even share
	sameRepair = 30
)

// mostOfARepair is the largest share of sheets for which one repair is right, as far as there are others: naming it blindly may not pay.
const mostOfARepair = 0.5

// setPrices makes the choices of a repair that would be right for too many sheets dearer and the others cheaper. Faults are dealt such that
// price times count is about the same for all, so one with twice the price comes half as often.
func (c *seatingChart) setPrices() {
	c.price = slices.Repeat([]int{uneven}, len(c.repair))
	times := map[int]int{}
	common := 0
	for _, r := range c.repair[:c.offered] {
		times[r]++
		if times[r] > times[common] || times[common] == 0 {
			common = r
		}
	}
	same := float64(times[common])
	others := float64(c.offered) - same
	if others == 0 || same <= mostOfARepair*float64(c.offered) {
		return
	}
	for i, r := range c.repair[:c.offered] {
		share := (1 - mostOfARepair) / others
		if r == common {
			share = mostOfARepair / same
		}
		c.price[i] = int(math.Round(uneven / share / float64(c.offered)))
	}
}

// fill gives every open person a fault: an even deal in random order, mended by random exchanges and changes until no neighbours share
// a fault and nothing improves for a while. A deal in a fixed rotation would be even as well, but then a few known sheets would betray
// the others. With few faults and many neighbours single steps get stuck; then chains of them go on.
func (c *seatingChart) fill(s *draw.Stream) {
	c.setPrices()
	var open []int
	c.open = make([]bool, len(c.fault))
	for i, f := range c.fault {
		if f < 0 {
			open = append(open, i)
			c.open[i] = true
		} else {
			c.count[f]++
		}
	}
	if len(open) == 0 {
		return
	}
	var best []int
	least := -1
	for deal := 0; deal < 6 && least != 0; deal++ {
		c.clear(open)
		c.deal(open, s)
		c.improve(open, s)
		for round := 0; round < 8 && c.clashes() > 0 && c.offered > 1; round++ {
			c.untangle(s)
			c.improve(open, s)
		}
		if n := c.clashes(); least < 0 || n < least {
			least, best = n, slices.Clone(c.fault)
		}
	}
	c.clear(open)
	for _, i := range open {
		c.fault[i] = best[i]
		c.count[best[i]]++
	}
}

// clear takes the faults of open persons back.
func (c *seatingChart) clear(open []int) {
	for _, i := range open {
		if f := c.fault[i]; f >= 0 {
			c.count[f]--
			c.fault[i] = -1
		}
	}
}

// improve exchanges and changes single faults.
func (c *seatingChart) improve(open []int, s *draw.Stream) {
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
			if c.price[f]*(2*c.count[f]+1) < c.price[least]*(2*c.count[least]+1) {
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

// friction is the cost of person i having fault f, seen from i's neighbours and from what i has had before.
func (c *seatingChart) friction(i, f int) int {
	cost := 0
	if c.again != nil && c.again[i] != nil {
		cost = c.again[i][f]
	}
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
	gain := c.friction(i, old) - c.friction(i, f) + c.price[old]*(2*c.count[old]-1) - c.price[f]*(2*c.count[f]+1)
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

// untangle takes a clashing person, or just anyone, and gives it another fault through a chain of exchanges, as long as that makes no new
// clash (a Kempe chain, from the colouring of maps).
func (c *seatingChart) untangle(s *draw.Stream) {
	for range 200 {
		pairs := c.pairs()
		if len(pairs) == 0 {
			return
		}
		i := pairs[s.Intn(len(pairs))][s.Intn(2)]
		if s.Intn(2) == 0 {
			i = s.Intn(len(c.fault))
		}
		other := s.Intn(c.offered)
		if !c.open[i] || other == c.fault[i] {
			continue
		}
		own := c.fault[i]
		chain := c.chain(i, other)
		c.flip(chain, own, other)
		if len(c.pairs()) > len(pairs) {
			c.flip(chain, own, other)
		}
	}
}

// chain lists the open persons who have to change places when i takes the fault other, and so on along those who have either.
func (c *seatingChart) chain(i, other int) []int {
	chain, seen := []int{i}, map[int]bool{i: true}
	for at := 0; at < len(chain); at++ {
		want := other // of the next in the chain
		if c.fault[chain[at]] == other {
			want = c.fault[i]
		}
		for _, j := range c.near[chain[at]] {
			if c.open[j] && !seen[j] && c.fault[j] == want {
				seen[j] = true
				chain = append(chain, j)
			}
		}
	}
	return chain
}

// flip turns f into g and g into f along a chain.
func (c *seatingChart) flip(chain []int, f, g int) {
	for _, i := range chain {
		c.count[c.fault[i]]--
		c.fault[i] = f + g - c.fault[i]
		c.count[c.fault[i]]++
	}
}

// pairs lists the neighbours with the same fault.
func (c *seatingChart) pairs() [][2]int {
	var list [][2]int
	for i, near := range c.near {
		for _, j := range near {
			if j > i && c.fault[i] == c.fault[j] && c.fault[i] >= 0 {
				list = append(list, [2]int{i, j})
			}
		}
	}
	return list
}

// clashes counts them.
func (c *seatingChart) clashes() int { return len(c.pairs()) }
