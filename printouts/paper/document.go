package paper

import (
	"fmt"
	"math"
	"time"

	"nospark/printouts/content"
	"nospark/printouts/diagram"
	"nospark/printouts/page"
	"nospark/printouts/page/section"
	"nospark/printouts/vector"
)

// PDF prints a document.
func PDF(doc content.Document) ([]byte, error) {
	pdf, err := New(doc)
	if err != nil {
		return nil, err
	}
	for _, s := range doc.Sections {
		s.Across = s.Across && acrossIsLarger(doc.Paper, s.Blocks)
		section.Print(pdf, s, Draw)
	}
	return pdf.Bytes()
}

// New begins the PDF of a document, without its sections.
func New(doc content.Document) (*page.Document, error) {
	date := time.Unix(0, 0).UTC() // for the file alone: nothing of it is printed
	if doc.Date != "" {
		var err error
		if date, err = time.Parse(time.DateOnly, doc.Date); err != nil {
			return nil, fmt.Errorf("date %q of the lab: must be like 2026-10-05", doc.Date)
		}
	}
	return page.New(page.Options{Paper: doc.Paper, Title: doc.Title, Subject: doc.Program, Date: date,
		FrontPages: doc.FrontPages}), nil
}

// Size is that of the paper, mm.
func Size(paper string) (width, height float64) {
	if paper == "a4" {
		return 210, 297
	}
	return 215.9, 279.4
}

// acrossIsLarger tells whether the circuit among some blocks is larger on a page that lies across. All pages of a
// section lie alike, so that they can be bound.
func acrossIsLarger(paper string, blocks []content.Block) bool {
	width, height := Size(paper)
	for _, b := range blocks {
		if f, is := b.(content.Figure); is {
			if c, is := f.Picture.(content.Circuit); is {
				return diagram.Scale(c.Diagram, height-40, width-60) >= diagram.Scale(c.Diagram, width-40, height-60)
			}
		}
	}
	return false
}

// Draw fills a canvas with a picture that package page does not know.
func Draw(c page.Canvas, picture content.Picture) {
	switch p := picture.(type) {
	case content.Circuit:
		circuit(c, p)
	case content.Trace: // no higher than it is wide
		draw := diagram.Trace
		if p.Large {
			draw = diagram.LargeTrace
		}
		c.Scene(draw(p.Plot, vector.Rect{W: c.W, H: math.Min(c.H, c.W)}, c.Width))
	default:
		panic(fmt.Sprintf("paper: no drawing of a picture of type %T", p))
	}
}

// circuit draws a circuit above the legend of its signs.
func circuit(c page.Canvas, p content.Circuit) {
	const high = 7.0 // mm, of the legend
	if !p.Large {
		frame := vector.Rect{W: c.W, H: c.H - high}
		c.Scene(diagram.Layout(p.Diagram, frame, c.Width))
		c.Scene(diagram.Legend(p.Diagram, vector.Rect{Y: frame.H + 2, W: c.W, H: high - 2}, c.Width))
		return
	}
	const larger = 1.3 // as large as the longest legend allows
	frame := vector.Rect{W: c.W, H: c.H - larger*high}
	c.Scene(diagram.Enlarged(p.Diagram, frame, c.Width))
	c.Scene(diagram.Legend(p.Diagram, vector.Rect{Y: frame.H/larger + 2, W: c.W / larger, H: high - 2}, c.Width).
		Times(larger))
}
