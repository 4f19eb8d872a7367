package diagram

import (
	"math"

	"nospark/printouts/page"
	"nospark/scenarios"
)

// boxOf is the frame of a part drawn as a box: the diagram's own, or one between the pins.
func (w *drawing) boxOf(p *scenarios.DiagramPart) Rect {
	if p.Box != nil {
		return around(w.place([2]float64{p.Box[0], p.Box[1]}), w.place([2]float64{p.Box[2], p.Box[3]}))
	}
	var pins []Vec
	for _, n := range p.Pins {
		pins = append(pins, w.at[n])
	}
	r := around(pins...)
	c := r.centre()
	x, y := w.square.X, w.square.Y
	wide, high := math.Max(r.W-2*x, 2*x), math.Max(r.H+1.2*y, 2*y)
	if r.W > r.H {
		wide, high = math.Max(r.W+1.2*x, 2*x), math.Max(r.H-2*y, 2*y)
	}
	return Rect{c.X - wide/2, c.Y - high/2, wide, high}
}

// entry is where a pin meets its box, and the side: -1,0 left; 1,0 right; 0,-1 top; 0,1 bottom.
type entry struct {
	at   Vec
	side Vec
}

// enter finds the nearest place on the edge of the box for a pin at the given place.
func enter(r Rect, at Vec) entry {
	left, right := r.X-at.X, at.X-(r.X+r.W)
	top, bottom := r.Y-at.Y, at.Y-(r.Y+r.H)
	inset := math.Min(1.2, math.Min(r.W, r.H)/4)
	x, y := clamp(at.X, r.X+inset, r.X+r.W-inset), clamp(at.Y, r.Y+inset, r.Y+r.H-inset)
	switch m := math.Max(math.Max(left, right), math.Max(top, bottom)); m {
	case left:
		return entry{Vec{r.X, y}, Vec{-1, 0}}
	case right:
		return entry{Vec{r.X + r.W, y}, Vec{1, 0}}
	case top:
		return entry{Vec{x, r.Y}, Vec{0, -1}}
	default:
		return entry{Vec{x, r.Y + r.H}, Vec{0, 1}}
	}
}

// feed draws the conductor from a pin's node to its entry, with a jog halfway where the two are not in line.
func (w *drawing) feed(net int, e entry, draw func(...Vec)) {
	at, nets := w.at[net], [2]int{net, net}
	if e.side.X != 0 {
		x := (at.X + e.at.X) / 2
		w.conduct(nets, draw, at, Vec{x, at.Y}, Vec{x, e.at.Y}, e.at)
		return
	}
	y := (at.Y + e.at.Y) / 2
	w.conduct(nets, draw, at, Vec{at.X, y}, Vec{e.at.X, y}, e.at)
}

// block draws a part as a box with named pins.
func (w *drawing) block(p *scenarios.DiagramPart) {
	r := w.boxOf(p)
	w.add(rectangle(r, page.Tint, symbolWidth))
	w.solids = append(w.solids, r)
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
	w.want(p, r.centre(), r, false)
}

// pinName is the name of a terminal, written inside its box; reach is how far the circle of its node covers the box.
type pinName struct {
	text  string
	entry entry
	reach float64
}

// reachInto is how far the circle of a node that lies on the edge, or inside, covers the box.
func (w *drawing) reachInto(net int, e entry) float64 {
	d := w.at[net].minus(e.at)
	return math.Max(0, w.reach(net)-d.X*e.side.X-d.Y*e.side.Y)
}

func name(p *scenarios.DiagramPart, pin int) string {
	if pin < len(p.PinNames) {
		return p.PinNames[pin]
	}
	return ""
}

const terminalHalf = 0.75

func (w *drawing) terminal(e entry) {
	const h = terminalHalf
	w.add(rectangle(Rect{e.at.X - h, e.at.Y - h, 2 * h, 2 * h}, page.White, symbolWidth))
}

// names writes the names of a box's terminals, moved or smaller where another name is in the way.
func (w *drawing) names(r Rect, pins []pinName) {
	styles, steps := []page.Style{{Size: 8}, {Size: 8, Condensed: true}}, []float64{0, 0.3, -0.3, 0.6, -0.6, 0.85, -0.85, 1, 1.5, 2, 2.5}
	for _, p := range pins {
		if p.text == "" {
			continue
		}
		gap := math.Max(terminalHalf, p.reach) + 0.9
		place := func(style page.Style, step float64) Text {
			box, align := nameBox(p.entry, gap, w.measure(p.text, style), style.Size*mmPerPoint, step)
			if align == page.Centre {
				box.X = clamp(box.X, r.X+0.5, math.Max(r.X+0.5, r.X+r.W-0.5-box.W))
			}
			style.Align, style.Level = align, page.Middle
			return Text{p.text, box, style, PinName}
		}
		chosen := place(styles[len(styles)-1], 0)
	search:
		for _, style := range styles {
			for _, step := range steps {
				if t := place(style, step); r.grown(-0.4).Contains(t.Box) && !w.named(t.Box) {
					chosen = t
					break search
				}
			}
		}
		w.scene.Texts = append(w.scene.Texts, chosen)
	}
}

// nameBox is the place of a pin's name. On the sides step moves it up or down by its height; at top and bottom along the edge by its
// width, or from 1 on deeper into the box.
func nameBox(e entry, gap, wide, high, step float64) (Rect, page.Align) {
	switch y := e.at.Y - high/2 + step*high; {
	case e.side.X < 0:
		return Rect{e.at.X + gap, y, wide, high}, page.Left
	case e.side.X > 0:
		return Rect{e.at.X - gap - wide, y, wide, high}, page.Right
	}
	depth, slide := gap, step*wide
	if step >= 1 {
		depth, slide = gap+step*high, 0
	}
	box := Rect{e.at.X - wide/2 + slide, e.at.Y + depth, wide, high}
	if e.side.Y > 0 {
		box.Y = e.at.Y - depth - high
	}
	return box, page.Centre
}

// named reports whether a text already stands where the box is.
func (w *drawing) named(box Rect) bool {
	for _, t := range w.scene.Texts {
		if t.Box.Overlaps(Rect{box.X - 1.1, box.Y - 0.3, box.W + 2.2, box.H + 0.6}) {
			return true
		}
	}
	return false
}

// distributor draws the cap with its rotor: a circle with a stud for every terminal, the rotor pointing at the first.
func (w *drawing) distributor(p *scenarios.DiagramPart) {
	r := w.boxOf(p)
	w.add(rectangle(r, page.Tint, symbolWidth))
	w.solids = append(w.solids, r)
	c := r.centre()
	radius := 0.27 * math.Min(r.W, r.H)
	w.add(circle(c, radius*1.3, page.White, symbolWidth))
	var names []pinName
	for i, net := range p.Pins {
		e := enter(r, w.at[net])
		w.feed(net, e, w.thick)
		w.terminal(e)
		if i == 0 {
			w.add(line(wireWidth, e.at.minus(e.side.times(terminalHalf)), c))
			continue
		}
		names = append(names, pinName{name(p, i), e, w.reachInto(net, e)})
		d := c.towards(e.at)
		stud := c.plus(d.times(radius))
		if i == 1 {
			w.add(line(thickWidth+0.4, c, c.plus(d.times(radius-1.1))))
		}
		w.add(line(wireWidth, e.at.minus(e.side.times(terminalHalf)), stud), disc(stud, 0.55, page.Black))
	}
	w.names(r, names)
	w.add(circle(c, 0.9, page.White, symbolWidth))
	w.want(p, c, r, false)
}
