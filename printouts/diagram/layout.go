// Package diagram draws a circuit and oscilloscope traces as lines and curves.
//
// Start at Layout, which turns a handout.Diagram and a frame into a Scene: paths and texts with their places in millimetres. Draw
// puts a scene on a page. In between nothing is known of PDF, so a test can ask the scene whether a label lies across a wire.
// Symbols follow the forms of IEC 60617 where that standard has one for the part, and are boxes with named pins otherwise.
//
// It decides nothing about the circuit: places, corners and the sides of labels come with the diagram. It only looks for room.
package diagram

import (
	"math"
	"strconv"

	"nospark/printouts/page"
	"nospark/scenarios/handout"
)

// Measure gives the width of a line of text in millimetres; page.Canvas.Width is one.
type Measure func(text string, style page.Style) float64

// Sizes of the drawing, in millimetres unless they say otherwise.
const (
	wireWidth   = 0.35
	symbolWidth = 0.4
	thickWidth  = 0.8
	margin      = 5.0  // between the outermost place and the frame, beside the room for labels
	largest     = 26.0 // of a grid square: a small circuit is not blown up further
	stretch     = 1.6  // a square may be this much longer one way than the other, to use the frame
)

// drawing is the state of one layout.
type drawing struct {
	circuit handout.Diagram
	measure Measure
	frame   Rect
	grid    Rect    // in grid squares
	square  Vec     // mm per grid square, across and down
	size    float64 // mm, the unit of symbols
	radius  float64 // mm, of a numbered point
	at      []Vec   // places of the nodes
	scene   Scene
	joints  []joint
	solids  []Rect // symbols, boxes and circles, which labels keep clear of
	ends    []Path // terminals of boxes, drawn over the conductors that end in them
	wanted  []label
}

// joint is an end or a corner of a conductor, with the nets it belongs to and where it goes on from there.
type joint struct {
	at, from Vec
	nets     [2]int
}

// Layout places everything inside the frame. The same diagram, frame and font give the same scene. It keeps as little room as possible
// at the sides for labels: more only when some label found no place.
func Layout(d handout.Diagram, frame Rect, measure Measure) Scene {
	if len(d.Nodes) == 0 {
		return Scene{}
	}
	var best Scene
	for i, room := range []float64{4, 12, 20, 28} {
		s := layout(d, frame, measure, room)
		if i == 0 || s.cost() < best.cost() {
			best = s
		}
		if best.cost() == 0 {
			break
		}
	}
	return best
}

// cost weighs what is not as it should be: a label left out, a leader.
func (s Scene) cost() int { return 10*len(s.Left) + s.leaders }

// layout places everything with the given room at the sides. The order matters: conductors and symbols first, since labels avoid
// them, and dots after all conductors.
func layout(d handout.Diagram, frame Rect, measure Measure, room float64) Scene {
	w := &drawing{circuit: d, measure: measure, frame: frame}
	w.fit(room)
	for i := range d.Parts {
		w.part(&d.Parts[i])
	}
	w.reference()
	w.add(w.ends...)
	w.dots()
	w.points()
	w.labels()
	return w.scene
}

// Scale gives the millimetres a grid square would have in a frame of the given size: the larger, the better the paper is used.
func Scale(d handout.Diagram, width, height float64) float64 {
	if len(d.Nodes) == 0 {
		return 0
	}
	s := squares(extent(d), width, height, 0)
	return math.Sqrt(s.X * s.Y)
}

// squares gives the size of a grid square that fills the frame, less the room for labels at the sides.
func squares(grid Rect, width, height, room float64) Vec {
	fit := func(room, n float64) float64 { return math.Min((room-2*margin)/math.Max(n, 1), largest) }
	s := Vec{fit(width-2*room, grid.W), fit(height-room/2, grid.H)}
	return Vec{math.Min(s.X, stretch*s.Y), math.Min(s.Y, stretch*s.X)}
}

