package page

import "testing"

// seen is a mark with its place on the paper.
type seen struct {
	mark
	page int
}

// left and right are the ends of a level text, mm.
func (s seen) ends() (left, right float64) { return s.x, s.x + s.wide }

// marks gives the body's marks of all pages of an open section, in the order of printing.
func marks(f *Flow) []seen {
	f.settle()
	var out []seen
	for i, parts := range f.pages {
		for _, p := range parts {
			for _, m := range f.ink[p.from:p.to] {
				m.x, m.y = m.x+p.x, m.y+p.y
				if m.kind == markLine {
					m.w, m.h = m.w+p.x, m.h+p.y
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
	for _, m := range marks(f) {
		if m.kind == markText && m.angle == 0 {
			out = append(out, m)
		}
	}
	return out
}

// newSection opens a section of a document for tests that look at marks.
func newSection(t testing.TB, o Options, frame Frame) *Flow {
	t.Helper()
	o.Date = sampleDate
	return New(o).Section(frame)
}
