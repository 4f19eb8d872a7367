package paper

import "nospark/printouts/page"

// Pages are the pages of a sheet whose parts have fixed places, to the millimeter. They use more of the paper than
// running text does. Parts are placed first and drawn at the end, so a part may be measured and moved before.
type Pages struct {
	Flow          *page.Flow // measures texts
	Width, Bottom float64    // mm, of the part of the paper in use
	Y             float64    // where the next part begins
	pages         []onePage
}

// onePage has parts of its own, and parts that the same page of other sheets has too.
type onePage struct {
	own    []func(page.Canvas)
	shared *shared
}

// shared is what a page has in common with the same page of other sheets.
type shared struct {
	parts []func(page.Canvas)
	stamp *page.Template
}

// Margins in millimeters: what every office printer reaches. The foot of the page lies below the used part.
const (
	Side = 12.0
	Top  = 8.0
	foot = 17.5
)

// NewPages begins with the first page.
func NewPages(flow *page.Flow, paper string) *Pages {
	width, height := Size(paper)
	p := &Pages{Flow: flow, Width: width - 2*Side, Bottom: height - foot}
	p.Turn()
	return p
}

// Count is the number of pages so far.
func (p *Pages) Count() int { return len(p.pages) }

// Put places a part of the given height below the last one.
func (p *Pages) Put(height float64, draw func(page.Canvas)) {
	p.PutAt(0, p.Y, p.Width, height, draw)
	p.Y += height
}

// PutAt places a part without moving on; x counts from the left margin, y from the top of the paper.
func (p *Pages) PutAt(x, y, width, height float64, draw func(page.Canvas)) {
	last := &p.pages[len(p.pages)-1]
	last.own = append(last.own, func(c page.Canvas) { draw(c.Part(Side+x, y, width, height)) })
}

// PutOn draws on a page that is placed already, over the whole height of the paper.
func (p *Pages) PutOn(number int, draw func(page.Canvas)) {
	at := &p.pages[number]
	at.own = append(at.own, func(c page.Canvas) { draw(c.Part(Side, 0, p.Width, c.H)) })
}

// PutShared is Put for a part that is the same on other sheets.
func (p *Pages) PutShared(height float64, draw func(page.Canvas)) {
	p.PutSharedAt(0, p.Y, p.Width, height, draw)
	p.Y += height
}

// PutSharedAt is PutAt for a part that is the same on other sheets.
func (p *Pages) PutSharedAt(x, y, width, height float64, draw func(page.Canvas)) {
	s := p.pages[len(p.pages)-1].shared
	s.parts = append(s.parts, func(c page.Canvas) { draw(c.Part(Side+x, y, width, height)) })
	if s.stamp == nil {
		s.stamp = page.NewTemplate(func(c page.Canvas) { drawAll(s.parts, c) })
	}
}

func drawAll(parts []func(page.Canvas), c page.Canvas) {
	for _, draw := range parts {
		draw(c)
	}
}

// Room is the height left on the page.
func (p *Pages) Room() float64 { return p.Bottom - p.Y }

// Turn begins a new page.
func (p *Pages) Turn() {
	p.pages = append(p.pages, onePage{shared: new(shared)})
	p.Y = Top
}

// Print draws all pages.
func (p *Pages) Print() {
	for i, one := range p.pages {
		if i > 0 {
			p.Flow.Draw(0, func(page.Canvas) {}) // an empty page would not be turned
			p.Flow.Turn()
		}
		if one.shared.stamp != nil {
			p.Flow.Template(one.shared.stamp)
		}
		p.Flow.Overlay(func(c page.Canvas) { drawAll(one.own, c) })
	}
}
