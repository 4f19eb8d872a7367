package diagram

import (
	"math"

	"nospark/printouts/vector"
	"nospark/scenarios/handout"
)

// route gives the corners from the first pin of a part to the second: the diagram's own, or one right angle of ours
// where the two do not lie on a line.
func (w *drawing) route(p *handout.DiagramPart) []vector.Point {
	a, b := w.at[p.Pins[0]], w.at[p.Pins[1]]
	if len(p.Via) > 0 {
		places := []vector.Point{a}
		for _, v := range p.Via {
			places = append(places, w.place(v))
		}
		return distinct(append(places, b))
	}
	return w.angle(a, b)
}

// angle joins two places by the right angle that runs over fewer other nodes; first across, then along, when both are
// as good.
func (w *drawing) angle(a, b vector.Point) []vector.Point {
	if math.Abs(a.X-b.X) < 1e-6 || math.Abs(a.Y-b.Y) < 1e-6 {
		return distinct([]vector.Point{a, b})
	}
	// by name of the first piece
	across, along := []vector.Point{a, vector.At(b.X, a.Y), b}, []vector.Point{a, vector.At(a.X, b.Y), b}
	if w.hits(along) < w.hits(across) {
		return along
	}
	return across
}

// hits counts the nodes and conductors that lie under a path, its ends left out.
func (w *drawing) hits(path []vector.Point) int {
	n, first, last := 0, path[0], path[len(path)-1]
	for i := 1; i < len(path); i++ {
		for _, at := range w.at {
			if at.Near(first) || at.Near(last) {
				continue
			}
			r := w.radius
			if (vector.Box(at.X-r, at.Y-r, 2*r, 2*r)).Crossed(path[i-1], path[i]) {
				// a line through a point that it is not joined to misleads; one over another line is only unclear
				n += 10
			}
		}
		for _, c := range w.wires {
			if overlap(path[i-1], path[i], c.from, c.to) {
				n++
			}
		}
	}
	return n
}

// overlap reports whether two straight pieces lie on each other over some length.
func overlap(a, b, c, d vector.Point) bool {
	u := a.Toward(b)
	across := func(p vector.Point) float64 { q := p.Minus(a); return q.X*u.Y - q.Y*u.X }
	along := func(p vector.Point) float64 { q := p.Minus(a); return q.X*u.X + q.Y*u.Y }
	if math.Abs(across(c)) > 0.1 || math.Abs(across(d)) > 0.1 {
		return false
	}
	// touching ends do not count
	low, high := math.Min(along(c), along(d)), math.Max(along(c), along(d))
	return math.Min(high, a.Minus(b).Length())-math.Max(low, 0) > 0.1
}

// dots marks the places where three or more conductors of one net meet. A crossing without a dot is no connection.
func (w *drawing) dots() {
	for i, j := range w.joints {
		if w.earlier(i) || w.numbered(j.at) {
			continue
		}
		if w.branches(j) >= 3 {
			w.add(disc(j.at, 0.75, vector.Black))
		}
	}
}

// branches counts the directions in which conductors of the joint's nets leave its place.
func (w *drawing) branches(j joint) int {
	var seen []vector.Point
	note := func(d vector.Point) {
		for _, s := range seen {
			if s.Minus(d).Length() < 0.05 {
				return
			}
		}
		seen = append(seen, d)
	}
	for _, o := range w.joints {
		if !shared(o.nets, j.nets) {
			continue
		}
		if o.at.Near(j.at) {
			note(o.at.Toward(o.from))
			continue
		}
		// a conductor that runs through the place leaves it both ways
		total := o.at.Minus(o.from).Length()
		if d := o.at.Minus(j.at).Length() + o.from.Minus(j.at).Length() - total; d < 1e-6 && !o.from.Near(j.at) {
			note(j.at.Toward(o.at))
			note(j.at.Toward(o.from))
		}
	}
	return len(seen)
}

// shared reports whether two conductors have a net in common. A wire belongs to the nets of both its ends.
func shared(a, b [2]int) bool { return a[0] == b[0] || a[0] == b[1] || a[1] == b[0] || a[1] == b[1] }

