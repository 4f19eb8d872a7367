package diagram

import (
	"strconv"

	"nospark/printouts/vector"
	"nospark/scenarios/handout"
)

// Widths of lines, mm.
const (
	wireWidth   = 0.35
	symbolWidth = 0.4
	thickWidth  = 0.8
)

// drawing is the state of one layout.
type drawing struct {
	circuit handout.Diagram
	measure vector.Measure
	frame   vector.Rect
	grid    vector.Rect  // in grid squares
	square  vector.Point // mm per grid square, across and down
	size    float64      // mm, the unit of symbols
	radius  float64      // mm, of a numbered point

	at     []vector.Point // places of the nodes
	shapes []vector.Shape // from back to front
	texts  []text
	wires  []wire // what labels must not cross
	joints []joint
	solids []vector.Rect  // symbols, boxes and circles, which labels keep clear of
	ends   []vector.Shape // terminals of boxes, drawn over the conductors that end in them

	wanted  []label
	left    []string // labels for which there was no free place
	leaders int
	crowded int // names of terminals for which there was no free place
}

// text is a text with what it belongs to.
type text struct {
	vector.Text
	kind textKind
}

type textKind uint8

const (
	partLabel textKind = iota
	pointLabel
	pointNumber // inside its circle
	terminalName
	symbolText // inside a symbol: the M of a motor
)

// wire is a straight piece of a conductor.
type wire struct{ from, to vector.Point }

// joint is an end or a corner of a conductor, with the nets it belongs to and where it goes on from there.
type joint struct {
	at, from vector.Point
	nets     [2]int
}

// label is a text that wants a place near an object: a given one, or one on a given side, if possible.
type label struct {
	text     string
	near     vector.Rect   // the object; empty for a place on a wire
	spot     vector.Point  // middle of the object
	at       *vector.Point // asked place of the label's middle
	side     string
	inside   bool // the object is a box with room in it
	kind     textKind
	optional bool           // left out when there is no room, because the point list has it as well
	close    bool           // without a leader: the name of a wire, which nobody has to find
	styles   []vector.Style // the first that fits is the best
}

// place turns grid squares into millimeters, the circuit in the middle of the frame.
func (w *drawing) place(g [2]float64) vector.Point {
	c, m := w.frame.Center(), w.grid.Center()
	return vector.At(c.X+(g[0]-m.X)*w.square.X, c.Y-w.foot()/2+(g[1]-m.Y)*w.square.Y)
}

// reach is how far the mark of a node extends from its place.
func (w *drawing) reach(node int) float64 {
	if w.circuit.Nodes[node].Number > 0 {
		return w.radius
	}
	return 0
}

// conduct draws a conductor along the places and remembers it, so that labels stay off it and branches get a dot.
func (w *drawing) conduct(nets [2]int, draw func(...vector.Point), places ...vector.Point) {
	places = distinct(places)
	if len(places) < 2 {
		return
	}
	draw(places...)
	for i := 1; i < len(places); i++ {
		a, b := places[i-1], places[i]
		w.wires = append(w.wires, wire{a, b})
		w.joints = append(w.joints, joint{a, b, nets}, joint{b, a, nets})
	}
}

// wire is a conductor of one net drawn as a plain line.
func (w *drawing) wire(net int, places ...vector.Point) {
	w.conduct([2]int{net, net}, w.plain, places...)
}

// plain and add put paths into the scene, above all before them.
func (w *drawing) plain(places ...vector.Point) { w.add(line(wireWidth, places...)) }

func (w *drawing) add(p ...vector.Shape) { w.shapes = append(w.shapes, p...) }

// thick is the line of a high-tension lead.
func (w *drawing) thick(places ...vector.Point) {
	w.add(line(1.15, places...))
	core := line(0.45, places...)
	core.Pen.Line = vector.White
	w.add(core)
}

// distinct drops places that repeat the one before and corners on a straight line.
func distinct(places []vector.Point) []vector.Point {
	var kept []vector.Point
	for _, p := range places {
		if n := len(kept); n > 0 && kept[n-1].Near(p) {
			continue
		}
		if n := len(kept); n > 1 && kept[n-2].Toward(kept[n-1]).Near(kept[n-1].Toward(p)) {
			kept = kept[:n-1]
		}
		kept = append(kept, p)
	}
	return kept
}

// number writes a point's number into its circle and keeps labels off it.
func (w *drawing) number(at vector.Point, r float64, n int, style vector.Style) {
	style.Align = vector.Center
	box := vector.Box(at.X-r, at.Y-r, 2*r, 2*r)
	w.solids = append(w.solids, box)
	w.write(strconv.Itoa(n), box, style, pointNumber)
}

// write adds a text in the middle of the height of its box.
func (w *drawing) write(s string, box vector.Rect, style vector.Style, kind textKind) {
	w.texts = append(w.texts, w.measured(s, box, style, kind))
}

func (w *drawing) measured(s string, box vector.Rect, style vector.Style, kind textKind) text {
	style.Level = vector.Middle
	return text{vector.Text{Text: s, Box: box, Width: w.measure(s, style), Style: style}, kind}
}

func clamp(x, low, high float64) float64 { return max(low, min(high, x)) }

// foot is the room below the circuit for the sign of a reference that stands at its lower edge, mm.
func (w *drawing) foot() float64 {
	for _, n := range w.circuit.Nodes {
		if n.Ground && n.At[1] > w.grid.Y+w.grid.H-0.5 {
			return 4
		}
	}
	return 0
}
