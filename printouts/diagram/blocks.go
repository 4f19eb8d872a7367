package diagram

import (
	"math"
	"strings"

	"nospark/printouts/vector"
	"nospark/scenarios/handout"
)

// boxOf is the frame of a part drawn as a box: the diagram's own, or one between the pins.
func (w *drawing) boxOf(p *handout.DiagramPart) vector.Rect {
	if p.Box != nil {
		return vector.Around(w.place([2]float64{p.Box[0], p.Box[1]}), w.place([2]float64{p.Box[2], p.Box[3]}))
	}
	var pins []vector.Point
	for _, n := range p.Pins {
		pins = append(pins, w.at[n])
	}
	r := vector.Around(pins...)
	c := r.Center()
	// pins that lie left and right of each other want a box a square narrower than they are apart, with some room above
	// and below
	x, y := w.square.X, w.square.Y
	wide, high := math.Max(r.W-2*x, 2*x), math.Max(r.H+1.2*y, 2*y)
	if r.W > r.H {
		wide, high = math.Max(r.W+1.2*x, 2*x), math.Max(r.H-2*y, 2*y)
	}
	return vector.Box(c.X-wide/2, c.Y-high/2, wide, high)
}

// entry is where a pin meets its box, and the side: -1,0 left; 1,0 right; 0,-1 top; 0,1 bottom.
type entry struct {
	at   vector.Point
	side vector.Point
}

// enter finds the nearest place on the edge of the box for a pin at the given place.
func enter(r vector.Rect, at vector.Point) entry {
	left, right := r.X-at.X, at.X-(r.X+r.W)
	top, bottom := r.Y-at.Y, at.Y-(r.Y+r.H)
	// a terminal right in a corner would belong to two sides
	inset := math.Min(1.2, math.Min(r.W, r.H)/4)
	x, y := clamp(at.X, r.X+inset, r.X+r.W-inset), clamp(at.Y, r.Y+inset, r.Y+r.H-inset)
	switch m := math.Max(math.Max(left, right), math.Max(top, bottom)); m {
	case left:
		return entry{vector.At(r.X, y), vector.At(-1, 0)}
	case right:
		return entry{vector.At(r.X+r.W, y), vector.At(1, 0)}
	case top:
		return entry{vector.At(x, r.Y), vector.At(0, -1)}
	default:
		return entry{vector.At(x, r.Y+r.H), vector.At(0, 1)}
	}
}

// feed draws the conductor from a pin's node to its entry, with a jog halfway where the two are not in line.
func (w *drawing) feed(net int, e entry, draw func(...vector.Point)) {
	at, nets := w.at[net], [2]int{net, net}
	if e.side.X != 0 {
		x := (at.X + e.at.X) / 2
		w.conduct(nets, draw, at, vector.At(x, at.Y), vector.At(x, e.at.Y), e.at)
		return
	}
	y := (at.Y + e.at.Y) / 2
	w.conduct(nets, draw, at, vector.At(at.X, y), vector.At(e.at.X, y), e.at)
}

// block draws a part as a box with named pins.
func (w *drawing) block(p *handout.DiagramPart) {
	r := w.boxOf(p)
	w.add(rectangle(r, vector.Tint, symbolWidth))
	w.solids = append(w.solids, r)
	// names at the sides have less freedom to move, so they are placed first
	var level, upright []pinName
	for i, net := range p.Pins {
		e := enter(r, w.at[net])
		w.feed(net, e, w.plain)
		w.terminal(e)
		if n := (pinName{name(p, i), e, w.reachInto(net, e)}); e.side.X != 0 {
			level = append(level, n)
		} else {
			upright = append(upright, n)
		}
	}
	w.names(r, append(level, upright...))
	w.wantInside(p, r)
}

// reachInto is how far the circle of a node that lies on the edge, or inside, covers the box.
func (w *drawing) reachInto(net int, e entry) float64 {
	d := w.at[net].Minus(e.at)
	return math.Max(0, w.reach(net)-d.X*e.side.X-d.Y*e.side.Y)
}

// name is the name of a pin as printed: cards write command_1.
func name(p *handout.DiagramPart, pin int) string {
	if pin < len(p.PinNames) {
		return strings.ReplaceAll(p.PinNames[pin], "_", " ")
	}
	return ""
}

// terminal is the small square at which a conductor enters a box.
func (w *drawing) terminal(e entry) {
	const h = terminalHalf
	square := vector.Box(e.at.X-h, e.at.Y-h, 2*h, 2*h)
	w.ends = append(w.ends, rectangle(square, vector.White, symbolWidth))
	w.solids = append(w.solids, square)
}

// distributor draws the cap with its rotor: a circle with a stud for every terminal, the rotor pointing at the first.
func (w *drawing) distributor(p *handout.DiagramPart) {
	r := w.boxOf(p)
	w.add(rectangle(r, vector.Tint, symbolWidth))
	w.solids = append(w.solids, r)
	c := r.Center()
	radius := 0.27 * math.Min(r.W, r.H)
	w.add(circle(c, radius*1.3, vector.White, symbolWidth))
	for i, net := range p.Pins {
		e := enter(r, w.at[net])
		w.feed(net, e, w.thick)
		w.terminal(e)
		if i == 0 { // the center tower feeds the rotor
			w.add(line(wireWidth, e.at.Minus(e.side.Times(terminalHalf)), c))
			continue
		}
		w.stud(r, e, name(p, i))
		d := c.Toward(e.at)
		stud := c.Plus(d.Times(radius))
		if i == 1 {
			w.add(line(thickWidth+0.4, c, c.Plus(d.Times(radius-1.1)))) // ends before the stud: the rotor gap
		}
		w.add(line(wireWidth, e.at.Minus(e.side.Times(terminalHalf)), stud), disc(stud, 0.55, vector.Black))
	}
	w.add(circle(c, 0.9, vector.White, symbolWidth))
	w.want(p, c, r, false)
}

// stud writes the name of a terminal of the cap beside it, on the side away from the middle: the line from the rotor's
// circle to the terminal comes from the other.
func (w *drawing) stud(r vector.Rect, e entry, text string) {
	style := vector.Style{Size: 8, Align: vector.Center}
	wide, high := w.measure(text, style), style.Size*vector.PerPoint
	c, inward, edge := r.Center(), e.side.Times(-1), vector.At(-e.side.Y, e.side.X)
	if away := e.at.Minus(c); away.X*edge.X+away.Y*edge.Y < 0 || e.side.X > 0 && math.Abs(away.Y) < 1e-6 {
		edge = edge.Times(-1)
	}
	at := e.at.Plus(inward.Times(wide/2 + 0.9)).Plus(edge.Times(high/2 + 0.6))
	box := vector.Box(at.X-wide/2, at.Y-high/2, wide, high)
	box.X, box.Y = clamp(box.X, r.X+0.4, r.X+r.W-wide-0.4), clamp(box.Y, r.Y+0.4, r.Y+r.H-high-0.4)
	w.write(text, box, style, terminalName)
}
