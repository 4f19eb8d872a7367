package diagram

import (
	"math"
	"slices"

	"nospark/printouts/diagram/placement"
	"nospark/printouts/vector"
	"nospark/scenarios/handout"
)

// Sizes of the drawing, in millimeters unless they say otherwise.
const (
	margin  = 5.0  // between the outermost place and the frame, beside the room for labels
	largest = 26.0 // of a grid square: a small circuit is not blown up further
	oblong  = 1.6  // a square may be this much longer one way than the other, to use the frame
)

// Layout places everything inside the frame. The same diagram, frame and font give the same scene.
func Layout(d handout.Diagram, frame vector.Rect, measure vector.Measure) vector.Scene {
	return inWords(arrange(placement.Find(d, boxed), frame, measure).scene(), d)
}

// Enlarged is the layout for a reader of large print: with letters as large as leave every name its place, up to
// 18 pt. Where they would stay small the points and wires have no names beside them, so that numbers and the names of
// parts and terminals can be larger; the list of points has the names.
func Enlarged(d handout.Diagram, frame vector.Rect, measure vector.Measure) vector.Scene {
	const most, named, unnamed, step = 2.25, 1.5, 1.2, 0.05 // whoever gets less than unnamed has the names back
	found := placement.Find(d, boxed)
	plain := nameless(found)
	for k := most; k > 1; k -= step {
		of := found
		if k < named && k >= unnamed {
			of = plain
		}
		if w := arrange(of, frame.Times(1/k), measure); len(w.left) == 0 && w.crowded == 0 {
			return inWords(w.scene().Times(k), d)
		}
	}
	return inWords(arrange(found, frame, measure).scene(), d)
}

// nameless is a diagram whose points and wires have no names.
func nameless(d handout.Diagram) handout.Diagram {
	d.Nodes, d.Parts = slices.Clone(d.Nodes), slices.Clone(d.Parts)
	for i := range d.Nodes {
		d.Nodes[i].Label = ""
	}
	for i := range d.Parts {
		if conductor(d.Parts[i].Kind) {
			d.Parts[i].Label = ""
		}
	}
	return d
}

// arrange keeps as little room as possible at the sides for labels: more only when some label found no place.
func arrange(d handout.Diagram, frame vector.Rect, measure vector.Measure) *drawing {
	var best *drawing
	for _, room := range []float64{4, 12, 20, 28} {
		w := &drawing{circuit: d, measure: measure, frame: frame}
		w.layout(room)
		if best == nil || w.cost() < best.cost() {
			best = w
		}
		if best.cost() == 0 {
			break
		}
	}
	return best
}

// cost weighs what is not as it should be: a label left out, a name of a terminal without room, a leader.
func (w *drawing) cost() int { return 10*(len(w.left)+w.crowded) + w.leaders }

// layout places everything with the given room at the sides. The order matters: conductors and symbols first, since
// labels avoid them, and dots after all conductors.
func (w *drawing) layout(room float64) {
	if len(w.circuit.Nodes) == 0 {
		return
	}
	w.fit(room)
	for i := range w.circuit.Parts {
		w.part(&w.circuit.Parts[i])
	}
	w.reference()
	w.add(w.ends...)
	w.dots()
	w.points()
	w.labels()
}

// part draws one part by its kind. A kind without a symbol of its own becomes a box with named pins.
func (w *drawing) part(p *handout.DiagramPart) {
	f, symbol := forms[p.Kind]
	switch {
	case len(p.Pins) == 0:
	case p.Kind == "coil" && len(p.Pins) == 3:
		w.coil(p)
	case p.Kind == "relay" && len(p.Pins) == len(relayTerminals):
		w.relay(p)
	case p.Kind == "distributor":
		w.distributor(p)
	case symbol && len(p.Pins) == 2:
		w.inline(p, f)
	case conductor(p.Kind) && len(p.Pins) == 2:
		w.lineOf(p)
	default:
		w.block(p)
	}
}

// boxed reports whether a part has no symbol on a line.
func boxed(p handout.DiagramPart) bool {
	_, symbol := forms[p.Kind]
	return len(p.Pins) != 2 || !symbol && !conductor(p.Kind)
}

// scene is the drawing as it is shown.
func (w *drawing) scene() vector.Scene {
	s := vector.Scene{Frame: w.frame, Shapes: w.shapes}
	for _, t := range w.texts {
		s.Texts = append(s.Texts, t.Text)
	}
	return s
}

// Scale gives the millimeters a grid square would have in a frame of the given size: the larger, the better the paper
// is used.
func Scale(d handout.Diagram, width, height float64) float64 {
	if len(d.Nodes) == 0 {
		return 0
	}
	s := squares(extent(placement.Find(d, boxed)), width, height, 0)
	return math.Sqrt(s.X * s.Y)
}

// squares gives the size of a grid square that fills the frame, less the room for labels at the sides.
func squares(grid vector.Rect, width, height, room float64) vector.Point {
	fit := func(room, n float64) float64 { return math.Min((room-2*margin)/math.Max(n, 1), largest) }
	s := vector.At(fit(width-2*room, grid.W), fit(height-room/2, grid.H))
	return vector.At(math.Min(s.X, oblong*s.Y), math.Min(s.Y, oblong*s.X))
}

// extent is the part of the grid that the circuit covers.
func extent(d handout.Diagram) vector.Rect {
	var places []vector.Point
	for _, n := range d.Nodes {
		places = append(places, vector.At(n.At[0], n.At[1]))
	}
	for _, p := range d.Parts {
		for _, v := range p.Via {
			places = append(places, vector.At(v[0], v[1]))
		}
		if p.Box != nil {
			places = append(places, vector.At(p.Box[0], p.Box[1]), vector.At(p.Box[2], p.Box[3]))
		}
		if p.LabelAt != nil {
			places = append(places, vector.At(p.LabelAt[0], p.LabelAt[1]))
		}
	}
	return vector.Around(places...)
}

// fit chooses the size of a grid square, of symbols and of circles. Symbols do not grow with large squares without end,
// and a circle must hold two digits of 8 pt.
func (w *drawing) fit(room float64) {
	w.grid = extent(w.circuit)
	w.square = squares(w.grid, w.frame.W, w.frame.H-w.foot(), room)
	least := math.Min(w.square.X, w.square.Y)
	w.size = clamp(least*0.62, 4.2, 8)
	w.radius = clamp(least*0.3, 2.2, 2.6)
	for _, n := range w.circuit.Nodes {
		w.at = append(w.at, w.place(n.At))
	}
}

// points draws the numbered circles last, over the ends of their wires.
func (w *drawing) points() {
	for i, n := range w.circuit.Nodes {
		if n.Number > 0 {
			w.add(disc(w.at[i], w.radius, vector.Blue))
			w.number(w.at[i], w.radius, n.Number, vector.Style{Size: w.radius * 3.4, Bold: true, Color: vector.White})
		}
	}
}
