package diagram

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"nospark/printouts/vector"
	"nospark/scenarios/handout"
)

// inWords says of a scene what its diagram shows.
func inWords(s vector.Scene, d handout.Diagram) vector.Scene {
	s.Title, s.Description, s.Table = "Circuit diagram", described(d), connections(d)
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
		"The table of parts and connections says the same in words.", parts, points)
}

// connections lists every part and wire with what its terminals are connected to.
func connections(d handout.Diagram) vector.Table {
	t := vector.Table{Heads: []string{"part", "kind", "connected to"}}
	for i := range d.Parts {
		p := &d.Parts[i]
		var pins []string
		for pin, node := range p.Pins {
			to := nodeName(d.Nodes[node])
			if n := name(p, pin); n != "" && len(p.Pins) > 2 {
				to = n + " at " + to
			}
			pins = append(pins, to)
		}
		called := p.Label
		if called == "" {
			called = p.ID
		}
		t.Rows = append(t.Rows, []string{called, p.Kind, strings.Join(pins, "; ")})
	}
	return t
}

// nodeName names a node for somebody who does not see it.
func nodeName(n handout.DiagramNode) string {
	called := n.Label
	if called == "" {
		called = strings.NewReplacer("_", " ", "-", " ").Replace(n.ID)
	}
	if n.Number > 0 {
		return strings.TrimSuffix(fmt.Sprintf("point %d, %s", n.Number, called), ", ")
	}
	return called
}

// conductor reports whether a part is nothing but a line.
func conductor(kind string) bool { return kind == "wire" || kind == "lead" }

// lowHigh is the lowest and the highest value of a trace between two places of its horizontal axis; ok is false where
// it has none.
func lowHigh(p handout.Plot, from, to float64) (low, high float64, ok bool) {
	low, high = math.Inf(1), math.Inf(-1)
	for i := range min(len(p.X), len(p.Y)) {
		if p.X[i] >= from && p.X[i] <= to && !math.IsNaN(p.Y[i]) {
			low, high = min(low, p.Y[i]), max(high, p.Y[i])
		}
	}
	return low, high, low <= high
}

// describedTrace says in two sentences what a trace shows.
func describedTrace(p handout.Plot) string {
	axes := p.YLabel + " over " + p.XLabel + ", from " + figure(p.XFrom) + " to " + figure(p.XTo) + "."
	low, high, ok := lowHigh(p, p.XFrom, p.XTo)
	if !ok {
		return axes + " There is no trace."
	}
	return axes + " The trace lies between " + figure(low) + " and " + figure(high) + "."
}

// samples gives the lowest and the highest value of a trace in every division.
func samples(p handout.Plot) vector.Table {
	t := vector.Table{Heads: []string{p.XLabel, p.YLabel + ": lowest", "highest"}}
	n := divisions(p.XFrom, p.XTo, p.XPerDivision)
	for i := range n {
		from := p.XFrom + float64(i)*p.XPerDivision
		low, high, ok := lowHigh(p, from, from+p.XPerDivision)
		row := []string{figure(from) + " to " + figure(from+p.XPerDivision), "", ""}
		if ok {
			row[1], row[2] = figure(low), figure(high)
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}

// figure prints a value with three digits, as much as an eye reads off a screen.
func figure(v float64) string {
	v, _ = strconv.ParseFloat(strconv.FormatFloat(v, 'g', 3, 64), 64) // without an exponent below
	return strconv.FormatFloat(v, 'f', -1, 64)
}

// divisions is the number of divisions on an axis, 0 where there is no valid scale or one too fine to see.
func divisions(from, to, per float64) int {
	n := int(math.Round((to - from) / per))
	if !(per > 0) || n > 50 {
		return 0
	}
	return n
}
