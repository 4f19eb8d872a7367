package circuit

import (
	"bufio"
	"bytes"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"
)

// IslandLeakOhms is the resistor that WriteSPICE puts between 0 and the first
// node of every island. Being an island's only path it carries no current, so
// voltages within the island stay as they are.
const IslandLeakOhms = 1e12

// WriteSPICE writes the netlist for any SPICE descended from version
// 3: a title line, one card per element, the extra lines as they are (say, a
// meter as a resistor between nodes named by SPICENodes), .op and .end.
//
// SPICE solves neither resistors of 0 ohms nor loops of ideal sources nor
// circuits without a path to ground. Therefore nodes joined by shorts are
// written as one, shorts, open elements and sources that only repeat a voltage
// become comments, and every island leaks to ground through IslandLeakOhms. A
// meter between islands reads 0 by the rules of this package; in SPICE the
// leaks let it see up to its own resistance over IslandLeakOhms of the voltages
// around it. Nor does a leak hold an island firmly: the rounding of a SPICE may
// lift an island of milliohms as a whole by some millivolts, the voltages
// within it being right.
//
// Errors are those of the writer and of parameters out of range.
func (n *Netlist) WriteSPICE(w io.Writer, title string, extra ...string) error {
	if err := n.check(); err != nil {
		return err
	}
	d := spiceWriter{out: bufio.NewWriter(w), names: n.SPICENodes()}
	d.linef("%s", OneLine(title))
	d.comment("node 0 is the reference; a node's name begins with its number")
	for a := 1; a < n.Nodes(); a++ {
		d.comment("%s = %s", d.names[a], strconv.QuoteToASCII(n.names[a]))
	}
	ideal := n.idealLoops()
	for i := range n.elements {
		d.card(i, &n.elements[i], ideal[i])
	}
	islands := n.islandTies()
	for a := Node(1); a < Node(n.Nodes()); a++ {
		if first := islands.find(a); first != a {
			continue
		}
		d.comment("no path leads from %s to the reference: hold it there", d.names[a])
		d.linef("Rleak%d %s 0 %s", a, d.names[a], number(IslandLeakOhms))
	}
	for _, line := range extra {
		d.linef("%s", line)
	}
	d.linef(".op")
	d.linef(".end")
	return d.out.Flush()
}

// SPICECards gives the lines of WriteSPICE between title and analysis, for a
// subcircuit: without the names of the nodes and without the leaks of nodes that
// nothing else touches. SPICE wants none of those, unless a lead is put there;
// leads are names of SPICENodes.
func (n *Netlist) SPICECards(leads ...string) ([]string, error) {
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

// SPICENodes returns by node the name that WriteSPICE uses: "0" for the
// Reference, else n, the number of the node and what is left of its name.
// Nodes joined by shorts share the name of the first of them.
func (n *Netlist) SPICENodes() []string {
	var shorts ties
	shorts.reset(n.Nodes())
	for i := range n.elements {
		if e := &n.elements[i]; e.kind == resistor && e.isIdeal() {
			shorts.tie(e.a, e.b)
		}
	}
	names := make([]string, n.Nodes())
	names[0] = "0"
	for a := 1; a < len(names); a++ {
		if first := shorts.find(Node(a)); first != Node(a) {
			names[a] = names[first]
		} else {
			names[a] = safeName("n", a, n.names[a])
		}
	}
	return names
}

// SPICEElement is the name of an ideal source's card without regard to case,
// for asking a SPICE for its current.
func (n *Netlist) SPICEElement(e Element) string {
	letters := [...]string{resistor: "R", source: "V", current: "I"}
	return safeName(letters[n.elements[e].kind], int(e), n.elements[e].name)
}

// idealLoops marks ideal sources whose voltage others already hold.
func (n *Netlist) idealLoops() []bool {
	var sets ties
	sets.reset(n.Nodes())
	redundant := make([]bool, len(n.elements))
	for _, k := range [...]kind{resistor, source} {
		for i := range n.elements {
			if e := &n.elements[i]; e.kind == k && e.isIdeal() {
				joined := sets.tie(e.a, e.b)
				redundant[i] = !joined
			}
		}
	}
	return redundant
}

// spiceWriter writes lines. Errors stay in the buffered writer until it is flushed.
type spiceWriter struct {
	out   *bufio.Writer
	names []string
}

func (d *spiceWriter) linef(format string, args ...any) { fmt.Fprintf(d.out, format+"\n", args...) }

func (d *spiceWriter) comment(format string, args ...any) { d.linef("* "+format, args...) }

// card writes element i, preceded by its real name as a comment.
func (d *spiceWriter) card(i int, e *element, redundant bool) {
	a, b := d.names[e.a], d.names[e.b]
	quoted := strconv.QuoteToASCII(e.name)
	switch {
	case e.kind != current && math.IsInf(e.ohms, 1):
		d.comment("%s is open: %s to %s", quoted, a, b)
	case e.kind == resistor && e.isIdeal():
		d.comment("%s is a short: its nodes are one, %s", quoted, a)
	case redundant:
		d.comment("%s repeats the voltage %s between %s and %s", quoted, number(e.value), a, b)
	case a == b && e.kind != source:
		d.comment("%s begins and ends at %s", quoted, a)
	case e.kind == resistor:
		d.comment("%s", quoted)
		d.linef("%s %s %s %s", safeName("R", i, e.name), a, b, number(e.ohms))
	case e.kind == current:
		d.comment("%s", quoted)
		d.linef("%s %s %s DC %s", safeName("I", i, e.name), a, b, number(e.value))
	case e.isIdeal():
		d.comment("%s", quoted)
		d.linef("%s %s %s DC %s", safeName("V", i, e.name), a, b, number(e.value))
	default:
		inner := "m" + strconv.Itoa(i)
		d.comment("%s with its series resistance", quoted)
		d.linef("%s %s %s DC %s", safeName("V", i, e.name), a, inner, number(e.value))
		d.linef("%s %s %s %s", safeName("R", i, e.name), inner, b, number(e.ohms))
	}
}

// number writes a value so that reading it back gives the same value.
func number(x float64) string { return strconv.FormatFloat(x, 'g', -1, 64) }

// safeName makes a name that any SPICE accepts: the letter that says what it
// is, a number that makes it unique, and the ASCII letters and digits of the
// real name, which are for the reader only.
func safeName(letter string, i int, name string) string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s%d", letter, i)
	gap := true
	for _, c := range strings.ToLower(name) {
		if b.Len() >= 24 {
			break
		}
		if c >= 'a' && c <= 'z' || c >= '0' && c <= '9' {
			if gap {
				b.WriteByte('_')
				gap = false
			}
			b.WriteByte(byte(c))
		} else {
			gap = true
		}
	}
	return b.String()
}

// OneLine replaces everything in a title or a comment of a netlist that could end its line or is not ASCII.
func OneLine(s string) string {
	return strings.Map(func(c rune) rune {
		if c < ' ' || c > '~' {
			return ' '
		}
		return c
	}, s)
}
