// Package netlist writes the circuits behind a vehicle's readings for SPICE, so that nobody has to believe them.
package netlist

import (
	"bufio"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"nospark/scenarios/circuit"
	"nospark/scenarios/pack"
	"nospark/scenarios/pack/cards"
	"nospark/scenarios/vehicle"
)

// How the phases become one netlist: SPICE takes one circuit at a time, so the phases stand side by side as subcircuits
// that share nothing but ground, each with its own meter, and a behavioral source puts their voltages together to the
// reading.

// Write writes the circuits behind a condition's readings as one file that ngspice runs as it is (ngspice -b FILE).
// title is its first line.
//
// Each settled phase is a subcircuit with the operating point as solved, comments tell its situation and its share of
// time. With a test (an index into the pack's Tests, -1 for none) the meter is in place in every phase that the
// instrument looks at, and the node "reading" has the true reading in volts, ohms or amperes. Instruments that show
// something else than a voltage, current or resistance get a comment that says how the reading follows. The lamps are
// part of the circuit: their phases are those of the vehicle with the lamp in place, and the node "reading" has the
// lamp's mean voltage.
//
// Errors: those of vehicle.Circuits and the writer's.
func Write(w io.Writer, title string, p *pack.Pack, v *vehicle.Vehicle, condition, test int) error {
	c, err := v.Circuits(condition, test)
	if err != nil {
		return err
	}
	b := &export{p: p, condition: condition, Circuits: c}
	out := bufio.NewWriter(w)
	line := func(format string, args ...any) { fmt.Fprintf(out, format+"\n", args...) }
	line("%s", circuit.OneLine(title))
	b.preface(line)
	var terms []term
	for k := range b.Phases {
		t, err := b.phase(line, k+1, &b.Phases[k])
		if err != nil {
			return err
		}
		terms = append(terms, t)
	}
	if len(b.Phases) > 0 && b.Test != nil {
		if lines := b.sum(terms); lines != nil {
			line("*\n* the reading")
			for _, s := range lines {
				line("%s", s)
			}
		}
	}
	line(".op\n.end")
	return out.Flush()
}

// export is what goes into one file.
type export struct {
	*vehicle.Circuits
	p         *pack.Pack
	condition int
}

// preface writes the comments on the whole.
func (b *export) preface(line func(string, ...any)) {
	line("* pack %s, version %d, condition %s", b.p.Name, b.p.Version, b.p.Conditions[b.condition].ID)
	if b.RPM > 0 {
		line("* engine %.6g 1/min, sensor %.6g pulses/s, each coil fires %.6g times/s", b.RPM, b.Pulses, b.Firing)
	}
	line("* run it with: ngspice -b FILE")
	line("*")
	line("* Every phase is a subcircuit and an operating point of its own. The shares of time say what it")
	line("* counts in an average; an instant has no share, but hold functions, counters and peak ammeters see it.")
	for k := range b.Phases {
		ph, share := &b.Phases[k], "instant "
		if ph.Share > 0 {
			share = strconv.FormatFloat(ph.Share, 'f', 6, 64)
		}
		line("*   p%-3d %s  %s", k+1, share, ph.Situation)
	}
	line("*\n* nodes that leads reach; 0 is %s", b.p.Nodes[b.p.Reference].ID)
	for i, name := range b.names() {
		if name != "0" {
			line("*   %-24s %s", name, circuit.OneLine(b.p.Nodes[i].Label))
		}
	}
	if b.Test != nil {
		line("*\n* test %s: %s", b.Test.ID, circuit.OneLine(b.Test.Label))
		line("* instrument %s, reading %s", b.Test.Instrument.ID, b.value())
		for _, s := range b.recipe() {
			line("* %s", s)
		}
	}
}

// names are the nodes' names in the netlist, by test point: those that a short joins share one.
func (b *export) names() []string {
	all, list := b.Phases[0].Netlist.SPICENodes(), make([]string, len(b.Points))
	for i, n := range b.Points {
		list[i] = all[n]
	}
	return list
}

// term is what a phase adds to the reading: an expression of its voltage or current, and its share.
type term struct {
	text  string
	share float64
}

