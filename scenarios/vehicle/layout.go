package vehicle

import (
	"slices"
	"strings"
	"sync"

	"nospark/scenarios/circuit"
	"nospark/scenarios/pack"
	"nospark/scenarios/pack/cards"
)

// layout is what a pack's topology alone tells; it is computed once and shared by all vehicles of the pack.
type layout struct {
	p           *pack.Pack
	node        []circuit.Node // by pack node: its number in every netlist
	kinds       []string       // by part: how it behaves
	nodes       int            // of every netlist, the reference included
	inner       []circuit.Node // by part: the node between coil and driver of a pencil coil; nowhere for others
	names       [][tags]string // by part: what its elements are called in a netlist
	highTension [][]bool       // by part and parameter: matters to the high-tension side only
	channels    []channel
	towers      []way  // by pack node: how the secondary reaches it; nil parts where it does not
	same        []int  // by condition: the first one that differs in nothing but its name and what it provokes
	lowTension  []bool // by test: its reading does not depend on the high-tension side
	cylinders   int
	plugs       []int // parts, in the order of the pack: cylinder 1, 2, ...
	starter     int   // part, -1 for none
	control     int   // the controller, -1 for none
	sensor      int   // what gives the controller its sync, -1 for none

	sound     sync.Once // soundAmps are computed once, when a complaint first asks for them
	soundAmps []float64 // by part: highest mean current in the healthy vehicle
	known     knownGood
}

// channel is one coil and what switches it.
type channel struct {
	driver  int          // part: a module, or the pencil coil itself
	output  int          // which of the driver's outputs, from 1
	coil    int          // part
	command int          // pack node, -1 when the driver needs none
	source  int          // which of the controller's commands leads to it, from 0; -1 for none
	out     circuit.Node // of the switch
}

// way is the high-tension path from a tower to a node.
type way struct {
	channel  int   // index into channels, -1: no tower reaches the node
	tower    int   // pack node it starts from
	parts    []int // leads and distributor on the way, from the tower
	terminal int   // distributor terminal used, 0 for none
}

func newLayout(p *pack.Pack) *layout {
	l := &layout{p: p, node: numbers(p), starter: -1, control: -1, sensor: -1}
	next := circuit.Node(len(p.Nodes)) // the pack's nodes without the reference are 1 to len-1
	for i := range p.Parts {
		kind := p.Parts[i].Kind.Behaves()
		l.inner = append(l.inner, nowhere)
		if kind == "pencil-coil" {
			l.inner[i] = next
			next++
		}
		l.kinds = append(l.kinds, kind)
		l.names = append(l.names, elementNames(p.Parts[i].ID))
		l.highTension = append(l.highTension, highTensionParams(p.Parts[i].Kind))
		switch kind {
		case "starter":
			l.starter = i
		case "controller":
			l.control = i
		case "hall", "pickup":
			l.sensor = i
		case "plug":
			l.plugs = append(l.plugs, i)
		}
	}
	l.nodes, l.cylinders = int(next), len(l.plugs)
	for _, c := range p.Conditions {
		same := func(o pack.Condition) bool { return operated(o) == operated(c) }
		l.same = append(l.same, slices.IndexFunc(p.Conditions, same))
	}
	for i := range p.Parts {
		switch l.kinds[i] {
		case "module":
			l.addChannels(i)
		case "pencil-coil":
			l.channels = append(l.channels, channel{driver: i, output: 1, coil: i, command: l.pin(i, "command"),
				out: l.inner[i]})
		}
	}
	for i := range p.Tests {
		l.lowTension = append(l.lowTension, isLowTension(p, &p.Tests[i]))
	}
	l.findSources()
	l.findWays()
	return l
}

// isLowTension tells whether a test reads the same whatever changes on the high-tension side, once its condition is
// reached. A load or a part taken off may stop a running engine, which depends on sparks.
func isLowTension(p *pack.Pack, t *pack.Test) bool {
	switch t.Instrument.ID {
	case "voltmeter", "loaded-drop", "ac-voltmeter", "max-hold", "min-hold", "frequency", "duty", "ammeter", "ohmmeter",
		"test-lamp", "load-lamp", "timing-light", "scan-speed", "scan-ect", "scan-iat", cards.ScopeCurrent,
		cards.ScopeSignal, cards.ScopeWave:
	default:
		return false
	}
	loads := len(t.Unplug) > 0 || strings.HasSuffix(t.Instrument.ID, "lamp") || t.Instrument.ID == "loaded-drop"
	return !loads || !p.Conditions[t.Condition].Running()
}

// operated is a condition without its name and without what it provokes.
func operated(c pack.Condition) pack.Condition {
	c.ID, c.Label, c.Provoke, c.Line = "", "", "", 0
	return c
}

// A tag tells the elements of one part apart.
type tag uint8

const (
	whole tag = iota
	lower
	winding
	primary
	inductance
	secondaryTag
	supply
	output
	refTag
	pullTag
	input
	command
	tags
)

// elementNames are made once per pack, because netlists are built by the thousand.
func elementNames(id string) [tags]string {
	suffix := [tags]string{whole: "", lower: " lower", winding: " winding", primary: " primary",
		inductance:   " inductance",
		secondaryTag: " secondary", supply: " supply", output: " output", refTag: " reference", pullTag: " pull-up",
		input:   " input",
		command: " command"}
	for i := range suffix {
		suffix[i] = id + suffix[i]
	}
	return suffix
}

