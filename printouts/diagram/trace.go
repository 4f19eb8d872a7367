package diagram

import (
	"math"
	"strconv"

	"nospark/printouts/page"
	"nospark/scenarios/handout"
)

// Trace draws an oscilloscope screen: the title and the vertical scale above, divisions with a ruled middle cross, the trace, the
// horizontal scale below. A trace that leaves the screen is cut at its edge, as on the instrument. Places without a value (NaN) are gaps.
func Trace(p handout.Plot, frame Rect, measure Measure) Scene {
	const head, foot, size = 5.5, 5.0, 8.0
	t := tracing{plot: p, screen: Rect{frame.X, frame.Y + head, frame.W, frame.H - head - foot}}
	t.scene.Paths = append(t.scene.Paths, rectangle(t.screen, page.White, 0.45))
	t.divisions()
	t.trace()
	// drawn again over the ends of the curve
	edge := rectangle(t.screen, page.None, 0.45)
	t.scene.Paths = append(t.scene.Paths, edge)
	t.write(p.Title, page.Style{Size: size + 1, Bold: true}, Rect{frame.X, frame.Y, frame.W * 0.62, head}, measure)
	t.write(scale(p.YLabel, p.YPerDivision), page.Style{Size: size, Align: page.Right}, Rect{frame.X + frame.W*0.62, frame.Y, frame.W * 0.38, head}, measure)
	t.write(scale(p.XLabel, p.XPerDivision), page.Style{Size: size, Align: page.Right}, Rect{frame.X, frame.Y + frame.H - foot + 0.6, frame.W, foot - 0.6}, measure)
	return t.scene
}

type tracing struct {
	plot   handout.Plot
	screen Rect
	scene  Scene
}

// scale names an axis and its value per division, "coil current, A: 2 per division".
func scale(label string, per float64) string {
	return label + ": " + strconv.FormatFloat(per, 'g', 4, 64) + " per division"
}

// write puts a text into its box, condensed where it is too long.
func (t *tracing) write(s string, style page.Style, box Rect, measure Measure) {
	style.Level = page.Middle
	style.Condensed = measure(s, style) > box.W
	t.scene.Texts = append(t.scene.Texts, Text{Text: s, Box: box, Style: style})
}

// x and y turn values into places on the screen.
func (t *tracing) x(v float64) float64 {
	return t.screen.X + t.screen.W*(v-t.plot.XFrom)/(t.plot.XTo-t.plot.XFrom)
}

func (t *tracing) y(v float64) float64 {
	return t.screen.Y + t.screen.H*(t.plot.YTo-v)/(t.plot.YTo-t.plot.YFrom)
}

// divisions draws the grid and small marks along the middle lines; with no valid scale the screen stays empty.
func (t *tracing) divisions() {
	s := t.screen
	each := func(from, to, per float64, draw func(v float64, middle bool)) {
		n := int(math.Round((to - from) / per))
		if !(per > 0) || n > 50 { // not a scale, or one too fine to see
			return
		}
		for i := 1; i < n; i++ {
			draw(from+float64(i)*per, 2*i == n)
		}
	}
	rule := func(middle bool, a, b Vec) {
		l := line(0.15, a, b)
		if middle {
			l.Pen.Width = 0.3
		}
		l.Pen.Line = page.Rule
		t.scene.Paths = append(t.scene.Paths, l)
	}
	each(t.plot.XFrom, t.plot.XTo, t.plot.XPerDivision, func(v float64, middle bool) {
		rule(middle, Vec{t.x(v), s.Y}, Vec{t.x(v), s.Y + s.H})
	})
	each(t.plot.YFrom, t.plot.YTo, t.plot.YPerDivision, func(v float64, middle bool) {
		rule(middle, Vec{s.X, t.y(v)}, Vec{s.X + s.W, t.y(v)})
	})
	c := s.centre()
	each(t.plot.XFrom, t.plot.XTo, t.plot.XPerDivision/5, func(v float64, _ bool) {
		rule(false, Vec{t.x(v), c.Y - 0.7}, Vec{t.x(v), c.Y + 0.7})
	})
}

// trace draws the curve in pieces that stay on the screen.
func (t *tracing) trace() {
	var piece []Vec
	flush := func() {
		if len(piece) > 1 {
			t.scene.Paths = append(t.scene.Paths, line(0.5, piece...))
		}
		piece = nil
	}
	for i := 1; i < len(t.plot.X) && i < len(t.plot.Y); i++ {
		a := Vec{t.x(t.plot.X[i-1]), t.y(t.plot.Y[i-1])}
		b := Vec{t.x(t.plot.X[i]), t.y(t.plot.Y[i])}
		from, to, ok := t.screen.cut(a, b)
		if !ok {
			flush()
			continue
		}
		// a curve that comes back onto the screen begins a new piece, not a line along the edge
		if len(piece) == 0 || !piece[len(piece)-1].near(from) {
			flush()
			piece = append(piece, from)
		}
		piece = append(piece, to)
	}
	flush()
}
