package page

import (
	"strconv"

	"nospark/printouts/page/canvas"
	"nospark/printouts/page/pdf"
	"nospark/printouts/page/typeset"
	"nospark/printouts/vector"
)

// Margins of the paper, mm: more than the 4 to 6 mm that office printers cannot reach, and room for a thumb or for holes.
const (
	sideMargin = 18.0
	edgeMargin = 12.5 // above the running head and below the foot
)

// Frame is what surrounds a section's pages. All its texts may be empty.
type Frame struct {
	Name      string  // in the viewer's outline
	Left      string  // running head, left
	Right     string  // running head, right, bold: what tells this sheet from others
	Foot      string  // foot of every page, beside "page 1 of 2"
	Size      float64 // body size, pt; 0 means 10.5; 12 for sheets to write on
	Large     bool    // large print: 18 pt throughout
	Landscape bool
	Side      float64 // margins at the sides, mm; 0 means 18
}

// bare reports whether pages have no running head.
func (f Frame) bare() bool { return f.Left == "" && f.Right == "" }

// newFlow begins a section with its first page.
func newFlow(d *Document, frame Frame) *Flow {
	if frame.Side == 0 {
		frame.Side = sideMargin
	}
	large := frame.Large || d.options.LargePrint
	setter := &typeset.Setter{Sizes: typeset.SizesFor(frame.Size, large), Fonts: d.fonts}
	f := &Flow{doc: d, frame: frame, list: d.list, Setter: setter}
	f.pageW, f.pageH = d.width, d.height
	if frame.Landscape {
		f.pageW, f.pageH = d.height, d.width
	}
	furniture := f.LineHeight(Style{Size: f.Sizes.Small})
	f.W = f.pageW - 2*f.frame.Side
	f.left = f.frame.Side
	f.top = edgeMargin + furniture + 4
	if frame.bare() {
		f.top = edgeMargin + 4
	}
	f.bottom = f.pageH - edgeMargin - furniture - 2.5
	f.turn()
	return f
}

// write hands the section's pages to the file, each with its head and foot around the body, in reading order.
func (f *Flow) write(w *pdf.Writer) error {
	if f.doc.options.FrontPages && f.doc.pages%2 == 1 {
		w.Page(f.pageW, f.pageH)
		f.doc.pages++
	}
	for i, parts := range f.pages {
		w.Page(f.pageW, f.pageH)
		if i == 0 {
			w.Bookmark(f.frame.Name)
		}
		from := len(f.list)
		f.head()
		between := len(f.list)
		f.foot(i + 1)
		if err := w.Draw(f.list[from:between], 0, 0); err != nil {
			return err
		}
		for _, part := range parts {
			if err := f.writePart(w, part); err != nil {
				return err
			}
		}
		if err := w.Draw(f.list[between:], 0, 0); err != nil {
			return err
		}
		f.list = f.list[:from]
	}
	return nil
}

// writePart puts a part on the current page of the file.
func (f *Flow) writePart(w *pdf.Writer, p part) error {
	if p.template == nil {
		return w.Draw(f.list[p.from:p.to], p.x, p.y)
	}
	if !p.template.written {
		made, err := w.Template(p.template.list, f.pageW, f.pageH)
		if err != nil {
			return err
		}
		p.template.made, p.template.written = made, true
	}
	return w.Use(p.template.made)
}

// paper is a canvas over the whole page.
func (f *Flow) paper() Canvas {
	return canvas.New(f.pageW, f.pageH, f.Setter, &f.list)
}

// head draws the running head: left and right on one line above a rule.
func (f *Flow) head() {
	if f.frame.bare() {
		return
	}
	c, s := f.paper(), Style{Size: f.Sizes.Small, Color: Gray}
	wide := f.pageW - 2*f.frame.Side
	baseline := edgeMargin + 0.8*s.Size*vector.PerPoint
	strong := Style{Size: f.Sizes.Small, Bold: true, Align: Right}
	right := min(f.Width(f.frame.Right, strong), 0.6*wide)
	if f.frame.Left != "" {
		c.Fit(f.frame.Side, baseline, wide-right-4, f.frame.Left, s)
	}
	c.Fit(f.pageW-f.frame.Side, baseline, 0.6*wide, f.frame.Right, strong)
	y := baseline + typeset.Descender*s.Size*vector.PerPoint + 0.9
	c.Line(f.frame.Side, y, f.pageW-f.frame.Side, y, Pen{Line: Rule, Width: 0.2})
}

// foot draws the foot: a standing text and the number of the page.
func (f *Flow) foot(n int) {
	c, s := f.paper(), Style{Size: f.Sizes.Small, Color: Gray}
	wide := f.pageW - 2*f.frame.Side
	baseline := f.pageH - edgeMargin - typeset.Descender*s.Size*vector.PerPoint
	number := "page " + strconv.Itoa(n) + " of " + strconv.Itoa(len(f.pages))
	if f.frame.Foot != "" {
		c.Fit(f.frame.Side, baseline, wide-c.Width(number, s)-6, f.frame.Foot, s)
	}
	s.Align = Right
	c.Text(f.pageW-f.frame.Side, baseline, number, s)
}
