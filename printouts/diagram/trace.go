package diagram

import (
	"strconv"
	"strings"

	"nospark/printouts/content"
	"nospark/printouts/vector"
	"nospark/scenarios/handout"
)

// Trace draws an oscilloscope screen: the title and the vertical scale above, divisions with a ruled middle cross, the
// trace, the horizontal scale below. A trace that leaves the screen is cut at its edge, as on the instrument. Places
// without a value (NaN) are gaps.
func Trace(p handout.Plot, frame vector.Rect, measure vector.Measure) vector.Scene {
	return trace(p, frame, 1, measure)
}

// LargeTrace is [Trace] with the texts of large print.
func LargeTrace(p handout.Plot, frame vector.Rect, measure vector.Measure) vector.Scene {
	return trace(p, frame, 18.0/8, measure)
}

// trace draws with texts that are larger by a factor than those of small print.
func trace(p handout.Plot, frame vector.Rect, larger float64, measure vector.Measure) vector.Scene {
	head, foot, size := 5.5*larger, 5.0*larger, 8.0*larger
	t := tracing{plot: p, screen: vector.Box(frame.X, frame.Y+head, frame.W, frame.H-head-foot)}
	t.scene.Shapes = append(t.scene.Shapes, rectangle(t.screen, vector.White, 0.45))
	t.divisions()
	t.trace()
	// drawn again over the ends of the curve
	edge := rectangle(t.screen, vector.None, 0.45)
	t.scene.Shapes = append(t.scene.Shapes, edge)
	t.write(p.Title, vector.Style{Size: size + 1, Bold: true}, vector.Box(frame.X, frame.Y, frame.W*0.62, head),
		measure)
	t.write(scale(p.YLabel, p.YPerDivision), vector.Style{Size: size, Align: vector.Right},
		vector.Box(frame.X+frame.W*0.62, frame.Y, frame.W*0.38, head), measure)
	t.write(scale(p.XLabel, p.XPerDivision), vector.Style{Size: size, Align: vector.Right},
		vector.Box(frame.X, frame.Y+frame.H-foot+0.6, frame.W, foot-0.6), measure)
	t.scene.Title, t.scene.Frame = p.Title, frame
	t.scene.Description = strings.Join(content.TraceWords(p), " ")
	return t.scene
}

type tracing struct {
	plot   handout.Plot
	screen vector.Rect
	scene  vector.Scene
}

// scale names an axis and its value per division, "coil current, A: 2 per division".
func scale(label string, per float64) string {
	return label + ": " + strconv.FormatFloat(per, 'g', 4, 64) + " per division"
}

// write puts a text into its box, condensed where it is too long.
func (t *tracing) write(s string, style vector.Style, box vector.Rect, measure vector.Measure) {
	style.Level = vector.Middle
	style.Condensed = measure(s, style) > box.W
	t.scene.Texts = append(t.scene.Texts, vector.Text{Text: s, Box: box, Width: measure(s, style), Style: style})
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
		n := divisions(from, to, per)
		for i := 1; i < n; i++ {
			draw(from+float64(i)*per, 2*i == n)
		}
	}
	rule := func(middle bool, a, b vector.Point) {
		l := line(0.15, a, b)
		if middle {
			l.Pen.Width = 0.3
		}
		l.Pen.Line = vector.Rule
		t.scene.Shapes = append(t.scene.Shapes, l)
	}
	each(t.plot.XFrom, t.plot.XTo, t.plot.XPerDivision, func(v float64, middle bool) {
		rule(middle, vector.At(t.x(v), s.Y), vector.At(t.x(v), s.Y+s.H))
	})
	each(t.plot.YFrom, t.plot.YTo, t.plot.YPerDivision, func(v float64, middle bool) {
		rule(middle, vector.At(s.X, t.y(v)), vector.At(s.X+s.W, t.y(v)))
	})
	c := s.Center()
	each(t.plot.XFrom, t.plot.XTo, t.plot.XPerDivision/5, func(v float64, _ bool) {
		rule(false, vector.At(t.x(v), c.Y-0.7), vector.At(t.x(v), c.Y+0.7))
	})
}

// trace draws the curve in pieces that stay on the screen.
func (t *tracing) trace() {
	var piece []vector.Point
	flush := func() {
		if len(piece) > 1 {
			t.scene.Shapes = append(t.scene.Shapes, line(0.5, piece...))
		}
		piece = nil
	}
	for i := 1; i < len(t.plot.X) && i < len(t.plot.Y); i++ {
		a := vector.At(t.x(t.plot.X[i-1]), t.y(t.plot.Y[i-1]))
		b := vector.At(t.x(t.plot.X[i]), t.y(t.plot.Y[i]))
		from, to, ok := t.screen.Cut(a, b)
		if !ok {
			flush()
			continue
		}
		// a curve that comes back onto the screen begins a new piece, not a line along the edge
		if len(piece) == 0 || !piece[len(piece)-1].Near(from) {
			flush()
			piece = append(piece, from)
		}
		piece = append(piece, to)
	}
	flush()
}
