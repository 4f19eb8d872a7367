package content

import (
	"fmt"
	"strings"

	"nospark/scenarios/handout"
)

// CircuitWords tell a circuit part by part: what each of its pins is wired to. Wires are parts too.
func CircuitWords(d handout.Diagram) []string {
	var all []string
	for _, p := range d.Parts {
		var pins []string
		for i, node := range p.Pins {
			pin := ""
			if i < len(p.PinNames) && p.PinNames[i] != "" {
				pin = p.PinNames[i] + " "
			}
			pins = append(pins, pin+"at "+nodeName(d.Nodes[node]))
		}
		name := p.Label
		if name == "" {
			name = p.Kind
		}
		all = append(all, name+": "+strings.Join(pins, ", "))
	}
	return all
}

// nodeName is a point by number and label, or what joins pins where nothing can be measured.
func nodeName(n handout.DiagramNode) string {
	switch {
	case n.Number > 0 && n.Label != "":
		return fmt.Sprintf("point %d (%s)", n.Number, n.Label)
	case n.Number > 0:
		return fmt.Sprintf("point %d", n.Number)
	case n.Label != "":
		return n.Label
	case n.Ground:
		return "ground"
	}
	return "joint " + n.ID
}
