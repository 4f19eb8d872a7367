package page

import "github.com/go-pdf/fpdf"

// Stamp is what many pages of a document have in common, like the rules and names on a form: it is drawn once, and the pages that bear
// it refer to it (a form XObject, ISO 32000-1, 8.10). That makes a class's document several times smaller, and quicker to print than
// the same marks on every page.
type Stamp struct {
	draw func(Canvas)
}

// NewStamp makes a stamp of what draw draws on the whole paper, from the paper's own corner. It is drawn when a page of a document bears
// it first, with the sizes of that page's section, so one stamp is for sections of the same sizes on the same paper.
func NewStamp(draw func(Canvas)) *Stamp { return &Stamp{draw} }

// Stamp puts a stamp on the current page, below what is drawn on it later. It does not move the flow.
func (f *Flow) Stamp(s *Stamp) {
	f.settle()
	if f.doc.stamps == nil {
		f.doc.stamps = map[*Stamp][]mark{}
	}
	if _, drawn := f.doc.stamps[s]; !drawn {
		paper := f.paper()
		ink := []mark{}
		paper.ink = &ink
		s.draw(paper)
		f.doc.stamps[s] = ink
	}
	last := len(f.pages) - 1
	f.pages[last] = append(f.pages[last], part{stamp: s})
}

// stamp puts a stamp's marks on the current page by a reference.
func (p *press) stamp(s *Stamp, ink []mark, width, height float64) error {
	made, is := p.stamps[s]
	if !is {
		var err error
		made = p.pdf.CreateTemplateCustom(fpdf.PointType{}, fpdf.SizeType{Wd: width, Ht: height}, func(t *fpdf.Tpl) {
			// the typefaces are shared with the document, all other state is not
			inner := press{pdf: &t.Fpdf, height: height, loaded: p.loaded}
			inner.level()
			err = inner.print(ink, 0, 0)
			p.loaded = inner.loaded
		})
		if err != nil {
			return err
		}
		p.stamps[s] = made
	}
	p.pdf.UseTemplate(made)
	return p.pdf.Error()
}
