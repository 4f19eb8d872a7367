package lab

import (
	"slices"

	"nospark/scenarios/pack"
)

// Need is a test point on which a part depends.
type Need struct {
	Point int    // index into Lab.Points
	What  string // "feed", "ground", "reference voltage" or "input"
}

// needs says of each pin of a part kind what it brings to the part. Pins without an entry put something out, and a kind
// without one only leads on what it gets: wires, leads, plugs, a distributor. Of a part with two ends the first is
// taken for that of the feed.
var needs = map[string]map[string]string{
	"starter":           {"+": "feed", "-": "ground"},
	"fuse":              {"a": "feed"},
	"switch":            {"a": "feed"},
	"resistor":          {"a": "feed", "b": "ground"},
	"motor":             {"+": "feed", "-": "ground"},
	"filament":          {"a": "feed", "b": "ground"},
	"relay":             {"coil_a": "feed", "coil_b": "ground", "common": "feed"},
	"potentiometer":     {"reference": "reference voltage", "ground": "ground"},
	"ntc":               {"b": "ground"},
	"coil":              {"+": "feed"},
	"twin-coil":         {"+": "feed"},
	"module":            {"feed": "feed", "ground": "ground", "trigger": "input", "command": "input"},
	"driver":            {"feed": "feed", "ground": "ground", "command": "input"},
	"driver-2":          {"feed": "feed", "ground": "ground", "command_a": "input", "command_b": "input"},
	"pencil-coil":       {"feed": "feed", "ground": "ground", "command": "input"},
	"hall":              {"feed": "feed", "ground": "ground"},
	"controller":        controllerNeeds,
	"controller-2":      controllerNeeds,
	"controller-4":      controllerNeeds,
	"controller-pickup": controllerNeeds,
}

var controllerNeeds = map[string]string{"feed": "feed", "ground": "ground", "sync": "input", "sync_minus": "input",
	"ect": "input", "iat": "input"}

// Brings says what pin i of a part brings to it: "feed", "ground", "reference voltage" or "input"; "" for a pin that
// puts something out or leads on. A second end where the pack has a feed brings nothing: behind a ballast resistor it
// is what the part puts out.
func Brings(p *pack.Pack, part *pack.Part, i int) string {
	if i >= len(part.Kind.Pins) { // further terminals of a distributor
		return ""
	}
	name := part.Kind.Pins[i]
	if role := p.Nodes[part.Pins[i]].Role; name == "b" && role != pack.RoleGround && role != pack.RoleNone {
		return ""
	}
	return needs[part.Kind.Name][name]
}

// needsOf lists the own feed, ground and inputs of a part, as far as a lead reaches them, in the order of its pins.
func needsOf(p *pack.Pack, part *pack.Part) []Need {
	var list []Need
	for i, pin := range part.Pins {
		if pin >= p.Points || slices.ContainsFunc(list, func(n Need) bool { return n.Point == pin }) {
			continue
		}
		if what := Brings(p, part, i); what != "" {
			list = append(list, Need{pin, what})
		}
	}
	return list
}
