package diagram

import (
	"math"

	"nospark/printouts/page"
	"nospark/scenarios/handout"
)

// coil draws an ignition coil: the primary between its first two pins, a core, and beside it the secondary, which begins at the first
// pin and ends in the tower. The secondary lies on the tower's side.
func (w *drawing) coil(p *handout.DiagramPart) {
	plus, minus, tower := w.at[p.Pins[0]], w.at[p.Pins[1]], w.at[p.Pins[2]]
	along := mainly(plus, minus)
	across := Vec{-along.Y, along.X}
	// the side of the tower decides on which side of the primary the secondary lies
	if d := tower.minus(plus); d.X*across.X+d.Y*across.Y < 0 {
		across = across.times(-1)
	}
	s := w.size
	var frame Rect
	if p.Box != nil {
		frame = w.boxOf(p)
		edge := rectangle(frame, page.Tint, symbolWidth)
		edge.Pen.Dash = page.Dashed
		w.add(edge)
		w.solids = append(w.solids, frame)
	}
	span := minus.minus(plus)
	length := span.X*along.X + span.Y*along.Y
	middle := plus.plus(along.times(length / 2))
	// as long as looks well, but short enough for the link above and the outlet below the windings
	half := math.Min(1.2*s, length/2-w.radius-0.7*s)
	half = math.Max(half, 0.4*s)
	top, foot := middle.minus(along.times(half)), middle.plus(along.times(half))

	w.wire(p.Pins[0], plus, top)
	w.wire(p.Pins[1], foot, offset(foot, minus, along), minus)
	w.winding(top, foot, across)
	for _, k := range []float64{0.62, 0.88} {
		w.add(line(symbolWidth, top.plus(across.times(k*s)), foot.plus(across.times(k*s))))
	}
	far := across.times(1.5 * s)
	w.winding(top.plus(far), foot.plus(far), across.times(-1))

	// both windings begin at the same terminal: joined above the primary
	link := top.minus(along.times(0.35 * s))
	w.wire(p.Pins[0], link, link.plus(far), top.plus(far))
	out := foot.plus(far)
	below := out.plus(along.times(0.35 * s))
	side := tower.minus(below)
	reach := side.X*across.X + side.Y*across.Y
	w.conduct([2]int{p.Pins[2], p.Pins[2]}, w.thick, out, below, below.plus(across.times(reach)), tower)

	box := around(link.minus(across.times(0.1*s)), below.plus(across.times(0.35*s)))
	w.solids = append(w.solids, box)
	if frame.W > 0 {
		box = frame // inside of it there is no room for the name
	}
	w.want(p, box.centre(), box, false)
}

// mainly is the direction from a to b, level or upright, whichever the two are further apart in.
func mainly(a, b Vec) Vec {
	d := b.minus(a)
	if math.Abs(d.X) > math.Abs(d.Y) {
		return Vec{math.Copysign(1, d.X), 0}
	}
	return Vec{0, math.Copysign(1, d.Y)}
}

// offset is the corner between a conductor that leaves in the given direction and a place beside it.
func offset(from, to, along Vec) Vec {
	d := to.minus(from)
	return from.plus(along.times(d.X*along.X + d.Y*along.Y))
}

// winding draws five bumps between two places, bulging to the given side.
func (w *drawing) winding(from, to, side Vec) {
	const bumps = 5
	d := from.towards(to)
	r := from.minus(to).length() / (2 * bumps)
	a := math.Atan2(d.Y, d.X)
	turn := math.Pi
	if d.X*side.Y-d.Y*side.X > 0 { // the side is clockwise of the direction, on paper with y down
		turn = -math.Pi
	}
	for i := range bumps {
		c := from.plus(d.times(r * float64(2*i+1)))
		w.add(arc(c, r, a+math.Pi, a+math.Pi+turn, symbolWidth))
	}
}
