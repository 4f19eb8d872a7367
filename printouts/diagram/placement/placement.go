package placement

import (
	"slices"

	"nospark/scenarios/handout"
)

// boxKind is the kind of a part that is drawn as a box, whatever it was.
const boxKind = "box"

// partHigh is the room of a two-pin part in its column, grid squares.
const partHigh = 2.0

// placement is the state of finding places.
type placement struct {
	out     handout.Diagram
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

// column is a chain of two-pin parts, upright. nodes has one more than parts.
type column struct {
	nodes []int
	parts []int
}

// upper and lower are the ends of a column.
func (c *column) upper() int    { return c.nodes[0] }
func (c *column) lower() int    { return c.nodes[len(c.nodes)-1] }
func (c *column) high() float64 { return partHigh * float64(len(c.parts)) }

func (c *column) turn() {
	slices.Reverse(c.nodes)
	slices.Reverse(c.parts)
}

func newPlacement(d handout.Diagram, isBox func(handout.DiagramPart) bool) *placement {
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
	p.out.Nodes = append(p.out.Nodes, handout.DiagramNode{})
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
	p.out.Parts = append(p.out.Parts, handout.DiagramPart{Kind: kind, Pins: []int{a, b}})
	return len(p.out.Parts) - 1
}

// heights gives every node its height: that of the mean of what it is joined to, as voltages would settle if all parts
// were the same resistor.
func heights(d handout.Diagram) []float64 {
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
