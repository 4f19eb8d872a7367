package diagram

import (
	"math"
	"strings"

	"nospark/printouts/vector"
	"nospark/scenarios/handout"
)

const (
	lineHeight = 1.18 // of the size
	clear      = 0.7  // mm between a label and anything else
	apart      = 1.8  // mm between two labels side by side
	leaderFrom = 3.2  // mm: a label further off its object gets a leader
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
	fixed := w.texts
	var best []placed
	fewest := math.MaxInt
	for range 16 { // each costs as much as the first
		done, failed := w.attempt(queue, fixed)
		if len(failed) < fewest {
			fewest, best = len(failed), done
			w.left = nil
			for _, l := range failed {
				w.left = append(w.left, l.text)
			}
		}
		if len(failed) == 0 {
			break
		}
		queue = forward(queue, failed)
	}
	for _, p := range best {
		w.print(p)
	}
}

// ordered is the first queue: what has a place asked for, what must be printed, points with a side asked for, the
// other points, wires. Within a rank the order of the diagram holds, so the outcome repeats.
func (w *drawing) ordered() []label {
	var queue []label
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
	for r := range 5 {
		for _, l := range w.wanted {
			if rank(l) == r {
				queue = append(queue, l)
			}
		}
	}
	return queue
}

// forward moves the labels that failed before all others.
func forward(queue, failed []label) []label {
	next := append([]label(nil), failed...)
	for _, l := range queue {
		lost := false
		for _, f := range failed {
			lost = lost || f.text == l.text && f.spot == l.spot
		}
		if !lost {
			next = append(next, l)
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

// open reports whether the leader of a label crosses nothing.
func (w *drawing) open(p placed, taken []vector.Rect) bool {
	tip := vector.Between(p.from, p.to, 0.9) // its end touches the object, and what leaves there
	for _, t := range taken {
		if t.Crossed(p.from, tip) {
			return false
		}
	}
	for _, s := range w.solids {
		if s != p.near && s.Grown(clear).Crossed(p.from, tip) {
			return false
		}
	}
	for _, c := range w.wires {
		if cross(p.from, tip, c.from, c.to) || alongside(p.from, tip, c.from, c.to) {
			return false
		}
	}
	return true
}

// alongside reports whether an end of one piece lies so near the other that the leader would seem to be part of the
// conductor.
func alongside(a, b, c, d vector.Point) bool {
	off := func(p, from, to vector.Point) float64 {
		l := to.Minus(from).Length()
		u, v := from.Toward(to), p.Minus(from)
		return p.Minus(from.Plus(u.Times(clamp(v.X*u.X+v.Y*u.Y, 0, l)))).Length()
	}
	return min(off(a, c, d), off(b, c, d), off(c, a, b), off(d, a, b)) < clear
}

// cross reports whether two straight pieces intersect.
func cross(a, b, c, d vector.Point) bool {
	turn := func(p, q, r vector.Point) float64 { return (q.X-p.X)*(r.Y-p.Y) - (q.Y-p.Y)*(r.X-p.X) }
	return turn(a, b, c)*turn(a, b, d) < 0 && turn(c, d, a)*turn(c, d, b) < 0
}

// attempt places the labels of a queue one after the other; each stays clear of all before it.
func (w *drawing) attempt(queue []label, fixed []text) (done []placed, failed []label) {
	taken := make([]vector.Rect, 0, len(fixed)+len(queue))
	for _, t := range fixed {
		if t.kind != pointNumber { // its circle is a solid
			taken = append(taken, t.Box)
		}
	}
	for _, l := range queue {
		p, ok := w.find(l, taken)
		if !ok {
			failed = append(failed, l)
			continue
		}
		done = append(done, p)
		taken = append(taken, p.box)
	}
	return done, failed
}

// find tries every wrapping, size and place and keeps the free one of least cost, the first of equals.
func (w *drawing) find(l label, taken []vector.Rect) (placed, bool) {
	best, cost := placed{}, math.Inf(1)
	for si, style := range l.styles {
		for li, lines := range wrappings(l.text) {
			wide := 0.0
			for _, s := range lines {
				wide = math.Max(wide, w.measure(s, style))
			}
			high := float64(len(lines)) * style.Size * vector.PerPoint * lineHeight
			base := float64(si)*2.5 + float64(li)*1.5
			if wide > 34 { // long lines spread over the circuit; broken ones stay near their object
				base += (wide - 34) / 2
			}
			w.candidates(l, wide, high, func(box vector.Rect, extra float64, align vector.Align) {
				c := base + extra
				if c >= cost || !w.isFree(box, l, taken) {
					return
				}
				p := placed{label: l, box: box, lines: lines, style: style}
				p.style.Align = align
				p.from, p.to, p.leader = p.line()
				if !p.leader || !l.close && w.open(p, taken) {
					best, cost = p, c
				}
			})
		}
	}
	return best, !math.IsInf(cost, 1)
}

// candidates offers boxes for a label of the given size, each with its cost and alignment.
func (w *drawing) candidates(l label, wide, high float64, offer func(vector.Rect, float64, vector.Align)) {
	if l.at != nil { // the asked place, and a little around it where a conductor is in the way
		for _, dy := range []float64{0, -1.5, 1.5, -3, 3} {
			for _, dx := range []float64{0, -2, 2, -4, 4} {
				offer(vector.Box(l.at.X-wide/2+dx, l.at.Y-high/2+dy, wide, high), (math.Abs(dx)+math.Abs(dy))/4-20,
					vector.Center)
			}
		}
	}
	if l.inside {
		c := l.near.Center()
		for _, dy := range []float64{0, -0.12, 0.12, -0.24, 0.24, -0.36, 0.36} {
			offer(vector.Box(c.X-wide/2, c.Y-high/2+dy*l.near.H, wide, high), math.Abs(dy)-10, vector.Center)
		}
	}
	near := l.near
	if near.W == 0 {
		near = vector.Box(l.spot.X, l.spot.Y, 0, 0)
	}
	// near before far, right and above before left and below, the middle of a side before its ends
	slides := []float64{0, -0.5, 0.5, -0.75, 0.75, -1, 1}[:7:7]
	const nearby = 3 // the gaps up to 3.5 mm
	for gi, gap := range []float64{clear + 0.3, clear + 0.9, 2.2, 3.5, 5, 7, 9.5, 12.5} {
		for _, side := range []string{"right", "above", "left", "below"} {
			cost := float64(gi) * 1.6
			switch {
			case side == l.side && gi <= nearby:
				cost -= 12 // outweighs any other side
			case side == l.side:
				cost -= 2 // far away on the asked side is worse than near on another: the eye takes the nearest point
			case side == "left" || side == "below":
				cost += 0.4
			}
			// just beside a conductor that leaves the middle of this side
			past := (wide/2 + clear + 0.1) / ((wide + near.W) / 2)
			if side == "left" || side == "right" {
				past = (high/2 + clear + 0.1) / ((high + near.H) / 2)
			}
			for _, k := range append(slides, -past, past) {
				box, align := beside(near, side, gap, k, wide, high)
				offer(box, cost+math.Abs(k)*1.1, align)
			}
		}
	}
}

// beside gives the box of a label on one side of an object; k slides it from one end (-1) over the middle to the other
// (1).
func beside(near vector.Rect, side string, gap, k, wide, high float64) (vector.Rect, vector.Align) {
	c := near.Center()
	switch side {
	case "right":
		return vector.Box(near.X+near.W+gap, c.Y-high/2+k*(high+near.H)/2, wide, high), vector.Left
	case "left":
		return vector.Box(near.X-gap-wide, c.Y-high/2+k*(high+near.H)/2, wide, high), vector.Right
	case "above":
		return vector.Box(c.X-wide/2+k*(wide+near.W)/2, near.Y-gap-high, wide, high), vector.Center
	default:
		return vector.Box(c.X-wide/2+k*(wide+near.W)/2, near.Y+near.H+gap, wide, high), vector.Center
	}
}

// isFree reports whether a box lies in the frame and clear of wires, symbols and other texts.
func (w *drawing) isFree(box vector.Rect, l label, taken []vector.Rect) bool {
	if !w.frame.Contains(box) {
		return false
	}
	room := box.Grown(clear)
	for _, s := range w.solids {
		if s.Overlaps(room) && !(l.inside && s == l.near && s.Contains(room)) {
			return false
		}
	}
	// beside each other two labels need the room of a wide space, above each other less
	words := vector.Box(box.X-apart, box.Y-clear, box.W+2*apart, box.H+2*clear)
	for _, t := range taken {
		if t.Overlaps(words) {
			return false
		}
	}
	for _, c := range w.wires {
		if room.Crossed(c.from, c.to) {
			return false
		}
	}
	return true
}

// wrappings gives the text on one line and broken at spaces into two, three and four lines of least width.
func wrappings(text string) [][]string {
	words := strings.Fields(text)
	ways := [][]string{{strings.Join(words, " ")}}
	for n := 2; n <= 4 && n <= len(words); n++ {
		ways = append(ways, broken(words, n))
	}
	return ways
}

// broken splits the words into n lines so that the longest line has the fewest letters.
func broken(words []string, n int) []string {
	if n == 1 {
		return []string{strings.Join(words, " ")}
	}
	// labels have few words: trying every first line is fast enough
	var best []string
	least := math.MaxInt
	for first := 1; first <= len(words)-n+1; first++ {
		lines := append([]string{strings.Join(words[:first], " ")}, broken(words[first:], n-1)...)
		longest := 0
		for _, s := range lines {
			longest = max(longest, len([]rune(s)))
		}
		if longest < least {
			best, least = lines, longest
		}
	}
	return best
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
