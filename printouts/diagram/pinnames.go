package diagram

import (
	"math"
	"slices"

	"nospark/printouts/vector"
)

// names writes the names of a box's terminals: level, moved a little where another name is in the way, condensed if
// need be. Where the terminals of the upper or the lower edge are too close for level names, these are turned upwards.
func (w *drawing) names(r vector.Rect, pins []pinName) {
	turned := map[float64]bool{1: w.collide(r, pins, 1), -1: w.collide(r, pins, -1)}
	for _, p := range pins {
		if p.text != "" && p.entry.side.Y != 0 && turned[p.entry.side.Y] {
			w.texts = append(w.texts, w.upward(p))
		}
	}
	var queue []pinName
	for _, p := range pins {
		if p.text != "" && (p.entry.side.Y == 0 || !turned[p.entry.side.Y]) {
			queue = append(queue, p)
		}
	}
	w.texts = append(w.texts, w.levelNames(r, queue)...)
}

// levelNames places names one after the other. One that finds no room goes to the front of the queue, and all are
// placed again, a few times at most; the attempt with the fewest stays.
func (w *drawing) levelNames(r vector.Rect, queue []pinName) (best []text) {
	before, fewest := len(w.texts), math.MaxInt
	for range 8 {
		var failed, rest []pinName
		for _, p := range queue {
			t, ok := w.levelName(r, p)
			w.texts = append(w.texts, t)
			if ok {
				rest = append(rest, p)
			} else {
				failed = append(failed, p)
			}
		}
		if len(failed) < fewest {
			fewest, best = len(failed), slices.Clone(w.texts[before:])
		}
		w.texts = w.texts[:before]
		if len(failed) == 0 {
			break
		}
		queue = append(failed, rest...)
	}
	if len(queue) > 0 {
		w.crowded += fewest
	}
	return best
}

// collide reports whether level names of the upper (-1) or lower (1) edge would lie on each other although turned ones
// fit.
func (w *drawing) collide(r vector.Rect, pins []pinName, side float64) bool {
	var level []vector.Rect
	for _, p := range pins {
		if p.entry.side.Y != side || p.text == "" {
			continue
		}
		if w.upward(p).Box.H > 0.6*r.H {
			return false // turned ones would meet those of the other edge
		}
		box, _ := nameBox(p, w.measure(p.text, vector.Style{Size: 8, Condensed: true}), 8*vector.PerPoint, 0)
		level = append(level, box)
	}
	for i, a := range level {
		for _, b := range level[:i] {
			if a.Overlaps(b.Grown(0.4)) {
				return true
			}
		}
	}
	return false
}

// gap is the distance from the edge of the box to the name, mm.
func (p pinName) gap() float64 { return math.Max(terminalHalf, p.reach) + 0.9 }

// upward is a name that is read from below upwards.
func (w *drawing) upward(p pinName) text {
	style := vector.Style{Size: 8, Condensed: true, Angle: 90, Level: vector.Middle}
	long, high := w.measure(p.text, style), style.Size*vector.PerPoint
	box := vector.Box(p.entry.at.X-high/2, p.entry.at.Y+p.gap(), high, long)
	if p.entry.side.Y > 0 {
		box.Y = p.entry.at.Y - p.gap() - long
	}
	return w.measured(p.text, box, style, terminalName)
}

// levelName tries sizes and places and keeps the first that is free, or else the first of all.
func (w *drawing) levelName(r vector.Rect, p pinName) (t text, ok bool) {
	styles, steps := []vector.Style{{Size: 8}, {Size: 8, Condensed: true}},
		[]float64{0, 0.3, -0.3, 0.6, -0.6, 0.85, -0.85, 1, 1.25, 1.5, 1.75, 2, 2.5}
	place := func(style vector.Style, step float64) text {
		box, align := nameBox(p, w.measure(p.text, style), style.Size*vector.PerPoint, step)
		if align == vector.Center {
			box.X = clamp(box.X, r.X+0.5, math.Max(r.X+0.5, r.X+r.W-0.5-box.W))
		}
		style.Align, style.Level = align, vector.Middle
		return w.measured(p.text, box, style, terminalName)
	}
	half := r // names of the upper edge stay in the upper half
	if p.entry.side.Y != 0 {
		half = vector.Box(r.X, r.Y+math.Max(0, p.entry.side.Y)*r.H/2, r.W, r.H/2)
	}
	for _, step := range steps {
		for _, style := range styles {
			if t := place(style, step); r.Grown(-0.4).Contains(t.Box) && half.Contains(t.Box) && !w.named(t.Box) {
				return t, true
			}
		}
	}
	return place(styles[len(styles)-1], 0), false
}

// nameBox is the place of a pin's name. On the sides step moves it up or down by its height; at top and bottom along
// the edge by its width, or from 1 on deeper into the box.
func nameBox(p pinName, wide, high, step float64) (vector.Rect, vector.Align) {
	e, gap := p.entry, p.gap()
	switch y := e.at.Y - high/2 + step*high; {
	case e.side.X < 0:
		return vector.Box(e.at.X+gap, y, wide, high), vector.Left
	case e.side.X > 0:
		return vector.Box(e.at.X-gap-wide, y, wide, high), vector.Right
	}
	depth, slide := gap, step*wide
	if step >= 1 {
		depth, slide = gap+step*high, 0
	}
	box := vector.Box(e.at.X-wide/2+slide, e.at.Y+depth, wide, high)
	if e.side.Y > 0 {
		box.Y = e.at.Y - depth - high
	}
	return box, vector.Center
}

// named reports whether a text, or the circle of a point, already stands where the box is.
func (w *drawing) named(box vector.Rect) bool {
	for _, t := range w.texts {
		if t.Box.Overlaps(vector.Box(box.X-1.1, box.Y-0.3, box.W+2.2, box.H+0.6)) {
			return true
		}
	}
	for i, at := range w.at {
		r := w.reach(i)
		if r > 0 && (vector.Box(at.X-r, at.Y-r, 2*r, 2*r)).Overlaps(box.Grown(0.3)) {
			return true
		}
	}
	return false
}

// pinName is the name of a terminal, written inside its box; reach is how far the circle of its node covers the box.
type pinName struct {
	text  string
	entry entry
	reach float64
}

const terminalHalf = 0.75
