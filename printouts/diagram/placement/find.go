package placement

import "nospark/scenarios/handout"

// Find gives a diagram with places. One that has places stays as it is. isBox tells the parts that are drawn as a box
// with pins; all others have two pins. What the diagram gets in addition stands at the end: nodes without a name that
// stand for others elsewhere, and lines that join these.
func Find(d handout.Diagram, isBox func(handout.DiagramPart) bool) handout.Diagram {
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
