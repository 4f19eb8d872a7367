package diagram

import (
	"strings"

	"nospark/printouts/page"
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
	"connector": {0.4, 0.36, 0.36, drawConnector},
	"fuse":      {0.8, 0.3, 0.3, drawFuse},
	"switch":    {0.75, 0.62, 0.15, drawSwitch},
	"resistor":  {0.85, 0.32, 0.32, drawResistor},
	"ntc":       {0.85, 0.62, 0.62, drawThermistor},
	"leak":      {0.85, 0.32, 0.32, drawResistor},
	"plug":      {0.6, 0.3, 0.3, drawGap},
}

// part draws one part by its kind. A kind without a symbol of its own becomes a box with named pins.
func (w *drawing) part(p *handout.DiagramPart) {
	f, symbol := forms[p.Kind]
	switch {
	case len(p.Pins) == 0:
	case p.Kind == "coil" && len(p.Pins) == 3:
		w.coil(p)
	case p.Kind == "distributor":
		w.distributor(p)
	case symbol && len(p.Pins) == 2:
		w.inline(p, f)
	case (p.Kind == "wire" || p.Kind == "lead") && len(p.Pins) == 2:
		w.conductor(p)
	default:
		w.block(p)
	}
}

// conductor is a wire, or a high-tension lead: a thick line with a white core, told apart without colour.
func (w *drawing) conductor(p *handout.DiagramPart) {
	path := w.route(p)
	nets := [2]int{p.Pins[0], p.Pins[1]}
	// a pack that gives a wire no name of its own gets one from its id, which tells a reader nothing
	draw := w.plain
	if p.Kind == "lead" {
		draw = w.thick
	}
	w.conduct(nets, draw, path...)
	if plain := strings.NewReplacer("_", " ", "-", " "); plain.Replace(p.Label) != plain.Replace(p.ID) {
		from, to := longest(path)
		w.want(p, between(from, to, 0.5), Rect{}, true)
	}
}

// thick is the line of a high-tension lead.
func (w *drawing) thick(places ...Vec) {
	w.add(line(1.15, places...))
	core := line(0.45, places...)
	core.Pen.Line = page.White
	w.add(core)
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
	if room := a.minus(b).length(); 2*f.half*size > room-0.6 { // a short piece gets a small symbol
		size = max(room-0.6, 1) / (2 * f.half)
	}
	c, d := between(a, b, 0.5), from.towards(to)
	near, far := c.minus(d.times(f.half*size)), c.plus(d.times(f.half*size))
	// the way to the symbol belongs to the first net, the way on from it to the second: dots and labels treat them apart
	var before, after []Vec
	for i, v := range path {
		before = append(before, v)
		if v.near(from) {
			after = append([]Vec{far}, path[i+1:]...)
			break
		}
	}
	w.conduct([2]int{p.Pins[0], p.Pins[0]}, w.plain, append(before, near)...)
	w.conduct([2]int{p.Pins[1], p.Pins[1]}, w.plain, after...)
	pen := newPen(w, c, d, size)
	f.draw(w, pen)
	box := pen.rect(-f.half, -f.above, f.half, f.below)
	w.solids = append(w.solids, box)
	w.want(p, box.centre(), box, false)
}

// trimmed is the straight piece less the circles at its ends.
func (w *drawing) trimmed(p *handout.DiagramPart, path []Vec, from, to Vec) (a, b Vec) {
	d := from.towards(to)
	a, b = from, to
	if from.near(path[0]) {
		a = from.plus(d.times(w.reach(p.Pins[0])))
	}
	if to.near(path[len(path)-1]) {
		b = to.minus(d.times(w.reach(p.Pins[1])))
	}
	return a, b
}

// longest finds the longest straight piece of a path, the first of equals.
func longest(path []Vec) (from, to Vec) {
	best := -1.0
	for i := 1; i < len(path); i++ {
		if l := path[i].minus(path[i-1]).length(); l > best+1e-6 {
			best, from, to = l, path[i-1], path[i]
		}
	}
	return from, to
}

// own finds the longest straight piece that runs over no other conductor, or else the longest of all: a symbol on a shared piece would
// seem to belong to the others too.
func (w *drawing) own(path []Vec) (from, to Vec) {
	best := -1.0
	for i := 1; i < len(path); i++ {
		common := false
		for _, c := range w.scene.Wires {
			common = common || overlap(path[i-1], path[i], c.From, c.To)
		}
		if l := path[i].minus(path[i-1]).length(); !common && l > best+1e-6 {
			best, from, to = l, path[i-1], path[i]
		}
	}
	if best < 0 {
		return longest(path)
	}
	return from, to
}

// remote reports whether the second pin is reference or engine block, far away: then a sign on the spot reads better than a line
// across the sheet.
func (w *drawing) remote(p *handout.DiagramPart, path []Vec) bool {
	const far = 40.0 // mm
	return (w.circuit.Nodes[p.Pins[1]].Ground || p.Kind == "plug") && len(p.Via) == 0 && p.Kind != "battery" &&
		path[0].minus(path[len(path)-1]).length() > far
}

// shortened replaces the way to a far node by a short piece with a ground sign or, for the engine block, a frame sign with the number of
// the point it is joined to.
func (w *drawing) shortened(p *handout.DiagramPart, f form, path []Vec) []Vec {
	d := w.free(path[0])
	foot := path[0].plus(d.times(w.radius + (2*f.half+0.7)*w.size))
	if w.circuit.Nodes[p.Pins[1]].Ground {
		w.ground(foot, d, 0, p.Pins[1])
	} else {
		w.chassis(foot, d, p.Pins[1])
	}
	return []Vec{path[0], foot}
}
