package placement

import (
	"cmp"
	"slices"
)

// Distances of the grid, in squares.
const (
	barApart = 1.6 // between two bars, and between a bar and the row of boxes
	leastBox = 2.5 // height of a box, at least
	pinApart = 1.2
	boxApart = 0.6 // beside a box, more than between columns
)

// setDirections turns every column so that it runs downwards, and says on which side its pins leave their boxes.
func (p *placement) setDirections() {
	slices.SortStableFunc(p.bars, func(a, b *bar) int { return cmp.Compare(p.height[a.node], p.height[b.node]) })
	rank := map[int]int{}
	for i, b := range p.bars {
		rank[b.node] = i
	}
	for _, b := range p.boxes {
		for _, pin := range b.pins {
			pin.above = p.height[pin.node] < p.middle()
		}
	}
	for i := range p.columns {
		c := &p.columns[i]
		if p.barOf[c.upper()] == nil { // a bar before a pin, a pin before a dead end
			if p.barOf[c.lower()] != nil || p.pins[c.upper()] == nil {
				c.turn()
			}
		}
		from, to := p.barOf[c.upper()], p.pins[c.lower()]
		switch {
		case from != nil && p.barOf[c.lower()] != nil && rank[c.upper()] > rank[c.lower()]:
			c.turn()
		case from != nil && to != nil:
			to.above = from.above
			if !from.above {
				c.turn()
			}
		case from == nil && p.pins[c.upper()] != nil && p.pins[c.upper()].above:
			c.turn() // a dead end above a box
		}
	}
}

// setHeights finds the heights of the bars and of the row of boxes, as close as the parts between them allow.
func (p *placement) setHeights() {
	// the more there is, the smaller are the squares, and the names of pins must find room in the boxes
	p.boxHigh = max(leastBox, float64(len(p.columns))/5)
	next := 0.0
	for _, above := range []bool{true, false} {
		if !above && len(p.boxes) > 0 {
			p.top = next
			for i := range p.columns {
				c := &p.columns[i]
				if pin := p.pins[c.lower()]; pin != nil && pin.above {
					p.top = max(p.top, p.yOf(c.upper())+c.high())
				}
			}
			next = p.top + p.boxHigh + barApart
		}
		for _, b := range p.bars {
			if b.above != above {
				continue
			}
			b.y = next
			for i := range p.columns {
				if c := &p.columns[i]; c.lower() == b.node {
					b.y = max(b.y, p.yOf(c.upper())+c.high())
				}
			}
			next = b.y + barApart
		}
	}
}

// item is what has a place from left to right: a box, or a column that reaches no pin.
type item struct {
	box    *box
	column *column
	bars   []*bar
	x      float64 // of its middle
}

// setColumns goes through boxes and columns from left to right and gives every node its place.
func (p *placement) setColumns() {
	x := 0.0
	for _, it := range p.ordered() {
		if it.box == nil {
			p.hang(it.column, x)
			x++
			continue
		}
		x += boxApart
		x += p.spread(it.box, x) + boxApart
	}
	for i := range p.named { // what nothing is joined to
		if b := p.barOf[i]; p.pins[i] == nil && len(p.ends[i]) == 0 && (b == nil || len(b.at) == 0) {
			p.out.Nodes[i].At = [2]float64{x, p.yOf(i)}
			x++
		}
	}
}

// ordered lists boxes and free columns from left to right: the battery first, and then whatever shares bars beside each
// other. In each of a few rounds an item moves to the mean of the middles of its bars, where a bar counts the less the
// more hangs on it.
func (p *placement) ordered() []item {
	items := p.items()
	for range 6 {
		sum, count := map[*bar]float64{}, map[*bar]float64{}
		for i, it := range items {
			for _, b := range it.bars {
				sum[b], count[b] = sum[b]+float64(i), count[b]+1
			}
		}
		for i := range items {
			it := &items[i]
			it.x = float64(i)
			total, weight := 0.0, 0.0
			for _, b := range it.bars {
				total, weight = total+sum[b]/count[b]/count[b], weight+1/count[b]
			}
			switch {
			case it.column != nil && p.out.Parts[it.column.parts[0]].Kind == "battery":
				it.x = -1
			case weight > 0:
				it.x = total / weight
			}
		}
		slices.SortStableFunc(items, func(a, b item) int { return cmp.Compare(a.x, b.x) })
	}
	return items
}

// items lists boxes and free columns, each with its bars.
func (p *placement) items() []item {
	var items []item
	at := map[*box]int{}
	for _, b := range p.boxes {
		at[b] = len(items)
		items = append(items, item{box: b})
	}
	for i := range p.columns {
		c := &p.columns[i]
		var bars []*bar
		var pinned *pin
		for _, node := range []int{c.upper(), c.lower()} {
			if b := p.barOf[node]; b != nil {
				bars = append(bars, b)
			}
			if pin := p.pins[node]; pin != nil {
				pinned = pin
			}
		}
		if pinned == nil {
			items = append(items, item{column: c, bars: bars})
			continue
		}
		items[at[pinned.box]].bars = append(items[at[pinned.box]].bars, bars...)
	}
	return items
}

// spread places a box with its pins and what hangs on them, from x on, and gives its width.
func (p *placement) spread(b *box, x float64) float64 {
	above, below := 0.0, 0.0
	for _, pin := range b.pins {
		y, at := p.top, x+above
		if pin.above {
			above += pinApart
		} else {
			y, at = p.top+p.boxHigh, x+below
			below += pinApart
		}
		p.out.Nodes[pin.node].At = [2]float64{at, y}
		for i := range p.columns {
			if c := &p.columns[i]; c.upper() == pin.node || c.lower() == pin.node {
				p.hang(c, at)
			}
		}
	}
	wide := max(above, below, 2) - pinApart + 1
	p.out.Parts[b.part].Box = &[4]float64{x - 0.5, p.top, x + wide - 0.5, p.top + p.boxHigh}
	return wide
}

// joinBars draws the bars.
func (p *placement) joinBars() {
	for _, b := range p.bars {
		slices.SortFunc(b.at, func(m, n int) int { return cmp.Compare(p.out.Nodes[m].At[0], p.out.Nodes[n].At[0]) })
		for i := 1; i < len(b.at); i++ {
			p.wire(b.at[i-1], b.at[i])
		}
		if p.out.Nodes[b.node].Ground { // room for its sign
			at := p.out.Nodes[b.node].At
			p.out.Nodes[p.node(b.node)].At = [2]float64{at[0], at[1] + 0.6}
		}
	}
}
