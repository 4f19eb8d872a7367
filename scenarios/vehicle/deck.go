package vehicle

import (
	"bufio"
	"bytes"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"nospark/scenarios/circuit"
	"nospark/scenarios/pack/cards"
)

// How a book becomes one deck: SPICE takes one circuit at a time, so the phases stand side by side as subcircuits that share nothing but
// ground, each with its own meter, and a behavioural source puts their voltages together to the reading.

// write writes the deck.
func (b *book) write(w io.Writer) error {
	out := bufio.NewWriter(w)
	line := func(format string, args ...any) { fmt.Fprintf(out, format+"\n", args...) }
	line("%s", oneLine(b.title))
	b.preface(line)
	var terms []term
	for k, p := range b.pages {
		t, err := b.phase(line, k+1, p)
		if err != nil {
			return err
		}
		terms = append(terms, t)
	}
	if len(b.pages) > 0 && b.test != nil {
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

// preface writes the comments on the whole.
func (b *book) preface(line func(string, ...any)) {
	c := b.v.l.p.Conditions[b.st.setup.condition]
	line("* pack %s, version %d, condition %s", b.v.l.p.Name, b.v.l.p.Version, c.ID)
	if b.st.rpm > 0 {
		line("* engine %.6g 1/min, sensor %.6g pulses/s, each coil fires %.6g times/s", b.st.rpm, b.st.pulses, b.st.firing)
	}
	line("* run it with: ngspice -b FILE")
	line("*")
	line("* Every phase is a subcircuit and an operating point of its own. The shares of time say what it")
	line("* counts in an average; an instant has no share, but hold functions, counters and peak ammeters see it.")
	for k, p := range b.pages {
		share := "instant "
		if p.share > 0 {
			share = strconv.FormatFloat(p.share, 'f', 6, 64)
		}
		line("*   p%-3d %s  %s", k+1, share, b.situation(p))
	}
	line("*\n* nodes that leads reach; 0 is %s", b.v.l.p.Nodes[b.v.l.p.Reference].ID)
	for i, name := range b.names() {
		if name != "0" {
			line("*   %-24s %s", name, oneLine(b.v.l.p.Nodes[i].Label))
		}
	}
	if b.test != nil {
		line("*\n* test %s: %s", b.test.ID, oneLine(b.test.Label))
		line("* instrument %s, reading %s", b.test.Instrument.ID, b.value())
		for _, s := range b.recipe() {
			line("* %s", s)
		}
	}
}

// names are the nodes' names in the deck, by test point: those that a short joins share one.
func (b *book) names() []string {
	var scratch wiring
	b.v.build(&b.st.setup, &b.st.on, b.pages[0].phase, &scratch)
	all, list := b.v.net.SPICENodes(), make([]string, b.v.l.p.Points)
	for i := range list {
		list[i] = all[b.v.l.node[i]]
	}
	return list
}

// oneLine replaces what a deck cannot hold in a comment.
func oneLine(s string) string {
	return strings.Map(func(c rune) rune {
		if c < ' ' || c > '~' {
			return ' '
		}
		return c
	}, s)
}

// term is what a phase adds to the reading: an expression of its voltage or current, and its share.
type term struct {
	text  string
	share float64
}

// phase writes one phase as a subcircuit with its instance and its meter.
func (b *book) phase(line func(string, ...any), k int, p page) (term, error) {
	var scratch wiring
	b.v.build(&b.st.setup, &b.st.on, p.phase, &scratch)
	names := b.v.net.SPICENodes()
	red, black, measured := b.leads()
	var touched []string
	if measured {
		touched = []string{names[red], names[black]}
	}
	body, err := elementLines(&b.v.net, touched...)
	if err != nil {
		return term{}, err
	}
	line("*\n* p%d: %s", k, b.situation(p))
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
	out, number := term{"0", p.share}, strconv.Itoa(k)
	a, z := "", ""
	switch {
	case measured:
		a, z = port(names[red], "red"+number), port(names[black], "black"+number)
	case b.test != nil && b.test.Instrument.ID == "ammeter":
		if card := probe(&b.v.net, scratch.parts[b.test.Part], body); card != "" {
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
	if a != "" && (!measured || p.Connected(red, black)) {
		out.text = between(a, z)
	}
	if measured {
		b.meter(line, k, p, a, z, wires, &out)
	}
	return out, nil
}

// meter writes what loads the leads.
func (b *book) meter(line func(string, ...any), k int, p page, a, z string, wires []string, out *term) {
	red, black, _ := b.leads()
	switch id := b.test.Instrument.ID; {
	case id == "test-lamp" || id == "load-lamp": // in the subcircuit
	case id == "ohmmeter" && len(b.pages) == 1 && b.reading.Phrase == "":
		// 1 A through the circuit, less what is there without it: volts are ohms
		idle := strings.NewReplacer("red", "idlered", "black", "idleblack")
		line("Iohmmeter %s %s DC 1", z, a)
		line("Xidle %s p%d", idle.Replace(strings.Join(wires, " ")), k)
		out.text = between(a, z) + "-(" + between(idle.Replace(a), idle.Replace(z)) + ")"
	case !p.Connected(red, black):
		line("* no path joins the leads: a meter shows 0")
	case a != z:
		line("Rmeter%d %s %s %g", k, a, z, meterOhms)
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

// elementLines gives the lines of a netlist between title and analysis, without what the preface says once for all phases and without the leaks
// of nodes that nothing else touches. SPICE wants none of those, unless a lead is put there.
func elementLines(n *circuit.Netlist, leads ...string) ([]string, error) {
	var text bytes.Buffer
	if err := n.WriteSPICE(&text, ""); err != nil {
		return nil, err
	}
	lines := strings.Split(strings.TrimSuffix(text.String(), "\n"), "\n")
	lines = lines[2+n.Nodes()-1 : len(lines)-2]
	uses := map[string]int{}
	for _, name := range leads {
		uses[name] = 2
	}
	for _, s := range lines {
		if f := strings.Fields(s); f[0] != "*" {
			uses[f[1]]++
			uses[f[2]]++
		}
	}
	var body []string
	for i, s := range lines {
		if f := strings.Fields(s); strings.HasPrefix(s, "Rleak") && uses[f[1]] < 2 {
			body = body[:len(body)-1] // its comment
			continue
		}
		body = append(body, lines[i])
	}
	return body, nil
}

// probe is a card that turns the current of an element into a voltage at "amps"; "" when the element has no card, being open or a short.
func probe(n *circuit.Netlist, e circuit.Element, body []string) string {
	if e == none {
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
func (b *book) sum(terms []term) []string {
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
	switch b.test.Instrument.ID {
	case "voltmeter":
		return fold("(%s)", "+")
	case "test-lamp", "load-lamp":
		return fold("abs(%s)", "+")
	case "max-hold":
		return nest("max", "(%s)")
	case "min-hold":
		return nest("min", "(%s)")
	case "ammeter":
		return nest("max", "abs(%s)")
	case "ohmmeter":
		if b.reading.Phrase == "" {
			return nest("max", "(%s)")
		}
	case "ac-voltmeter":
		return b.effective(terms)
	}
	return nil
}

// effective is the ac voltmeter's: of a pickup's two peaks, or the root of the mean square about the mean.
func (b *book) effective(terms []term) []string {
	if terms[0].share == 0 {
		return []string{fmt.Sprintf("Breading reading 0 V = abs((%s)-(%s))/%.17g", terms[0].text, terms[1].text, 2*math.Sqrt2)}
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
func (b *book) recipe() []string {
	switch b.test.Instrument.ID {
	case "voltmeter":
		return []string{fmt.Sprintf("The mean over the phases through %g ohm: node \"reading\", volts.", meterOhms)}
	case "ac-voltmeter":
		return []string{"The effective value about the mean; of a pickup's sine its peak over the square root of 2: node \"reading\", volts."}
	case "max-hold", "min-hold":
		return []string{"The extreme of the instants: node \"reading\", volts."}
	case "ammeter":
		return []string{"The highest current of the instants in the part: node \"reading\", amperes as volts."}
	case "ohmmeter":
		if b.reading.Phrase != "" {
			return []string{fmt.Sprintf("Some instant has more than %g V between the leads.", liveVolts)}
		}
		return []string{"1 A between the leads, less the voltage without it: node \"reading\", ohms as volts.",
			fmt.Sprintf("%g ohm and more are %s; the islands of an open circuit hang on %g ohm here.", ohmmeterLimit, cards.OverRange, circuit.IslandLeakOhms)}
	case "test-lamp", "load-lamp":
		return []string{fmt.Sprintf("The lamp of %g ohm is in the circuit. Its mean voltage is the node \"reading\": bright from %g V, dark below %g V.",
			b.st.setup.lamp.ohms, brightVolts, darkVolts)}
	case "frequency", "duty":
		return []string{fmt.Sprintf("Between the instants the voltage must swing by %g V; then the sensor's or the coils' pulses count.", counterSwing)}
	case "spark-tester", "kv-available", "kv-required", "scan-misfire":
		return []string{"Follows from the coil's current when its switch opens, the closed form of the secondary and the gap's breakdown."}
	case "scan-speed", "scan-ect", "scan-iat":
		return []string{"Follows from the voltages at the controller's pins."}
	}
	return []string{"No matter of voltages."}
}