// phase writes one phase as a subcircuit with its instance and its meter.
func (b *export) phase(line func(string, ...any), k int, p *vehicle.Phase) (term, error) {
	names := p.Netlist.SPICENodes()
	var touched []string
	if b.Measured {
		touched = []string{names[b.Red], names[b.Black]}
	}
	body, err := p.Netlist.SPICECards(touched...)
	if err != nil {
		return term{}, err
	}
	line("*\n* p%d: %s", k, p.Situation)
	var ports, wires []string
	port := func(inner, outer string) string {
		if inner == "0" {
			return "0"
		}
		for i := range ports {
			if ports[i] == inner {
				return wires[i]
			}
		}
		ports, wires = append(ports, inner), append(wires, outer)
		return outer
	}
	out, number := term{"0", p.Share}, strconv.Itoa(k)
	a, z := "", ""
	switch {
	case b.Measured:
		a, z = port(names[b.Red], "red"+number), port(names[b.Black], "black"+number)
	case b.Test != nil && b.Test.Instrument.ID == "ammeter":
		if card := probe(&p.Netlist, p.Part, body); card != "" {
			body = append(body, card)
			a, z = port("amps", "amps"+number), "0"
		}
	}
	// A subcircuit without a terminal is none for SPICE.
	if len(ports) == 0 {
		ports, wires = []string{"free"}, []string{"free" + number}
		body = append(body, "Rfree free 0 1")
	}
	line(".subckt p%d %s", k, strings.Join(ports, " "))
	for _, s := range body {
		line("%s", s)
	}
	line(".ends")
	line("X%d %s p%d", k, strings.Join(wires, " "), k)
	if a != "" && (!b.Measured || p.Joined) {
		out.text = between(a, z)
	}
	if b.Measured {
		b.meter(line, k, p, a, z, wires, &out)
	}
	return out, nil
}

// meter writes what loads the leads.
func (b *export) meter(line func(string, ...any), k int, p *vehicle.Phase, a, z string, wires []string, out *term) {
	switch id := b.Test.Instrument.ID; {
	case id == "test-lamp" || id == "load-lamp": // in the subcircuit
	case id == "ohmmeter" && len(b.Phases) == 1 && b.Reading.Phrase == "":
		// 1 A through the circuit, less what is there without it: volts are ohms
		idle := strings.NewReplacer("red", "idlered", "black", "idleblack")
		line("Iohmmeter %s %s DC 1", z, a)
		line("Xidle %s p%d", idle.Replace(strings.Join(wires, " ")), k)
		out.text = between(a, z) + "-(" + between(idle.Replace(a), idle.Replace(z)) + ")"
	case !p.Joined:
		line("* no path joins the leads: a meter shows 0")
	case a != z:
		line("Rmeter%d %s %s %g", k, a, z, vehicle.MeterOhms)
	}
}

// between is the voltage of a above b as an expression.
func between(a, b string) string {
	switch {
	case a == b:
		return "0"
	case a == "0":
		return "-V(" + b + ")"
	case b == "0":
		return "V(" + a + ")"
	}
	return "V(" + a + "," + b + ")"
}

// probe is a card that turns the current of an element into a voltage at "amps"; "" when the element has no card, being
// open or a short.
func probe(n *circuit.Netlist, e circuit.Element, body []string) string {
	if e < 0 {
		return ""
	}
	name := n.SPICEElement(e)
	for _, s := range body {
		f := strings.Fields(s)
		switch {
		case len(f) < 4 || f[0] != name:
		case name[0] == 'R':
			return fmt.Sprintf("Bamps amps 0 V = (%s)/%s", between(f[1], f[2]), f[3])
		case name[0] == 'V':
			return fmt.Sprintf("Bamps amps 0 V = I(%s)", name)
		}
	}
	return ""
}

// sum puts the phases together to the reading; nil where that is no matter of volts.
func (b *export) sum(terms []term) []string {
	fold := func(each, join string) []string {
		lines := []string{"Breading reading 0 V ="}
		for i, t := range terms {
			s := fmt.Sprintf(each, t.text)
			if join == "+" {
				s = strconv.FormatFloat(t.share, 'g', -1, 64) + "*" + s
			}
			if i > 0 {
				s = join + " " + s
			}
			lines = append(lines, "+ "+s)
		}
		return lines
	}
	nest := func(f, each string) []string {
		s := fmt.Sprintf(each, terms[0].text)
		for _, t := range terms[1:] {
			s = f + "(" + s + "," + fmt.Sprintf(each, t.text) + ")"
		}
		return []string{"Breading reading 0 V = " + s}
	}
	switch b.Test.Instrument.ID {
	case "voltmeter", "loaded-drop":
		return fold("(%s)", "+")
	case "test-lamp", "load-lamp":
		lines := fold("(%s)^2", "+")
		lines[0] += " sqrt(0"
		lines[1] = "+ + " + strings.TrimPrefix(lines[1], "+ ")
		lines[len(lines)-1] += ")"
		return lines
	case "max-hold":
		return nest("max", "(%s)")
	case "min-hold":
		return nest("min", "(%s)")
	case "ammeter":
		return nest("max", "abs(%s)")
	case "ohmmeter":
		if b.Reading.Phrase == "" {
			return nest("max", "(%s)")
		}
	case "ac-voltmeter":
		return b.effective(terms)
	}
	return nil
}

