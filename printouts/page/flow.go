package page

import (
	"errors"

	"nospark/printouts/page/canvas"
	"nospark/printouts/page/typeset"
)

// Flow fills the pages of a section from top to bottom. Its methods add blocks; when a block does not fit, a new page
// begins.
type Flow struct {
	W float64 // width of the column being filled, mm: read only

	*typeset.Setter
	frame        Frame
	pageW, pageH float64
	left         float64
	top, bottom  float64 // of the body
	y            float64 // where the next block begins
	fresh        bool    // nothing stands on this page yet
	gap          float64 // room asked for before the next unit, mm
	list         canvas.DisplayList
	pages        [][]part
	held         []unit                      // a chain that wants to stay together and is not complete
	templates    map[*Template]*usedTemplate // of the document
	complete     bool                        // its pages are printed
	fail         func(error)                 // of the document
	gathering    *[]unit                     // where units go while a block is put together; nil while filling pages
}

// part is a run of the display list with the place of its corner, on a page or in a unit; or a template.
type part struct {
	x, y     float64
	from, to int
	template *usedTemplate
}

// unit is what a page break never cuts: a line of a paragraph, a row of a table, a drawing.
type unit struct {
	before float64 // room above, mm; not at the top of a page or column
	height float64 // mm
	parts  []part
	glue   bool  // stays with the next unit
	again  *unit // repeated above this unit when it begins a page or column: the head of a table
}

// newFlow begins a section with its first page, on paper of the given size. It adds to list, whose memory it takes
// over.
func newFlow(setter *typeset.Setter, frame Frame, width, height float64, list canvas.DisplayList) *Flow {
	if frame.Side == 0 {
		frame.Side = sideMargin
	}
	f := &Flow{Setter: setter, frame: frame, pageW: width, pageH: height, list: list}
	if frame.Landscape {
		f.pageW, f.pageH = height, width
	}
	furniture := f.LineHeight(Style{Size: f.Sizes.Small})
	f.W = f.pageW - 2*f.frame.Side
	f.left = f.frame.Side
	f.top = frame.edge() + furniture + 4
	if frame.bare() {
		f.top = frame.edge()
	}
	f.bottom = f.pageH - frame.edge() - furniture - 2.5
	f.turn()
	return f
}

// paper is a canvas over the whole page.
func (f *Flow) paper() Canvas {
	return canvas.New(f.pageW, f.pageH, f.Setter, &f.list)
}

// draw makes a unit of what is drawn on a canvas as wide as the column.
func (f *Flow) draw(before, height float64, on func(Canvas)) unit {
	from := len(f.list)
	on(canvas.New(f.W, height, f.Setter, &f.list))
	return unit{before: before, height: height, parts: []part{{from: from, to: len(f.list)}}}
}

// add appends a unit to what is being filled.
func (f *Flow) add(u unit) {
	if f.complete {
		f.fail(errors.New("a block was added to a section that is complete"))
		return
	}
	u.before, f.gap = u.before+f.gap, 0
	if f.gathering != nil {
		*f.gathering = append(*f.gathering, u)
		return
	}
	f.held = append(f.held, u)
	if !u.glue {
		f.settle()
	}
}

// gather collects the units that build adds at the given width, instead of placing them.
func (f *Flow) gather(width float64, build func()) []unit {
	var units []unit
	outer, wide, gap := f.gathering, f.W, f.gap
	f.gathering, f.W, f.gap = &units, width, 0
	build()
	f.gathering, f.W, f.gap = outer, wide, gap
	return units
}

// settle places the units held back, on a new page if they do not fit on this one.
func (f *Flow) settle() {
	if len(f.held) == 0 {
		return
	}
	if !f.fresh && f.y+stack(f.held, false) > f.bottom+1e-6 {
		f.turn()
	}
	for _, u := range f.held {
		f.place(u)
	}
	f.held = f.held[:0]
}

// stack is the height of units above each other, mm; at the top of a column the room before the first one falls away
// and a head is repeated.
func stack(units []unit, atTop bool) float64 {
	sum := 0.0
	for i, u := range units {
		sum += u.height
		switch {
		case i > 0 || !atTop:
			sum += u.before
		case u.again != nil:
			sum += u.again.height
		}
	}
	return sum
}

func (f *Flow) place(u unit) {
	if !f.fresh && f.y+u.before+u.height > f.bottom+1e-6 {
		f.turn() // a chain longer than a page
	}
	if !f.fresh {
		f.y += u.before
	} else if u.again != nil {
		f.lay(*u.again, f.left)
	}
	f.lay(u, f.left)
}

// lay puts a unit on the page at the current height.
func (f *Flow) lay(u unit, x float64) {
	f.put(u, x, f.y)
	f.y += u.height
	f.fresh = false
}

// put puts a unit on the page at a given place.
func (f *Flow) put(u unit, x, y float64) {
	last := len(f.pages) - 1
	for _, p := range u.parts {
		p.x, p.y = p.x+x, p.y+y
		f.pages[last] = append(f.pages[last], p)
	}
}

// turn begins a new page.
func (f *Flow) turn() {
	f.pages = append(f.pages, nil)
	f.y, f.fresh = f.top, true
}

// Room is the height left on the page, mm. Inside of a block that is put together it is the height of an empty page.
func (f *Flow) Room() float64 {
	if f.gathering != nil {
		return f.Page()
	}
	f.settle()
	return f.bottom - f.y - f.gap
}

// Page is the height of an empty page, mm.
func (f *Flow) Page() float64 { return f.bottom - f.top }

// Turn begins a new page unless nothing stands on this one yet.
func (f *Flow) Turn() {
	if f.gathering != nil {
		return
	}
	f.settle()
	if !f.fresh {
		f.turn()
	}
}

// Space leaves more room before the next block, mm; it vanishes at the top of a page.
func (f *Flow) Space(height float64) { f.gap += height }

// Draw adds a drawing of the given height in mm, as wide as the column. A drawing is never cut.
func (f *Flow) Draw(height float64, on func(Canvas)) { f.add(f.draw(0, height, on)) }

// Overlay draws on the whole paper of the current page, from the paper's own corner: marks to fold or cut along, things
// that have a fixed place. It does not move the flow.
func (f *Flow) Overlay(on func(Canvas)) {
	f.settle()
	from := len(f.list)
	on(f.paper())
	last := len(f.pages) - 1
	f.pages[last] = append(f.pages[last], part{from: from, to: len(f.list)})
}

// Template puts a template on the current page, below what is drawn on it later. It does not move the flow.
func (f *Flow) Template(t *Template) {
	f.settle()
	used, drawn := f.templates[t]
	if !drawn {
		used = new(usedTemplate)
		t.draw(canvas.New(f.pageW, f.pageH, f.Setter, &used.list))
		f.templates[t] = used
	}
	last := len(f.pages) - 1
	f.pages[last] = append(f.pages[last], part{template: used})
}