// earlier reports whether joint i was dealt with: another before it has the same place.
func (w *drawing) earlier(i int) bool {
	for _, o := range w.joints[:i] {
		if o.at.Near(w.joints[i].at) && shared(o.nets, w.joints[i].nets) {
			return true
		}
	}
	return false
}

// numbered reports whether a numbered circle covers the place; it is a joint already.
func (w *drawing) numbered(at vector.Point) bool {
	for i, n := range w.circuit.Nodes {
		if n.Number > 0 && w.at[i].Minus(at).Length() < w.radius {
			return true
		}
	}
	return false
}

// reference draws the sign of the reference node where no conductor leaves it.
func (w *drawing) reference() {
	for i, n := range w.circuit.Nodes {
		if n.Ground {
			w.ground(w.at[i], w.free(w.at[i]), w.reach(i), i)
		}
	}
}

// free gives a direction in which no conductor leaves the place: down, or the first of left, right and up.
func (w *drawing) free(at vector.Point) vector.Point {
	for _, d := range []vector.Point{vector.At(0, 1), vector.At(-1, 0), vector.At(1, 0), vector.At(0, -1)} {
		end := at.Plus(d.Times(w.radius + w.size))
		taken := false
		for _, c := range w.wires {
			taken = taken || vector.Around(at, end).Grown(0.6).Crossed(c.from, c.to) && leaves(c, at, d)
		}
		if !taken {
			return d
		}
	}
	return vector.At(0, 1)
}

// leaves reports whether a conductor near the place runs in direction d from it or across the way.
func leaves(c wire, at, d vector.Point) bool {
	ahead := func(p vector.Point) float64 { q := p.Minus(at); return q.X*d.X + q.Y*d.Y }
	return math.Max(ahead(c.from), ahead(c.to)) > 0.5
}

// ground draws three bars at the end of a short stem: the sign of battery negative.
func (w *drawing) ground(at, d vector.Point, reach float64, net int) {
	s := w.size
	foot := at.Plus(d.Times(reach + 0.45*s))
	w.wire(net, at, foot)
	n := vector.At(-d.Y, d.X)
	for i, half := range []float64{0.62, 0.4, 0.18} {
		c := foot.Plus(d.Times(float64(i) * 0.2 * s))
		w.add(line(symbolWidth, c.Minus(n.Times(half*s)), c.Plus(n.Times(half*s))))
	}
	w.solids = append(w.solids, vector.Around(foot.Minus(n.Times(0.62*s)), foot.Plus(n.Times(0.62*s)),
		foot.Plus(d.Times(0.45*s))))
}

// chassis draws the sign of a metal frame, a bar with slanted feet, and beside it the number of the point that it is
// joined to.
func (w *drawing) chassis(at, d vector.Point, net int) {
	s, n := w.size, vector.At(-d.Y, d.X) // d points away from the circuit, n along the bar
	w.add(line(symbolWidth, at.Minus(n.Times(0.55*s)), at.Plus(n.Times(0.55*s))))
	for _, k := range []float64{-0.55, 0, 0.55} {
		top := at.Plus(n.Times(k * s))
		w.add(line(symbolWidth, top, top.Plus(d.Times(0.4*s)).Minus(n.Times(0.25*s))))
	}
	w.solids = append(w.solids, vector.Around(at.Minus(n.Times(0.8*s)), at.Plus(n.Times(0.6*s)),
		at.Plus(d.Times(0.45*s))))
	number := w.circuit.Nodes[net].Number
	if number == 0 {
		return
	}
	r := w.radius * 0.9
	c := at.Plus(d.Times(0.45*s + r + 0.5))
	if d.Y != 0 {
		c = at.Plus(n.Times(-(0.6*s + r + 0.6) * d.Y)).Plus(d.Times(0.2 * s))
	}
	ring := circle(c, r, vector.White, 0.3)
	ring.Pen.Line = vector.Blue
	w.add(ring)
	w.number(c, r, number, vector.Style{Size: 8, Condensed: true})
}
