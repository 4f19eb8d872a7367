package diagram

import (
	"strings"

	"nospark/printouts/vector"
	"nospark/scenarios/handout"
)

// form is the outward size of a symbol on a line, in units of the drawing's symbol size.
type form struct {
	half  float64 // from the middle to either end, along the line
	above float64 // what it takes beside the line
	below float64
	draw  func(w *drawing, p pen)
}

// forms of the parts with two pins; wires and leads have none, they are the line itself.
var forms = map[string]form{
	"battery":   {0.42, 0.8, 0.8, drawBattery},
	"starter":   {0.85, 0.85, 0.85, drawMotor},
	"motor":     {0.85, 0.85, 0.85, drawMotor},
	"filament":  {0.6, 0.6, 0.6, drawLamp},
	"diode":     {0.4, 0.36, 0.36, drawDiode},
	"connector": {0.4, 0.36, 0.36, drawConnector},
	"fuse":      {0.8, 0.3, 0.3, drawFuse},
	"switch":    {0.75, 0.62, 0.15, drawSwitch},
	"resistor":  {0.85, 0.32, 0.32, drawResistor},
	"ntc":       {0.85, 0.62, 0.62, drawThermistor},
	"leak":      {0.85, 0.32, 0.32, drawResistor},
	"plug":      {0.6, 0.3, 0.3, drawGap},
}

// lineOf draws a wire, or a high-tension lead: a thick line with a white core, told apart without color.
func (w *drawing) lineOf(p *handout.DiagramPart) {
	path := w.route(p)
	nets := [2]int{p.Pins[0], p.Pins[1]}
	// a wire's name helps in lists; on the diagram the points at its ends tell it, unless the pack gives its name a place
	draw := w.plain
	if p.Kind == "lead" {
		draw = w.thick
	}
	w.conduct(nets, draw, path...)
	plain := strings.NewReplacer("_", " ", "-", " ")
	if p.LabelAt != nil || p.Kind == "lead" && plain.Replace(p.Label) != plain.Replace(p.ID) {
		from, to := longestPiece(path)
		w.want(p, vector.Between(from, to, 0.5), vector.Rect{}, true)
	}
}

// inline puts a symbol in the middle of the longest straight piece between the two pins.
func (w *drawing) inline(p *handout.DiagramPart, f form) {
	path := w.route(p)
	if w.remote(p, path) {
		path = w.shortened(p, f, path)
	}
	from, to := w.own(path)
	a, b := w.trimmed(p, path, from, to)
	size := w.size
	if room := a.Minus(b).Length(); 2*f.half*size > room-0.6 { // a short piece gets a small symbol
		size = max(room-0.6, 1) / (2 * f.half)
	}
	c, d := vector.Between(a, b, 0.5), from.Toward(to)
	near, far := c.Minus(d.Times(f.half*size)), c.Plus(d.Times(f.half*size))
	// the way to the symbol belongs to the first net, the way on from it to the second: dots and labels treat them
	// apart
	var before, after []vector.Point
	for i, v := range path {
		before = append(before, v)
		if v.Near(from) {
			after = append([]vector.Point{far}, path[i+1:]...)
			break
		}
	}
	w.conduct([2]int{p.Pins[0], p.Pins[0]}, w.plain, append(before, near)...)
	w.conduct([2]int{p.Pins[1], p.Pins[1]}, w.plain, after...)
	pen := newPen(w, c, d, size)
	f.draw(w, pen)
	box := pen.rect(-f.half, -f.above, f.half, f.below)
	w.solids = append(w.solids, box)
	w.want(p, box.Center(), box, false)
}

// trimmed is the straight piece less the circles at its ends.
func (w *drawing) trimmed(p *handout.DiagramPart, path []vector.Point, from, to vector.Point) (a, b vector.Point) {
	d := from.Toward(to)
	a, b = from, to
	if from.Near(path[0]) {
		a = from.Plus(d.Times(w.reach(p.Pins[0])))
	}
	if to.Near(path[len(path)-1]) {
		b = to.Minus(d.Times(w.reach(p.Pins[1])))
	}
	return a, b
}

// longestPiece finds the longest straight piece of a path, the first of equals.
func longestPiece(path []vector.Point) (from, to vector.Point) {
	best := -1.0
	for i := 1; i < len(path); i++ {
		if l := path[i].Minus(path[i-1]).Length(); l > best+1e-6 {
			best, from, to = l, path[i-1], path[i]
		}
	}
	return from, to
}

// own finds the longest straight piece that runs over no other conductor, or else the longest of all: a symbol on a
// shared piece would seem to belong to the others too.
func (w *drawing) own(path []vector.Point) (from, to vector.Point) {
	best := -1.0
	for i := 1; i < len(path); i++ {
		common := false
		for _, c := range w.wires {
			common = common || overlap(path[i-1], path[i], c.from, c.to)
		}
		if l := path[i].Minus(path[i-1]).Length(); !common && l > best+1e-6 {
			best, from, to = l, path[i-1], path[i]
		}
	}
	if best < 0 {
		return longestPiece(path)
	}
	return from, to
}

// remote reports whether the second pin is reference or engine block, far away: then a sign on the spot reads better
// than a line across the sheet.
func (w *drawing) remote(p *handout.DiagramPart, path []vector.Point) bool {
	const far = 40.0 // mm
	return (w.circuit.Nodes[p.Pins[1]].Ground || p.Kind == "plug") && len(p.Via) == 0 && p.Kind != "battery" &&
		path[0].Minus(path[len(path)-1]).Length() > far
}

// shortened replaces the way to a far node by a short piece with a ground sign or, for the engine block, a frame sign
// with the number of the point it is joined to.
func (w *drawing) shortened(p *handout.DiagramPart, f form, path []vector.Point) []vector.Point {
	d := w.free(path[0])
	foot := path[0].Plus(d.Times(w.radius + (2*f.half+0.7)*w.size))
	if w.circuit.Nodes[p.Pins[1]].Ground {
		w.ground(foot, d, 0, p.Pins[1])
	} else {
		w.chassis(foot, d, p.Pins[1])
	}
	return []vector.Point{path[0], foot}
}
