package placement

import "slices"

// clearOfBar is the least distance between a bar and a point or a symbol, grid squares.
const clearOfBar = 0.35

// hang gives the nodes of a column their places. Where it reaches a bar that has a node elsewhere already, it gets one
// of its own there.
func (p *placement) hang(c *column, x float64) {
	from, to := p.extent(c)
	for _, end := range []int{0, len(c.parts)} {
		node := c.nodes[end]
		b := p.barOf[node]
		if b != nil && len(b.at) > 0 {
			node = p.twin(c, min(end, len(c.parts)-1), node)
			c.nodes[end] = node
		}
		if b != nil {
			b.at = append(b.at, node)
		}
	}
	windows := p.windows(c, from, to)
	p.out.Nodes[c.upper()].At, p.out.Nodes[c.lower()].At = [2]float64{x, from}, [2]float64{x, to}
	for k, part := range c.parts {
		low, high := windows[k][0], windows[k][1]
		if k < len(c.parts)-1 {
			p.out.Nodes[c.nodes[k+1]].At = [2]float64{x, high}
		}
		if kind := p.out.Parts[part].Kind; kind == "wire" || kind == "lead" {
			continue
		}
		if above := c.nodes[k]; low-p.out.Nodes[above].At[1] > 0.05 {
			p.lead(c, k, above, x, low)
		}
		if k == len(c.parts)-1 && to-high > 0.05 {
			p.lead(c, k, c.nodes[k+1], x, high)
		}
		// a corner on the line says that the line is wanted, however long
		p.out.Parts[part].Via = [][2]float64{{x, (low + high) / 2}}
	}
}

// extent is where a column begins and ends.
func (p *placement) extent(c *column) (from, to float64) {
	from = p.yOf(c.upper())
	to = from + c.high()
	switch {
	case p.barOf[c.lower()] != nil:
		to = p.barOf[c.lower()].y
	case p.pins[c.lower()] != nil:
		to = p.top
	}
	if p.barOf[c.upper()] == nil && p.pins[c.upper()] == nil { // a dead end
		from = to - c.high()
		for p.onBar(from) {
			from -= clearOfBar
		}
	}
	if p.barOf[c.lower()] == nil && p.pins[c.lower()] == nil {
		for p.onBar(to) {
			to += clearOfBar
		}
	}
	return from, to
}

// onBar reports whether a height is too near that of a bar for a point to stand there.
func (p *placement) onBar(y float64) bool {
	return slices.ContainsFunc(p.bars, func(b *bar) bool { return y > b.y-clearOfBar && y < b.y+clearOfBar })
}

// twin puts a new node in the place of one at the end of a part.
func (p *placement) twin(c *column, part, node int) int {
	twin := p.node(node)
	p.ends[twin] = []end{{c.parts[part], node}}
	pins := p.out.Parts[c.parts[part]].Pins
	pins[slices.Index(pins, node)] = twin
	return twin
}

// lead keeps a part away from its node: a line joins them.
func (p *placement) lead(c *column, part, node int, x, y float64) {
	twin := p.twin(c, part, node)
	p.out.Nodes[twin].At = [2]float64{x, y}
	p.wire(node, twin)
}

// windows gives the part of the column between from and to that each of its parts takes, so that no bar runs across a
// symbol or a point. The parts share the room between two bars evenly where all of them fit there, and otherwise take
// the next free place downwards.
func (p *placement) windows(c *column, from, to float64) [][2]float64 {
	n, edges := len(c.parts), p.crossings(from, to)
	widest := 1
	for i := range edges[1:] {
		if edges[i+1]-edges[i] > edges[widest]-edges[widest-1]+0.01 {
			widest = i + 1
		}
	}
	if low, high := edges[widest-1], edges[widest]; len(edges) == 2 || high-low >= partHigh*float64(n) {
		if len(edges) > 2 {
			low, high = low+clearOfBar, high-clearOfBar
		}
		return shared(low, high, n)
	}
	windows := make([][2]float64, n)
	y, room := from, 0
	for k := range windows {
		low := max(y, edges[room]+clearOfBar)
		if k == 0 {
			low = y
		}
		for room+1 < len(edges)-1 && low+partHigh-clearOfBar > edges[room+1]-clearOfBar {
			room++
			low = edges[room] + clearOfBar
		}
		windows[k] = [2]float64{low, low + partHigh - clearOfBar}
		y = windows[k][1]
	}
	if y > to { // no room: a bar may cross a symbol, but no point
		windows = shared(from, to, n)
		for k := range n - 1 {
			for p.onBar(windows[k][1]) && windows[k][1]+clearOfBar/4 < windows[k+1][1] {
				windows[k][1] += clearOfBar / 4
				windows[k+1][0] = windows[k][1]
			}
		}
	}
	return windows
}

// crossings lists where something may cross a column, from its upper end to its lower.
func (p *placement) crossings(from, to float64) []float64 {
	edges := []float64{from, to}
	for _, b := range p.bars {
		if b.y > from+0.01 && b.y < to-0.01 {
			edges = append(edges, b.y)
		}
	}
	if p.top > from && p.top < to { // nothing stands beside the head of a box
		edges = append(edges, p.top)
	}
	slices.Sort(edges)
	return edges
}

// shared divides a room evenly.
func shared(low, high float64, n int) [][2]float64 {
	windows := make([][2]float64, n)
	for k := range windows {
		windows[k] = [2]float64{low + (high-low)*float64(k)/float64(n), low + (high-low)*float64(k+1)/float64(n)}
	}
	return windows
}

// yOf is the height of an upper end: a bar, a pin at the foot of a box, or a dead end at the top.
func (p *placement) yOf(node int) float64 {
	if b := p.barOf[node]; b != nil {
		return b.y
	}
	if p.pins[node] != nil {
		return p.top + p.boxHigh
	}
	return 0
}
