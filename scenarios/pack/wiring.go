package pack

import "slices"

// What follows asks how the parts hang together and never for their values: a fault may close what is open.

// groups numbers the nodes so that those joined by parts, whatever the parts do, have one number. Parts taken off
// join nothing.
func (p *Pack) groups(off []int) []int {
	group := make([]int, len(p.Nodes))
	for i := range group {
		group[i] = i
	}
	find := func(i int) int {
		for group[i] != i {
			group[i] = group[group[i]]
			i = group[i]
		}
		return i
	}
	for i, part := range p.Parts {
		if slices.Contains(off, i) {
			continue
		}
		for _, pin := range part.Pins {
			group[find(pin)] = find(part.Pins[0])
		}
	}
	for i := range group {
		group[i] = find(i)
	}
	return group
}

// joined tells whether some part that stays on touches the node.
func (p *Pack) joined(node int, off []int) bool {
	for i, part := range p.Parts {
		if slices.Contains(part.Pins, node) && !slices.Contains(off, i) {
			return true
		}
	}
	return false
}

// highTension tells whether a node carries the secondary's voltage. It asks the topology alone: a broken lead still
// counts.
func (p *Pack) highTension(node int) bool {
	for _, part := range p.Parts {
		if part.Kind == nil {
			continue
		}
		for i, pin := range part.Pins {
			if pin == node && part.Kind.HighTension(i) {
				return true
			}
		}
	}
	return false
}
