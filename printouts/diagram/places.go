package diagram

import (
	"math"
	"strings"

	"nospark/printouts/vector"
)

const lineHeight = 1.18 // of the size

// labelSearch looks for the place of one label. The frame, conductors and symbols stand still while labels are placed, so
// each place is held against them once, however often it is tried; only the other labels change.
type labelSearch struct {
	label
	letterings []lettering
	tried      []placeState // of each place, in the order in which [labelSearch.places] offers them

	hopeless bool // nothing is free even without other labels
}

// lettering is a style of letters and a wrapping of a label's text.
type lettering struct {
	style      vector.Style
	lines      []string
	wide, high float64 // mm
	cost       float64
}

// placeState is what is known of a place apart from other labels.
type placeState uint8

const (
	unknown placeState = iota
	blocked
	free
)

// newLabelSearch prepares every wrapping in every style.
func newLabelSearch(l label, measure vector.Measure) *labelSearch {
	s := &labelSearch{label: l}
	wraps := wrappings(l.text)
	for si, style := range l.styles {
		for li, lines := range wraps {
			v := lettering{style: style, lines: lines, cost: float64(si)*2.5 + float64(li)*1.5}
			for _, text := range lines {
				v.wide = math.Max(v.wide, measure(text, style))
			}
			v.high = float64(len(lines)) * style.Size * vector.PerPoint * lineHeight
			if v.wide > 34 { // long lines spread over the circuit; broken ones stay near their object
				v.cost += (v.wide - 34) / 2
			}
			s.letterings = append(s.letterings, v)
		}
	}
	s.tried = make([]placeState, len(s.letterings)*placesEach)
	return s
}

// find tries every wrapping, size and place and keeps the free one of least cost, the first of equals.
func (w *drawing) find(s *labelSearch, taken []vector.Rect) (placed, bool) {
	best, cost := placed{}, math.Inf(1)
	if s.hopeless {
		return best, false
	}
	for i, v := range s.letterings {
		tried := s.tried[i*placesEach:]
		s.places(v, &cost, func(n int, box vector.Rect, c float64, align vector.Align) {
			if tried[n] == blocked || occupied(box, taken) {
				return
			}
			p := placed{label: s.label, box: box, lines: v.lines, style: v.style}
			p.style.Align = align
			p.from, p.to, p.leader = p.line()
			if tried[n] == unknown {
				tried[n] = blocked
				if w.fits(box, s.label) && (!p.leader || !s.close && w.open(p)) {
					tried[n] = free
				}
			}
			if tried[n] == free && !(p.leader && crossed(p, taken)) {
				best, cost = p, c
			}
		})
	}
	return best, !math.IsInf(cost, 1)
}

var (
	gaps   = []float64{clear + 0.3, clear + 0.9, 2.2, 3.5, 5, 7, 9.5, 12.5} // mm from the object
	levels = [...]float64{0, -0.12, 0.12, -0.24, 0.24, -0.36, 0.36}         // inside a box, of its height
)

// slides counts the places along a side: its middle, towards its ends, and just beside a conductor that leaves the
// middle.
const slides = 9

// placesEach counts the places around one asked for, inside a box, and on four sides at each gap.
var placesEach = 25 + len(levels) + 4*len(gaps)*slides

// places offers boxes for a label, each with its number, its cost and its alignment, while they cost less than limit:
// whoever takes one lowers it.
func (s *labelSearch) places(v lettering, limit *float64, take func(n int, box vector.Rect, cost float64, align vector.Align)) {
	n := 0
	offer := func(box vector.Rect, cost float64, align vector.Align) {
		if cost += v.cost; cost < *limit {
			take(n, box, cost, align)
		}
		n++
	}
	if s.at != nil { // the asked place, and a little around it where a conductor is in the way
		for _, dy := range []float64{0, -1.5, 1.5, -3, 3} {
			for _, dx := range []float64{0, -2, 2, -4, 4} {
				offer(vector.Box(s.at.X-v.wide/2+dx, s.at.Y-v.high/2+dy, v.wide, v.high),
					(math.Abs(dx)+math.Abs(dy))/4-20, vector.Center)
			}
		}
	}
	if s.inside {
		c := s.near.Center()
		for _, dy := range levels {
			offer(vector.Box(c.X-v.wide/2, c.Y-v.high/2+dy*s.near.H, v.wide, v.high), math.Abs(dy)-10, vector.Center)
		}
	}
	near := s.near
	if near.W == 0 {
		near = vector.Box(s.spot.X, s.spot.Y, 0, 0)
	}
	// near before far, right and above before left and below, the middle of a side before its ends
	for gi := range gaps {
		for _, side := range [...]string{"right", "above", "left", "below"} {
			cost := s.sideCost(gi, side)
			if cost+v.cost >= *limit {
				n += slides
				continue
			}
			past := (v.wide/2 + clear + 0.1) / ((v.wide + near.W) / 2)
			if side == "left" || side == "right" {
				past = (v.high/2 + clear + 0.1) / ((v.high + near.H) / 2)
			}
			for _, k := range [...]float64{0, -0.5, 0.5, -0.75, 0.75, -1, 1, -past, past} {
				box, align := beside(near, side, gaps[gi], k, v.wide, v.high)
				offer(box, cost+math.Abs(k)*1.1, align)
			}
		}
	}
}

// sideCost is the cost of the middle of a side at a gap.
func (s *labelSearch) sideCost(gap int, side string) float64 {
	const nearby = 3 // the gaps up to 3.5 mm
	cost := float64(gap) * 1.6
	switch {
	case side == s.side && gap <= nearby:
		cost -= 12 // outweighs any other side
	case side == s.side:
		cost -= 2 // far away on the asked side is worse than near on another: the eye takes the nearest point
	case side == "left" || side == "below":
		cost += 0.4
	}
	return cost
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

// fits reports whether a box lies in the frame and clear of wires and symbols.
func (w *drawing) fits(box vector.Rect, l label) bool {
	if !w.frame.Contains(box) {
		return false
	}
	room := box.Grown(clear)
	for _, s := range w.solids {
		if s.Overlaps(room) && !(l.inside && s == l.near && s.Contains(room)) {
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

// occupied reports whether a box comes too near another text: beside each other two labels need the room of a wide
// space, above each other less.
func occupied(box vector.Rect, taken []vector.Rect) bool {
	words := vector.Box(box.X-apart, box.Y-clear, box.W+2*apart, box.H+2*clear)
	for _, t := range taken {
		if t.Overlaps(words) {
			return true
		}
	}
	return false
}

// tip is where a leader stops to be held against other things: its end touches the object, and what leaves there.
func (p placed) tip() vector.Point { return vector.Between(p.from, p.to, 0.9) }

// crossed reports whether the leader of a label runs through another text.
func crossed(p placed, taken []vector.Rect) bool {
	for _, t := range taken {
		if t.Crossed(p.from, p.tip()) {
			return true
		}
	}
	return false
}

// open reports whether the leader of a label crosses no symbol and no conductor.
func (w *drawing) open(p placed) bool {
	tip := p.tip()
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
