package pdf

import (
	"fmt"

	"github.com/go-pdf/fpdf"

	"nospark/printouts/page/canvas"
	"nospark/printouts/page/typeset"
	"nospark/printouts/vector"
)

// painter draws on the current page of a document, or on a template.
type painter struct {
	pdf    *fpdf.Fpdf
	height float64 // of the page, mm
	loaded [typeset.Faces]bool
	told   told
}

// told is what the library was told last on this page; the zero value means nothing.
type told struct {
	font, text, line, fill      bool
	face                        typeset.Face
	size, width                 float64
	color, lineColor, fillColor vector.Color
	dash                        vector.Dash
	round                       bool
}

// level puts the library back to where it was before the first page. It repeats colors, pens and font of the page
// before at the top of the next; level after each page makes a page the same operations wherever in a document it
// stands.
func (p *painter) level() {
	p.font(0, 10)
	p.pdf.SetTextColor(0, 0, 0)
	p.pdf.SetFillColor(0, 0, 0)
	p.pdf.SetDrawColor(0, 0, 0)
	p.pdf.SetLineWidth(vector.Hairline)
	p.pdf.SetLineCapStyle("butt")
	p.pdf.SetDashPattern(nil, 0)
}

// draw puts a display list on the current page, moved by (dx, dy).
func (p *painter) draw(list canvas.DisplayList, dx, dy float64) error {
	for _, item := range list {
		if !vector.Finite(item.X + item.Y + item.W + item.H + dx + dy + item.Size + item.Angle) {
			return fmt.Errorf("an item on page %d is placed nowhere: %g, %g, %g, %g mm", p.pdf.PageNo(), item.X, item.Y,
				item.W, item.H)
		}
		switch x, y := item.X+dx, item.Y+dy; item.Kind {
		case canvas.Text:
			p.text(item, x, y)
		case canvas.Path:
			if err := p.path(item, x, y); err != nil {
				return err
			}
		case canvas.Line:
			p.pen(item.Pen, false)
			p.pdf.Line(x, y, item.W+dx, item.H+dy)
		case canvas.Rect:
			if paint := p.pen(item.Pen, false); paint != "" {
				p.pdf.Rect(x, y, item.W, item.H, paint)
			}
		}
	}
	return p.pdf.Error()
}

func (p *painter) text(item canvas.Item, x, y float64) {
	if item.Angle != 0 {
		p.pdf.TransformBegin()
		p.pdf.TransformRotate(item.Angle, x, y)
	}
	if !p.told.font || p.told.face != item.Face || p.told.size != item.Size {
		p.font(item.Face, item.Size)
	}
	if !p.told.text || p.told.color != item.Pen.Line {
		p.pdf.SetTextColor(item.Pen.Line.RGB())
		p.told.text, p.told.color = true, item.Pen.Line
	}
	if item.Narrow != 1 {
		p.pdf.RawWriteStr(fmt.Sprintf("%.2f Tz", 100*item.Narrow))
	}
	p.pdf.Text(x, y, item.Text)
	if item.Narrow != 1 {
		p.pdf.RawWriteStr("100 Tz")
	}
	if item.Angle != 0 {
		p.pdf.TransformEnd()
		p.told = told{}
	}
}

// font selects a face, which is parsed when it is needed first: parsing costs more than a page.
func (p *painter) font(f typeset.Face, size float64) {
	family, style := "dejavusans", ""
	if f&typeset.Condensed != 0 {
		family = "dejavusanscondensed"
	}
	if f&typeset.Bold != 0 {
		style = "B"
	}
	if !p.loaded[f] {
		p.pdf.AddUTF8FontFromBytes(family, style, f.File())
		p.loaded[f] = true
	}
	p.pdf.SetFont(family, style, size)
	p.told.font, p.told.face, p.told.size = true, f, size
}

func (p *painter) path(item canvas.Item, dx, dy float64) error {
	paint := p.pen(item.Pen, true)
	if paint == "" {
		return nil
	}
	for _, s := range item.Path {
		if !vector.Finite(s.To.X + s.To.Y + s.C1.X + s.C1.Y + s.C2.X + s.C2.Y) {
			return fmt.Errorf("a path on page %d goes nowhere: %v", p.pdf.PageNo(), s.To)
		}
		switch s.Kind {
		case vector.MoveTo:
			p.pdf.MoveTo(s.To.X+dx, s.To.Y+dy)
		case vector.LineTo:
			p.pdf.LineTo(s.To.X+dx, s.To.Y+dy)
		case vector.CurveTo:
			p.pdf.CurveBezierCubicTo(s.C1.X+dx, s.C1.Y+dy, s.C2.X+dx, s.C2.Y+dy, s.To.X+dx, s.To.Y+dy)
		case vector.Close:
			p.pdf.ClosePath()
		}
	}
	p.pdf.DrawPath(paint)
	return nil
}

// pen tells the library what a pen asks for and gives the operation that paints a shape: "D", "F", "FD", or "" for
// nothing.
func (p *painter) pen(pen vector.Pen, round bool) string {
	paint := ""
	if pen.Fill != vector.None {
		paint = "F"
		if !p.told.fill || p.told.fillColor != pen.Fill {
			p.pdf.SetFillColor(pen.Fill.RGB())
			p.told.fill, p.told.fillColor = true, pen.Fill
		}
	}
	if pen.Line == vector.None {
		return paint
	}
	if pen.Width == 0 {
		pen.Width = vector.Hairline
	}
	round = round && pen.Dash == vector.Solid // round ends would close the gaps
	t := &p.told
	if !t.line || t.lineColor != pen.Line {
		p.pdf.SetDrawColor(pen.Line.RGB())
	}
	if !t.line || t.width != pen.Width {
		p.pdf.SetLineWidth(pen.Width)
	}
	if !t.line || t.dash != pen.Dash || (t.dash != vector.Solid && t.width != pen.Width) {
		p.pdf.SetDashPattern(pen.Dash.Lengths(pen.Width), 0)
	}
	if !t.line || t.round != round {
		ends := "butt"
		if round {
			ends = "round"
		}
		p.pdf.SetLineCapStyle(ends)
	}
	t.line, t.lineColor, t.width, t.dash, t.round = true, pen.Line, pen.Width, pen.Dash, round
	return paint + "D"
}
