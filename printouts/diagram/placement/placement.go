package placement

import (
	"slices"

	"nospark/scenarios"
)

// Find gives a diagram with places. One that has places stays as it is. isBox tells the parts that are drawn as a box
// with pins; all others have two pins. What the diagram gets in addition stands at the end: nodes without a name that
// stand for others elsewhere, and lines that join these.
func Find(d scenarios.Diagram, isBox func(scenarios.DiagramPart) bool) scenarios.Diagram {
	if !d.Unplaced {
		return d
	}
	p := newPlacement(d, isBox)
	p.attachBoxes()
	p.findBars()
	p.setDirections()
	p.setHeights()
	p.setColumns()
	p.joinBars()
	p.out.Unplaced = false
	return p.out
}

// boxKind is the kind of a part that is drawn as a box, whatever it was.
const boxKind = "box"

// placement is the state of finding places.
type placement struct {
	out     scenarios.Diagram
	named   int          // nodes of the diagram; others stand for them
	height  []float64    // by node: 0 at the battery's positive post, 1 at the reference
	ends    [][]end      // by node: the two-pin parts that end there
	pins    map[int]*pin // by node: the pin of a box at which it stands
	bars    []*bar       // from above to below, once they have heights
	barOf   map[int]*bar // by node
	boxes   []*box       // in the order of the diagram
	columns []column     // what hangs between two bars, or between a bar and a pin
	used    map[int]bool // parts that hang in a column already
	top     float64      // of the row of boxes, grid squares
	boxHigh float64      // grid squares
}

// end is one end of a two-pin part.
type end struct{ part, far int }

// bar is a level line of one node.
type bar struct {
	node  int
	above bool    // of the row of boxes
	y     float64 // grid squares
	at    []int   // nodes on it, one for each column that reaches it
}

// box is a part drawn as a box with pins.
type box struct {
	part int
	pins []*pin
}

// pin is a pin of a box with the node that stands on the box's edge.
type pin struct {
	box   *box
	node  int
	above bool // it leaves the box upwards
}

func newPlacement(d scenarios.Diagram, isBox func(scenarios.DiagramPart) bool) *placement {
	p := &placement{pins: map[int]*pin{}, barOf: map[int]*bar{}, used: map[int]bool{}, named: len(d.Nodes)}
	p.out.Nodes = slices.Clone(d.Nodes)
	for _, part := range d.Parts {
		part.Pins, part.Via, part.Box, part.LabelAt = slices.Clone(part.Pins), nil, nil, nil
		p.out.Parts = append(p.out.Parts, part)
	}
	p.height = heights(d)
	p.ends = make([][]end, len(d.Nodes))
	for i, part := range p.out.Parts {
		if isBox(part) {
			p.out.Parts[i].Kind = boxKind // no symbol: those of a coil and a distributor want places of their own
			p.boxes = append(p.boxes, &box{part: i})
		} else if part.Pins[0] != part.Pins[1] {
			p.join(i)
		}
	}
	return p
}

// join notes the two ends of a two-pin part.
func (p *placement) join(part int) {
	a, b := p.out.Parts[part].Pins[0], p.out.Parts[part].Pins[1]
	p.ends[a], p.ends[b] = append(p.ends[a], end{part, b}), append(p.ends[b], end{part, a})
}

// node adds a node without a name that stands for another one elsewhere.
func (p *placement) node(like int) int {
	p.out.Nodes = append(p.out.Nodes, scenarios.DiagramNode{})
	p.ends, p.height = append(p.ends, nil), append(p.height, p.height[like])
	return len(p.out.Nodes) - 1
}

// wire adds a line between two nodes that stand for the same one, thick where high tension is led.
func (p *placement) wire(a, b int) int {
	kind := "wire"
	for _, e := range slices.Concat(p.ends[a], p.ends[b]) {
		if p.out.Parts[e.part].Kind == "lead" {
			kind = "lead"
		}
	}
	p.out.Parts = append(p.out.Parts, scenarios.DiagramPart{Kind: kind, Pins: []int{a, b}})
	return len(p.out.Parts) - 1
}

// heights gives every node its height: that of the mean of what it is joined to, as voltages would settle if all parts
// were the same resistor.
func heights(d scenarios.Diagram) []float64 {
	h, fixed := make([]float64, len(d.Nodes)), make([]bool, len(d.Nodes))
	for i, n := range d.Nodes {
		h[i], fixed[i] = 0.5, n.Ground
		if n.Ground {
			h[i] = 1
		}
	}
	for _, part := range d.Parts {
		if part.Kind == "battery" && len(part.Pins) == 2 && !fixed[part.Pins[0]] {
			h[part.Pins[0]], fixed[part.Pins[0]] = 0, true
		}
	}
	for range 300 {
		sum, n := make([]float64, len(h)), make([]float64, len(h))
		for _, part := range d.Parts {
			mean := 0.0
			for _, node := range part.Pins {
				mean += h[node] / float64(len(part.Pins))
			}
			for _, node := range part.Pins {
				sum[node], n[node] = sum[node]+mean, n[node]+1
			}
		}
		for i := range h {
			if !fixed[i] && n[i] > 0 {
				h[i] = sum[i] / n[i]
			}
		}
	}
	return h
}