// extent is the part of the grid that the circuit covers.
func extent(d handout.Diagram) Rect {
	var places []Vec
	for _, n := range d.Nodes {
		places = append(places, Vec{n.At[0], n.At[1]})
	}
	for _, p := range d.Parts {
		for _, v := range p.Via {
			places = append(places, Vec{v[0], v[1]})
		}
		if p.Box != nil {
			places = append(places, Vec{p.Box[0], p.Box[1]}, Vec{p.Box[2], p.Box[3]})
		}
		if p.LabelAt != nil {
			places = append(places, Vec{p.LabelAt[0], p.LabelAt[1]})
		}
	}
	return around(places...)
}

// fit chooses the size of a grid square, of symbols and of circles. Symbols do not grow with large squares without end, and a circle
// must hold two digits of 8 pt.
func (w *drawing) fit(room float64) {
	w.grid = extent(w.circuit)
	w.square = squares(w.grid, w.frame.W, w.frame.H, room)
	least := math.Min(w.square.X, w.square.Y)
	w.size = clamp(least*0.62, 4.2, 8)
	w.radius = clamp(least*0.3, 2.2, 2.6)
	for _, n := range w.circuit.Nodes {
		w.at = append(w.at, w.place(n.At))
	}
}

// place turns grid squares into millimetres, the circuit in the middle of the frame.
func (w *drawing) place(g [2]float64) Vec {
	c, m := w.frame.centre(), w.grid.centre()
	return Vec{c.X + (g[0]-m.X)*w.square.X, c.Y + (g[1]-m.Y)*w.square.Y}
}

// reach is how far the mark of a node extends from its place.
func (w *drawing) reach(node int) float64 {
	if w.circuit.Nodes[node].Number > 0 {
		return w.radius
	}
	return 0
}

// conduct draws a conductor along the places and remembers it, so that labels stay off it and branches get a dot.
func (w *drawing) conduct(nets [2]int, draw func(...Vec), places ...Vec) {
	places = distinct(places)
	if len(places) < 2 {
		return
	}
	draw(places...)
	for i := 1; i < len(places); i++ {
		a, b := places[i-1], places[i]
		w.scene.Wires = append(w.scene.Wires, Wire{a, b})
		w.joints = append(w.joints, joint{a, b, nets}, joint{b, a, nets})
	}
}

// wire is a conductor of one net drawn as a plain line.
func (w *drawing) wire(net int, places ...Vec) {
	w.conduct([2]int{net, net}, w.plain, places...)
}

// plain and add put paths into the scene, above all before them.
func (w *drawing) plain(places ...Vec) { w.add(line(wireWidth, places...)) }

func (w *drawing) add(p ...Path) { w.scene.Paths = append(w.scene.Paths, p...) }

// distinct drops places that repeat the one before and corners on a straight line.
func distinct(places []Vec) []Vec {
	var kept []Vec
	for _, p := range places {
		if n := len(kept); n > 0 && kept[n-1].near(p) {
			continue
		}
		if n := len(kept); n > 1 && kept[n-2].towards(kept[n-1]).near(kept[n-1].towards(p)) {
			kept = kept[:n-1]
		}
		kept = append(kept, p)
	}
	return kept
}

// points draws the numbered circles last, over the ends of their wires.
func (w *drawing) points() {
	for i, n := range w.circuit.Nodes {
		if n.Number > 0 {
			w.add(disc(w.at[i], w.radius, page.Blue))
			w.number(w.at[i], w.radius, n.Number, page.Style{Size: w.radius * 3.4, Bold: true, Ink: page.White})
		}
	}
}

// number writes a point's number into its circle and keeps labels off it.
func (w *drawing) number(at Vec, r float64, n int, style page.Style) {
	style.Align = page.Centre
	box := Rect{at.X - r, at.Y - r, 2 * r, 2 * r}
	w.solids = append(w.solids, box)
	w.write(strconv.Itoa(n), box, style, PointNumber)
}

// write adds a text in the middle of the height of its box.
func (w *drawing) write(text string, box Rect, style page.Style, kind TextKind) {
	style.Level = page.Middle
	w.scene.Texts = append(w.scene.Texts, Text{text, box, style, kind})
}
