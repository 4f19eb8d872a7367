package printouts

import "nospark/printouts/page"

// leaves are the pages of a sheet whose parts have fixed places, to the millimetre: worksheets and readings sheets. They use more of
// the paper than running text does. Parts are placed first and drawn at the end, so a part may be measured and moved before.
type leaves struct {
	flow                     *page.Flow
	left, top, width, bottom float64 // mm, of the part of the paper in use
	y                        float64
	pages                    [][]func(page.Canvas)
	form                     []*form
}

// form is what a page has in common with the same page of other sheets.
type form struct {
	parts []func(page.Canvas)
	stamp *page.Template
}

// Margins in millimetres: what every office printer reaches. The foot of the page lies below the used part.
const (
	leafSide = 12.0
	leafTop  = 8.0
	leafFoot = 17.5
)

func newLeaves(flow *page.Flow, paper string) *leaves {
	width, height := paperSize(paper)
	l := &leaves{flow: flow, left: leafSide, top: leafTop, width: width - 2*leafSide, bottom: height - leafFoot}
	l.turn()
	return l
}

func paperSize(paper string) (width, height float64) {
	if paper == "a4" {
		return 210, 297
	}
	return 215.9, 279.4
}

// put places a part of the given height below the last one.
func (l *leaves) put(height float64, draw func(page.Canvas)) {
	l.fix(0, l.y, l.width, height, draw)
	l.y += height
}

// preprint places a part that is the same on other sheets below the last one.
func (l *leaves) preprint(height float64, draw func(page.Canvas)) {
	l.preprintAt(0, l.y, l.width, height, draw)
	l.y += height
}

// preprintAt is fix for a part that is the same on other sheets.
func (l *leaves) preprintAt(x, y, width, height float64, draw func(page.Canvas)) {
	f := l.form[len(l.form)-1]
	f.parts = append(f.parts, func(paper page.Canvas) { draw(paper.Part(l.left+x, y, width, height)) })
	if f.stamp == nil {
		f.stamp = page.NewTemplate(func(paper page.Canvas) { drawAll(f.parts, paper) })
	}
}

func drawAll(parts []func(page.Canvas), paper page.Canvas) {
	for _, draw := range parts {
		draw(paper)
	}
}

// fix places a part on the current page without moving on; x counts from the left margin, y from the top of the paper.
func (l *leaves) fix(x, y, width, height float64, draw func(page.Canvas)) {
	last := len(l.pages) - 1
	l.pages[last] = append(l.pages[last], func(paper page.Canvas) {
		draw(paper.Part(l.left+x, y, width, height))
	})
}

// room is the height left on the page.
func (l *leaves) room() float64 { return l.bottom - l.y }

// turn begins a new page.
func (l *leaves) turn() {
	l.pages = append(l.pages, nil)
	l.form = append(l.form, new(form))
	l.y = l.top
}

// print draws all pages.
func (l *leaves) print() {
	for i, parts := range l.pages {
		if i > 0 {
			l.flow.Draw(0, func(page.Canvas) {}) // an empty page would not be turned
			l.flow.Turn()
		}
		if stamp := l.form[i].stamp; stamp != nil {
			l.flow.Template(stamp)
		}
		l.flow.Overlay(func(paper page.Canvas) { drawAll(parts, paper) })
	}
}
