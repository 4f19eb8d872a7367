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
		name := p.Label
		if name == "" {
			name = p.Kind
		}
		if between(p) {
			all = append(all, fmt.Sprintf("%s: between %s and %s", name, nodeName(d.Nodes[p.Pins[0]]),
				nodeName(d.Nodes[p.Pins[1]])))
			continue
		}
		var pins []string
		for i, node := range p.Pins {
			pin := ""
			if i < len(p.PinNames) && p.PinNames[i] != "" {
				pin = pinName(p.PinNames[i]) + " "
			}
			pins = append(pins, pin+"at "+nodeName(d.Nodes[node]))
		}
		all = append(all, name+": "+strings.Join(pins, ", "))
	}
	return all
}

// pinName is a pin in words, for whoever hears them: a drawing has signs, and cards write command_1.
func pinName(name string) string {
	switch name {
	case "+":
		return "positive terminal"
	case "-":
		return "negative terminal"
	}
	return strings.ReplaceAll(name, "_", " ")
}

// between tells a part of which both ends are alike, so that their names tell nothing.
func between(p handout.DiagramPart) bool {
	return len(p.Pins) == 2 && (len(p.PinNames) < 2 || p.PinNames[0] == "a" && p.PinNames[1] == "b")
}

// nodeName is a point by number and label, or what joins pins where nothing can be measured.
func nodeName(n handout.DiagramNode) string {
	label := strings.NewReplacer("_", " ").Replace(n.Label)
	switch {
	case n.Number > 0 && label != "":
		return fmt.Sprintf("point %d (%s)", n.Number, label)
	case n.Number > 0:
		return fmt.Sprintf("point %d", n.Number)
	case n.Ground:
		return "ground"
	case label == "" || label == "joint":
		label = strings.ReplaceAll(n.ID, "_", " ")
	}
	return "a joint without a number (" + label + ")"
}
