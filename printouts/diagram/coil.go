package diagram

import (
	"math"

	"nospark/printouts/vector"
	"nospark/scenarios/handout"
)

// coil draws an ignition coil: the primary between its first two pins, a core, and beside it the secondary, which
// begins at the first pin and ends in the tower. The secondary lies on the tower's side.
func (w *drawing) coil(p *handout.DiagramPart) {
	plus, minus, tower := w.at[p.Pins[0]], w.at[p.Pins[1]], w.at[p.Pins[2]]
	along := mainly(plus, minus)
	across := vector.At(-along.Y, along.X)
	// the side of the tower decides on which side of the primary the secondary lies
	if d := tower.Minus(plus); d.X*across.X+d.Y*across.Y < 0 {
		across = across.Times(-1)
	}
	s := w.size
	var frame vector.Rect
	if p.Box != nil {
		frame = w.boxOf(p)
		edge := rectangle(frame, vector.Tint, symbolWidth)
		edge.Pen.Dash = vector.Dashed
		w.add(edge)
		w.solids = append(w.solids, frame)
	}
	span := minus.Minus(plus)
	length := span.X*along.X + span.Y*along.Y
	middle := plus.Plus(along.Times(length / 2))
	// as long as looks well, but short enough for the link above and the outlet below the windings
	half := math.Min(1.2*s, length/2-w.radius-0.7*s)
	half = math.Max(half, 0.4*s)
	top, foot := middle.Minus(along.Times(half)), middle.Plus(along.Times(half))

	w.wire(p.Pins[0], plus, top)
	w.wire(p.Pins[1], foot, offset(foot, minus, along), minus)
	w.winding(top, foot, across)
	for _, k := range []float64{0.62, 0.88} {
		w.add(line(symbolWidth, top.Plus(across.Times(k*s)), foot.Plus(across.Times(k*s))))
	}
	far := across.Times(1.5 * s)
	w.winding(top.Plus(far), foot.Plus(far), across.Times(-1))

	// both windings begin at the same terminal: joined above the primary
	link := top.Minus(along.Times(0.35 * s))
	w.wire(p.Pins[0], link, link.Plus(far), top.Plus(far))
	out := foot.Plus(far)
	below := out.Plus(along.Times(0.35 * s))
	side := tower.Minus(below)
	reach := side.X*across.X + side.Y*across.Y
	w.conduct([2]int{p.Pins[2], p.Pins[2]}, w.thick, out, below, below.Plus(across.Times(reach)), tower)

	box := vector.Around(link.Minus(across.Times(0.1*s)), below.Plus(across.Times(0.35*s)))
	w.solids = append(w.solids, box)
	if frame.W > 0 {
		box = frame // inside of it there is no room for the name
	}
	w.want(p, box.Center(), box, false)
}

// mainly is the direction from a to b, level or upright, whichever the two are further apart in.
func mainly(a, b vector.Point) vector.Point {
	d := b.Minus(a)
	if math.Abs(d.X) > math.Abs(d.Y) {
		return vector.At(math.Copysign(1, d.X), 0)
	}
	return vector.At(0, math.Copysign(1, d.Y))
}

// offset is the corner between a conductor that leaves in the given direction and a place beside it.
func offset(from, to, along vector.Point) vector.Point {
	d := to.Minus(from)
	return from.Plus(along.Times(d.X*along.X + d.Y*along.Y))
}

// winding draws five bumps between two places, bulging to the given side.
func (w *drawing) winding(from, to, side vector.Point) {
	const bumps = 5
	d := from.Toward(to)
	r := from.Minus(to).Length() / (2 * bumps)
	a := math.Atan2(d.Y, d.X)
	turn := math.Pi
	if d.X*side.Y-d.Y*side.X > 0 { // the side is clockwise of the direction, on paper with y down
		turn = -math.Pi
	}
	for i := range bumps {
		c := from.Plus(d.Times(r * float64(2*i+1)))
		w.add(arc(c, r, a+math.Pi, a+math.Pi+turn, symbolWidth))
	}
}
