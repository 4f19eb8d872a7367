package placement

import "slices"

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
