package page

import (
	"testing"

	"nospark/printouts/page/canvas"
)

// seen is an item with its place on the paper.
type seen struct {
	canvas.Item
	page int
}

// left and right are the ends of a level text, mm.
func (s seen) ends() (left, right float64) { return s.X, s.X + s.Width }

// items gives what is drawn in the bodies of all pages of an open section, in the order of printing.
func items(f *Flow) []seen {
	f.settle()
	var out []seen
	for i, parts := range f.pages {
		for _, p := range parts {
			for _, m := range f.list[p.from:p.to] {
				m.X, m.Y = m.X+p.x, m.Y+p.y
				if m.Kind == canvas.Line {
					m.W, m.H = m.W+p.x, m.H+p.y
				}
				out = append(out, seen{m, i})
			}
		}
	}
	return out
}

// texts gives the level texts of a section in the order of printing.
func texts(f *Flow) []seen {
	var out []seen
	for _, m := range items(f) {
		if m.Kind == canvas.Text && m.Angle == 0 {
			out = append(out, m)
		}
	}
	return out
}

// newSection opens a section of a document for tests that look at what is drawn.
func newSection(t testing.TB, o Options, frame Frame) *Flow {
	t.Helper()
	o.Date = sampleDate
	return New(o).Section(frame)
}
