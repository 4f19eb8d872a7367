package page

import (
	"bytes"
	"errors"
	"fmt"
	"math"
	"time"

	"github.com/go-pdf/fpdf"
)

// press puts marks into a PDF. It is the only place that knows the PDF library, and it steps around what the library gets wrong:
// pages are counted by us, its cells and tables are not used, all text it sees is clean, and its memory of colours and fonts is
// not trusted across pages, clips and rotations.
type press struct {
	pdf    *fpdf.Fpdf
	height float64 // of the current page, mm
	loaded [faceCount]bool
	told   told
	names  []bookmark
	stamps map[*Stamp]fpdf.Template
}

// told is what the library was told last on this page; the zero value means nothing.
type told struct {
	font, text, line, fill bool
	face                   face
	size, width            float64
	ink, lineInk, fillInk  Ink
	dash                   Dash
	round                  bool
}

type bookmark struct {
	name   string
	page   int
	height float64
}

func newPress(o Options) *press {
	pdf := fpdf.New("P", "mm", "A4", "")
	pdf.SetAutoPageBreak(false, 0)
	pdf.SetMargins(0, 0, 0)
	pdf.SetCatalogSort(true)
	pdf.SetCompression(false) // deflated does it
	pdf.SetCreationDate(o.Date.UTC())
	pdf.SetModificationDate(o.Date.UTC())
	pdf.SetProducer("nospark", true)
	pdf.SetTitle(Clean(o.Title, 200), true)
	if o.Subject != "" {
		pdf.SetSubject(Clean(o.Subject, 200), true)
	}
	pdf.SetLang(o.Language)
	pdf.SetLineJoinStyle("round")
	return &press{pdf: pdf, stamps: map[*Stamp]fpdf.Template{}}
}

// page begins a page of the given size in mm.
func (p *press) page(width, height float64) {
	if p.pdf.PageNo() == 0 {
		p.level()
	}
	if width > height {
		p.pdf.AddPageFormat("L", fpdf.SizeType{Wd: height, Ht: width})
	} else {
		p.pdf.AddPageFormat("P", fpdf.SizeType{Wd: width, Ht: height})
	}
	p.height = height
	p.told = told{}
}

// level puts the library back to where it was before the first page. It repeats colours, pens and font of the page before at the top of
// the next; level after each page makes a page the same operations wherever in a document it stands.
func (p *press) level() {
	p.font(0, 10)
	p.pdf.SetTextColor(0, 0, 0)
	p.pdf.SetFillColor(0, 0, 0)
	p.pdf.SetDrawColor(0, 0, 0)
	p.pdf.SetLineWidth(hairline)
	p.pdf.SetLineCapStyle("butt")
	p.pdf.SetDashPattern(nil, 0)
}

// name puts the current page into the outline.
func (p *press) name(text string) {
	if text != "" {
		p.names = append(p.names, bookmark{Clean(text, 120), p.pdf.PageNo(), p.height})
	}
}

// print puts marks on the current page, moved by (dx, dy).
func (p *press) print(marks []mark, dx, dy float64) error {
	for _, m := range marks {
		if !finite(m.x + m.y + m.w + m.h + dx + dy + m.size + m.angle) {
			return fmt.Errorf("a mark on page %d is placed nowhere: %g, %g, %g, %g mm", p.pdf.PageNo(), m.x, m.y, m.w, m.h)
		}
		switch x, y := m.x+dx, m.y+dy; m.kind {
		case markText:
			p.text(m, x, y)
		case markPath:
			if err := p.path(m, x, y); err != nil {
				return err
			}
		case markLine:
			p.pen(m.pen, false)
			p.pdf.Line(x, y, m.w+dx, m.h+dy)
		case markRect:
			if paint := p.pen(m.pen, false); paint != "" {
				p.pdf.Rect(x, y, m.w, m.h, paint)
			}
		case markClip:
			p.pdf.ClipRect(x, y, m.w, m.h, false)
		case markUnclip:
			p.pdf.ClipEnd()
			p.told = told{}
		}
	}
	return p.pdf.Error()
}

func (p *press) text(m mark, x, y float64) {
	if m.angle != 0 {
		p.pdf.TransformBegin()
		p.pdf.TransformRotate(m.angle, x, y)
	}
	if !p.told.font || p.told.face != m.face || p.told.size != m.size {
		p.font(m.face, m.size)
	}
	if !p.told.text || p.told.ink != m.pen.Line {
		p.pdf.SetTextColor(m.pen.Line.rgb())
		p.told.text, p.told.ink = true, m.pen.Line
	}
	if m.narrow != 1 {
		p.pdf.RawWriteStr(fmt.Sprintf("%.2f Tz", 100*m.narrow))
	}
	p.pdf.Text(x, y, m.text)
	if m.narrow != 1 {
		p.pdf.RawWriteStr("100 Tz")
	}
	if m.angle != 0 {
		p.pdf.TransformEnd()
		p.told = told{}
	}
}