// effective is the ac voltmeter's: of a pickup's two peaks, or the root of the mean square about the mean.
func (b *export) effective(terms []term) []string {
	if terms[0].share == 0 {
		return []string{fmt.Sprintf("Breading reading 0 V = abs((%s)-(%s))/%.17g", terms[0].text, terms[1].text,
			2*math.Sqrt2)}
	}
	mean, square := "Bmean mean 0 V = 0", "Breading reading 0 V = sqrt(0"
	for _, t := range terms {
		share := strconv.FormatFloat(t.share, 'g', -1, 64)
		mean += "\n+ + " + share + "*(" + t.text + ")"
		square += "\n+ + " + share + "*((" + t.text + ")-V(mean))^2"
	}
	return []string{mean, square + ")"}
}

// recipe says how the reading follows from the phases.
func (b *export) recipe() []string {
	switch b.Test.Instrument.ID {
	case "loaded-drop":
		return []string{fmt.Sprintf("The lamp is in the circuit with the %.4g ohm that it has at its own voltage; "+
			"the mean",
			b.LampOhms),
			"voltage across the path: node \"reading\", volts."}
	case "voltmeter":
		return []string{fmt.Sprintf("The mean over the phases through %g ohm: node \"reading\", volts.",
			vehicle.MeterOhms)}
	case "ac-voltmeter":
		return []string{"The effective value about the mean; of a pickup's sine its peak over the square root of 2: " +
			"node \"reading\", volts."}
	case "max-hold", "min-hold":
		return []string{"The extreme of what lasts a millisecond: node \"reading\", volts."}
	case "ammeter":
		return []string{"The highest current of the instants in the part: node \"reading\", amperes as volts."}
	case "ohmmeter":
		if b.Reading.Phrase != "" {
			return []string{fmt.Sprintf("Some instant has more than %g V between the leads.", vehicle.LiveVolts)}
		}
		return []string{"1 A between the leads, less the voltage without it: node \"reading\", ohms as volts.",
			fmt.Sprintf("%g ohm and more are %s; the islands of an open circuit hang on %g ohm here.",
				vehicle.OhmmeterLimit,
				cards.OverRange, circuit.IslandLeakOhms)}
	case "test-lamp", "load-lamp":
		return []string{fmt.Sprintf("The lamp is in the circuit with the %.4g ohm that it has at its own voltage; "+
			"its effective",
			b.LampOhms),
			fmt.Sprintf("voltage is the node \"reading\". Light goes with V^3.4: beside the same lamp at the battery "+
				"%g %% are bright,",
				100*vehicle.BrightShare),
			fmt.Sprintf("%g %% dim, %g %% very dim, less is dark.", 100*vehicle.DimShare, 100*vehicle.DarkShare)}
	case "frequency", "duty":
		return []string{fmt.Sprintf("Between the instants the voltage must swing by %g V; then the sensor's or the "+
			"coils' pulses count.",
			vehicle.CounterSwing)}
	case "spark-tester", "kv-available", "kv-required", "scan-misfire":
		return []string{"Follows from the coil's current when its switch opens, " +
			"the closed form of the secondary and the gap's breakdown."}
	case cards.ScopeCurrent, cards.ScopeSecondary, cards.ScopeSignal, cards.ScopeWave:
		return []string{"What the picture shows beside that of a vehicle known to be good."}
	case "scan-speed", "scan-ect", "scan-iat":
		return []string{"Follows from the voltages at the controller's pins."}
	}
	return []string{"No matter of voltages."}
}

// value writes the reading in SI units.
func (b *export) value() string {
	switch {
	case b.Reading.Phrase != "":
		return b.Reading.Phrase
	case math.IsInf(b.Reading.Number, 1):
		return cards.OverRange
	}
	return fmt.Sprintf("%.12g %s", b.Reading.Number, b.Test.Instrument.SI)
}
