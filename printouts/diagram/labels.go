package diagram

import (
	"math"
	"slices"

	"nospark/printouts/vector"
	"nospark/scenarios/handout"
)

const (
	clear      = 0.7 // mm between a label and anything else
	apart      = 1.8 // mm between two labels side by side
	leaderFrom = 3.2 // mm: a label further off its object gets a leader
)

// want asks for the label of a part.
func (w *drawing) want(p *handout.DiagramPart, spot vector.Point, near vector.Rect, wire bool) {
	if p.Label == "" {
		return
	}
	l := label{text: p.Label, near: near, spot: spot, kind: partLabel, styles: []vector.Style{
		{Size: 9, Bold: true}, {Size: 9, Bold: true, Condensed: true}, {Size: 8, Bold: true, Condensed: true}}}
	if wire {
		l.optional, l.close, l.styles = true, true, []vector.Style{{Size: 8, Condensed: true, Color: vector.Gray}}
	}
	if p.LabelAt != nil {
		at := w.place(*p.LabelAt)
		l.at = &at
	}
	w.wanted = append(w.wanted, l)
}

// wantInside asks for the label of a part drawn as a box, in the box if there is room.
func (w *drawing) wantInside(p *handout.DiagramPart, box vector.Rect) {
	n := len(w.wanted)
	w.want(p, box.Center(), box, false)
	for i := range w.wanted[n:] {
		w.wanted[n+i].inside = true
	}
}

// labels places parts' labels, then those of the points, then those of the wires. When one finds no room it goes to the
// front of the queue and all are placed again, a few times at most; the best attempt stays.
func (w *drawing) labels() {
	for i, n := range w.circuit.Nodes {
		if n.Number > 0 && n.Label != "" {
			r := w.radius
			w.wanted = append(w.wanted, label{
				text: n.Label, near: vector.Box(w.at[i].X-r, w.at[i].Y-r, 2*r, 2*r), spot: w.at[i], side: n.Side,
				kind: pointLabel, optional: true, styles: []vector.Style{{Size: 8, Condensed: true}},
			})
		}
	}
	queue := w.ordered()
	fixed := w.fixed()
	var best []placed
	fewest := math.MaxInt
	for range 16 {
		done, failed := w.attempt(queue, fixed)
		if len(failed) < fewest {
			fewest, best = len(failed), done
			w.left = nil
			for _, s := range failed {
				w.left = append(w.left, s.text)
			}
		}
		next := forward(queue, failed)
		if w.hopeless(failed, fixed) || slices.Equal(next, queue) {
			break // no other order can place more
		}
		queue = next
	}
	for _, p := range best {
		w.print(p)
	}
}

// ordered is the first queue: what has a place asked for, what must be printed, points with a side asked for, the
// other points, wires. Within a rank the order of the diagram holds, so the outcome repeats.
func (w *drawing) ordered() []*labelSearch {
	rank := func(l label) int {
		switch {
		case l.at != nil:
			return 0
		case !l.optional:
			return 1
		case l.kind == pointLabel && l.side != "":
			return 2
		case l.kind == pointLabel:
			return 3
		}
		return 4
	}
	wanted := slices.Clone(w.wanted)
	slices.SortStableFunc(wanted, func(a, b label) int { return rank(a) - rank(b) })
	var queue []*labelSearch
	for _, l := range wanted {
		queue = append(queue, newLabelSearch(l, w.measure))
	}
	return queue
}

// fixed are the texts that labels keep clear of: all but numbers of points, whose circles are solids.
func (w *drawing) fixed() []vector.Rect {
	var boxes []vector.Rect
	for _, t := range w.texts {
		if t.kind != pointNumber {
			boxes = append(boxes, t.Box)
		}
	}
	return boxes
}

// attempt places the labels of a queue one after the other; each stays clear of all before it.
func (w *drawing) attempt(queue []*labelSearch, fixed []vector.Rect) (done []placed, failed []*labelSearch) {
	taken := slices.Clip(fixed)
	for _, s := range queue {
		p, ok := w.find(s, taken)
		if !ok {
			failed = append(failed, s)
			continue
		}
		done = append(done, p)
		taken = append(taken, p.box)
	}
	return done, failed
}

// hopeless reports whether none of the labels would find a place even as the first, and spares them further searching.
func (w *drawing) hopeless(failed []*labelSearch, fixed []vector.Rect) bool {
	none := true
	for _, s := range failed {
		_, ok := w.find(s, fixed)
		s.hopeless = !ok
		none = none && s.hopeless
	}
	return none
}

// forward moves the labels that failed before all others.
func forward(queue, failed []*labelSearch) []*labelSearch {
	next := slices.Clone(failed)
	for _, s := range queue {
		if !slices.Contains(failed, s) {
			next = append(next, s)
		}
	}
	return next
}

// placed is a label with its place.
type placed struct {
	label
	box   vector.Rect
	lines []string
	style vector.Style

	leader   bool
	from, to vector.Point // of the leader
}

// line gives the leader from a label to its object, if it needs one.
func (p placed) line() (from, to vector.Point, needed bool) {
	from, to = p.box.Nearest(p.spot), p.spot
	if p.near.W > 0 {
		to = p.near.Nearest(from)
		from = p.box.Nearest(to)
	}
	if p.kind == pointLabel { // its object is a circle
		from = p.box.Nearest(p.spot)
		to = p.spot.Plus(p.spot.Toward(from).Times(p.near.W / 2))
	}
	return from, to, from.Minus(to).Length() > leaderFrom && !p.inside && p.at == nil
}

// print adds a placed label to the scene, line by line, and a leader when it is far from its object.
func (w *drawing) print(p placed) {
	step := p.box.H / float64(len(p.lines))
	for i, s := range p.lines {
		w.write(s, vector.Box(p.box.X, p.box.Y+float64(i)*step, p.box.W, step), p.style, p.kind)
	}
	if p.leader {
		l := line(0.2, p.from, p.to)
		l.Pen.Line = vector.Gray
		w.add(l)
		w.leaders++
	}
}