// font selects a face, which is parsed when it is needed first: parsing costs more than a page.
func (p *press) font(f face, size float64) {
	family, style := "dejavusans", ""
	if f&faceCondensed != 0 {
		family = "dejavusanscondensed"
	}
	if f&faceBold != 0 {
		style = "B"
	}
	if !p.loaded[f] {
		p.pdf.AddUTF8FontFromBytes(family, style, fontFile(f))
		p.loaded[f] = true
	}
	p.pdf.SetFont(family, style, size)
	p.told.font, p.told.face, p.told.size = true, f, size
}

func (p *press) path(m mark, dx, dy float64) error {
	paint := p.pen(m.pen, true)
	if paint == "" {
		return nil
	}
	for _, s := range m.path {
		if !finite(s.p.X + s.p.Y + s.c1.X + s.c1.Y + s.c2.X + s.c2.Y) {
			return fmt.Errorf("a path on page %d goes nowhere: %v", p.pdf.PageNo(), s.p)
		}
		switch s.kind {
		case stepMove:
			p.pdf.MoveTo(s.p.X+dx, s.p.Y+dy)
		case stepLine:
			p.pdf.LineTo(s.p.X+dx, s.p.Y+dy)
		case stepCurve:
			p.pdf.CurveBezierCubicTo(s.c1.X+dx, s.c1.Y+dy, s.c2.X+dx, s.c2.Y+dy, s.p.X+dx, s.p.Y+dy)
		case stepClose:
			p.pdf.ClosePath()
		}
	}
	p.pdf.DrawPath(paint)
	return nil
}

// pen tells the library what a pen asks for and gives the operation that paints a shape: "D", "F", "FD", or "" for nothing.
func (p *press) pen(pen Pen, round bool) string {
	paint := ""
	if pen.Fill != None {
		paint = "F"
		if !p.told.fill || p.told.fillInk != pen.Fill {
			p.pdf.SetFillColor(pen.Fill.rgb())
			p.told.fill, p.told.fillInk = true, pen.Fill
		}
	}
	if pen.Line == None {
		return paint
	}
	if pen.Width == 0 {
		pen.Width = hairline
	}
	round = round && pen.Dash == Solid // round ends would close the gaps
	t := &p.told
	if !t.line || t.lineInk != pen.Line {
		p.pdf.SetDrawColor(pen.Line.rgb())
	}
	if !t.line || t.width != pen.Width {
		p.pdf.SetLineWidth(pen.Width)
	}
	if !t.line || t.dash != pen.Dash || (t.dash != Solid && t.width != pen.Width) {
		p.pdf.SetDashPattern(pen.Dash.lengths(pen.Width), 0)
	}
	if !t.line || t.round != round {
		ends := "butt"
		if round {
			ends = "round"
		}
		p.pdf.SetLineCapStyle(ends)
	}
	t.line, t.lineInk, t.width, t.dash, t.round = true, pen.Line, pen.Width, pen.Dash, round
	return paint + "D"
}

// bytes completes the PDF.
func (p *press) bytes() ([]byte, error) {
	last := p.pdf.PageNo()
	for _, b := range p.names {
		// The library measures every destination from the foot of its last page.
		p.pdf.SetPage(b.page)
		p.pdf.Bookmark(b.name, 0, p.height-b.height)
	}
	if len(p.names) > 0 {
		p.pdf.SetPage(last) // the library prints no page beyond the current one
	}
	var out bytes.Buffer
	if err := p.pdf.Output(&out); err != nil {
		return nil, err
	}
	return deflated(out.Bytes())
}

func finite(x float64) bool { return !math.IsNaN(x) && !math.IsInf(x, 0) }

// checkOptions finds what the library would accept and spoil.
func checkOptions(o Options) error {
	if o.Date.IsZero() || o.Date.Year() < 1 || o.Date.Year() > 9999 {
		return errors.New("the document has no date: " + o.Date.Format(time.DateOnly))
	}
	for _, r := range o.Language {
		if (r < 'a' || r > 'z') && (r < 'A' || r > 'Z') && (r < '0' || r > '9') && r != '-' {
			return fmt.Errorf("language %q: must be letters, digits and hyphens, like \"en\" or \"en-US\"", o.Language)
		}
	}
	return nil
}
