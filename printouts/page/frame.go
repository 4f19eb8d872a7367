package page

import (
	"strconv"

	"nospark/printouts/page/typeset"
	"nospark/printouts/vector"
)

// Margins of the paper, mm: more than the 4 to 6 mm that office printers cannot reach, and room for a thumb or for
// holes.
const (
	sideMargin = 18.0
	edgeMargin = 12.5 // above the running head and below the foot, at most
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

// edge is the margin above the running head and below the foot: no wider than those at the sides.
func (f Frame) edge() float64 { return min(f.Side, edgeMargin) }

// bare reports whether pages have no running head.
func (f Frame) bare() bool { return f.Left == "" && f.Right == "" }

// head draws the running head on a paper: left and right on one line above a rule.
func (f Frame) head(paper Canvas) {
	if f.bare() {
		return
	}
	s := Style{Size: paper.Sizes.Small, Color: Gray}
	wide := paper.W - 2*f.Side
	baseline := f.edge() + 0.8*s.Size*vector.PerPoint
	strong := Style{Size: paper.Sizes.Small, Bold: true, Align: Right}
	right := min(paper.Width(f.Right, strong), 0.6*wide)
	if f.Left != "" {
		paper.Fit(f.Side, baseline, wide-right-4, f.Left, s)
	}
	paper.Fit(paper.W-f.Side, baseline, 0.6*wide, f.Right, strong)
	y := baseline + typeset.Descender*s.Size*vector.PerPoint + 0.9
	paper.Line(f.Side, y, paper.W-f.Side, y, Pen{Line: Rule, Width: 0.2})
}

// foot draws the foot on a paper: a standing text, and the number of the page out of all.
func (f Frame) foot(paper Canvas, n, all int) {
	s := Style{Size: paper.Sizes.Small, Color: Gray}
	wide := paper.W - 2*f.Side
	baseline := paper.H - f.edge() - typeset.Descender*s.Size*vector.PerPoint
	number := "page " + strconv.Itoa(n) + " of " + strconv.Itoa(all)
	if f.Foot != "" {
		paper.Fit(f.Side, baseline, wide-paper.Width(number, s)-6, f.Foot, s)
	}
	s.Align = Right
	paper.Text(paper.W-f.Side, baseline, number, s)
}