// highTensionParams tells which parameters of a kind neither a netlist nor the charging of a coil depends on.
func highTensionParams(k *cards.Kind) []bool {
	var names []string
	switch k.Behaves() {
	case "plug":
		names = []string{"gap_mm", "electrode_factor"}
	case "lead":
		names = []string{"leak_megohms"}
	case "distributor":
		names = []string{"rotor_gap_mm", "rotor_leak_megohms", "cap_leak_megohms", "leak_terminal", "open_terminal"}
	case "coil", "pencil-coil", "module":
		names = []string{"turns_ratio", "secondary_picofarads", "transfer", "leak_megohms", "clamp_volts"}
	}
	highTension := make([]bool, len(k.Params))
	for i, p := range k.Params {
		highTension[i] = slices.Contains(names, p.Name)
	}
	return highTension
}

// numbers gives every pack node its place in the netlists: the reference is 0, the others follow in order.
func numbers(p *pack.Pack) []circuit.Node {
	node := make([]circuit.Node, len(p.Nodes))
	next := circuit.Node(1)
	for i := range node {
		if i == p.Reference {
			node[i] = circuit.Reference
			continue
		}
		node[i] = next
		next++
	}
	return node
}

// pin gives the pack node of a part's pin by name, -1 when the part lacks it.
func (l *layout) pin(part int, name string) int {
	pt := &l.p.Parts[part]
	for i, n := range pt.Kind.Pins {
		if n == name && i < len(pt.Pins) {
			return pt.Pins[i]
		}
	}
	return -1
}

// addChannels pairs every output of a driver with the coil that its wires lead to.
func (l *layout) addChannels(driver int) {
	output := 0
	for i, name := range l.p.Parts[driver].Kind.Pins {
		suffix, is := strings.CutPrefix(name, "out")
		if !is || i >= len(l.p.Parts[driver].Pins) {
			continue
		}
		output++
		out := l.p.Parts[driver].Pins[i]
		if coil := l.coilAt(out); coil >= 0 {
			l.channels = append(l.channels, channel{driver: driver, output: output, coil: coil,
				command: l.pin(driver, "command"+suffix), out: l.node[out]})
		}
	}
}

// findSources pairs every channel with the output of the controller whose wires lead to its command. Where something
// else than wires lies between, the order of the pins has to do.
func (l *layout) findSources() {
	for k := range l.channels {
		ch := &l.channels[k]
		ch.source = -1
		if l.control < 0 || ch.command < 0 {
			continue
		}
		var outputs []int
		for i, name := range l.p.Parts[l.control].Kind.Pins {
			if strings.HasPrefix(name, "command") {
				outputs = append(outputs, l.p.Parts[l.control].Pins[i])
			}
		}
		for _, node := range l.wired(ch.command) {
			if i := slices.Index(outputs, node); i >= 0 {
				ch.source = i
			}
		}
		if ch.source < 0 && k < len(outputs) {
			ch.source = k
		}
	}
}

// coilAt follows wires and connectors from a node to the - pin of a coil; -1 when there is none.
func (l *layout) coilAt(from int) int {
	for _, node := range l.wired(from) {
		for i, kind := range l.kinds {
			if kind == "coil" && l.pin(i, "-") == node {
				return i
			}
		}
	}
	return -1
}

// wired lists the nodes that wires and connectors join to a node, itself first.
func (l *layout) wired(from int) []int {
	seen := make([]bool, len(l.p.Nodes))
	seen[from] = true
	nodes := []int{from}
	for k := 0; k < len(nodes); k++ {
		for i, kind := range l.kinds {
			if kind != "wire" && kind != "connector" {
				continue
			}
			a, b := l.p.Parts[i].Pins[0], l.p.Parts[i].Pins[1]
			for _, n := range [][2]int{{a, b}, {b, a}} {
				if n[0] == nodes[k] && !seen[n[1]] {
					seen[n[1]] = true
					nodes = append(nodes, n[1])
				}
			}
		}
	}
	return nodes
}

// findWays walks from every tower through leads and distributors.
func (l *layout) findWays() {
	l.towers = make([]way, len(l.p.Nodes))
	for i := range l.towers {
		l.towers[i].channel = -1
	}
	for c, ch := range l.channels {
		for _, pin := range []string{"tower", "tower_a", "tower_b"} {
			tower := l.pin(ch.coil, pin)
			l.walk(tower, way{channel: c, tower: tower})
		}
	}
}

func (l *layout) walk(node int, w way) {
	if node < 0 || l.towers[node].channel >= 0 {
		return
	}
	l.towers[node] = w
	for i := range l.p.Parts {
		pins := l.p.Parts[i].Pins
		next := way{channel: w.channel, tower: w.tower, parts: append(append([]int{}, w.parts...), i),
			terminal: w.terminal}
		switch {
		case l.kinds[i] == "lead" && pins[0] == node:
			l.walk(pins[1], next)
		case l.kinds[i] == "lead" && pins[1] == node:
			l.walk(pins[0], next)
		case l.kinds[i] == "distributor" && pins[0] == node:
			for t, pin := range pins[1:] {
				next.terminal = t + 1
				l.walk(pin, next)
			}
		}
	}
}

const nowhere circuit.Node = -1

// partNamed finds a part by its id, -1 when a complaint asks for something else.
func (l *layout) partNamed(id string) int {
	return slices.IndexFunc(l.p.Parts, func(p pack.Part) bool { return p.ID == id })
}

// knownGood keeps the features of the healthy vehicle's pictures. All vehicles of a pack share it.
type knownGood struct {
	sync.Mutex
	vehicle *Vehicle
	seen    map[*pack.Test]features
}