// attachBoxes puts a node on the edge of a box for every pin: the node itself where it has no other box yet, or one
// that stands for it and is joined to it by a line. A node with a box and more than one other thing to join gets a
// second one to be its bar.
func (p *placement) attachBoxes() {
	for _, b := range p.boxes {
		i := b.part
		for k, node := range p.out.Parts[i].Pins {
			if p.pins[node] != nil || p.rail(node) {
				twin := p.node(node)
				p.join(p.wire(node, twin))
				node = twin
				p.out.Parts[i].Pins[k] = node
			}
			p.pins[node] = &pin{box: b, node: node}
			b.pins = append(b.pins, p.pins[node])
		}
	}
	for _, b := range p.boxes {
		for _, pin := range b.pins {
			if len(p.ends[pin.node]) > 1 {
				p.moveEnds(pin.node)
			}
		}
	}
}

// moveEnds gives all that is joined to a node to a new one, and joins the two.
func (p *placement) moveEnds(node int) {
	twin := p.node(node)
	for _, e := range p.ends[node] {
		pins := p.out.Parts[e.part].Pins
		pins[slices.Index(pins, node)] = twin
		far := p.ends[e.far]
		far[slices.Index(far, end{e.part, node})].far = twin
	}
	p.ends[twin], p.ends[node] = p.ends[node], nil
	p.join(p.wire(node, twin))
}

// rail reports whether a node is a post of the battery, which never stands at a box.
func (p *placement) rail(node int) bool { return p.out.Nodes[node].Ground || p.height[node] == 0 }

// findBars makes bars of the battery's posts, of all nodes where three or more parts meet, and of one node in every
// chain that would otherwise lead from box to box or back to its own bar.
func (p *placement) findBars() {
	for i := range p.out.Nodes {
		if p.pins[i] == nil && (len(p.ends[i]) > 2 || i < p.named && p.rail(i)) {
			p.addBar(i)
		}
	}
	for again := true; again; {
		again = false
		p.findColumns()
		for _, c := range p.columns {
			first, last := c.nodes[0], c.nodes[len(c.nodes)-1]
			closed := first == last || p.barOf[first] == nil && p.barOf[last] == nil && p.pins[first] != nil &&
				p.pins[last] != nil
			if !closed {
				continue
			}
			if len(c.nodes) > 2 {
				p.addBar(c.nodes[len(c.nodes)/2])
			} else {
				p.moveEnds(first)
				p.addBar(len(p.out.Nodes) - 1)
			}
			again = true
			break
		}
	}
}

// middle is the height at which the boxes stand: the mean of their pins'.
func (p *placement) middle() float64 {
	sum, n := 0.0, 0.0
	for _, b := range p.boxes {
		for _, pin := range b.pins {
			sum, n = sum+p.height[pin.node], n+1
		}
	}
	if n == 0 {
		return 0.5
	}
	return sum / n
}

func (p *placement) addBar(node int) {
	b := &bar{node: node, above: p.height[node] < p.middle()}
	p.bars, p.barOf[node] = append(p.bars, b), b
}

// findColumns follows every chain of two-pin parts from bar to bar, pin or dead end.
func (p *placement) findColumns() {
	p.columns, p.used = nil, map[int]bool{}
	stop := func(node int) bool { return p.barOf[node] != nil || p.pins[node] != nil || len(p.ends[node]) != 2 }
	for i, part := range p.out.Parts {
		if p.used[i] || part.Kind == boxKind || part.Pins[0] == part.Pins[1] {
			continue
		}
		p.used[i] = true
		c := column{nodes: slices.Clone(part.Pins), parts: []int{i}}
		for range 2 { // onwards from its last node, then, turned round, from its first
			for last := c.nodes[len(c.nodes)-1]; !stop(last) && last != c.nodes[0]; last = c.nodes[len(c.nodes)-1] {
				next := p.ends[last][0]
				if p.used[next.part] {
					next = p.ends[last][1]
				}
				if p.used[next.part] {
					break
				}
				p.used[next.part] = true
				c.nodes, c.parts = append(c.nodes, next.far), append(c.parts, next.part)
			}
			slices.Reverse(c.nodes)
			slices.Reverse(c.parts)
		}
		p.columns = append(p.columns, c)
	}
}
