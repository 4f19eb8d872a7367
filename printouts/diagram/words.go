package diagram

import (
	"fmt"
	"math"

	"nospark/printouts/vector"
	"nospark/scenarios/handout"
)

// inWords says of a scene what its diagram shows.
func inWords(s vector.Scene, d handout.Diagram) vector.Scene {
	s.Title, s.Description = "Circuit diagram", described(d)
	return s
}

// described says in two sentences what a diagram shows.
func described(d handout.Diagram) string {
	parts, points := 0, 0
	for _, p := range d.Parts {
		if !conductor(p.Kind) {
			parts++
		}
	}
	for _, n := range d.Nodes {
		if n.Number > 0 {
			points++
		}
	}
	return fmt.Sprintf("%d parts and the wires between them, with %d numbered test points. "+
		"The list of parts and connections says the same in words.", parts, points)
}

// conductor reports whether a part is nothing but a line.
func conductor(kind string) bool { return kind == "wire" || kind == "lead" }

// divisions is the number of divisions on an axis, 0 where there is no valid scale or one too fine to see.
func divisions(from, to, per float64) int {
	n := int(math.Round((to - from) / per))
	if !(per > 0) || n > 50 {
		return 0
	}
	return n
}
