package page

import (
	"nospark/printouts/page/canvas"
	"nospark/printouts/page/pdf"
)

// Template is what many pages of a document have in common, like the rules and names on a form: it is drawn once, and
// the pages that bear it refer to it. That makes a class's document several times smaller, and quicker to print than
// the same on every page.
type Template struct {
	draw func(Canvas)
}

// NewTemplate makes a template of what draw draws on the whole paper, from the paper's own corner. It is drawn when a
// page of a document bears it first, with the sizes of that page's section, so one template is for sections of the same
// sizes on the same paper.
func NewTemplate(draw func(Canvas)) *Template { return &Template{draw} }

// usedTemplate is a template as a document has it.
type usedTemplate struct {
	list    canvas.DisplayList
	written bool
	made    pdf.Template // once it is written
}
