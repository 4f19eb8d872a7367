package charts

import (
	"fmt"
	"slices"
	"strings"

	"nospark/grading/bestplay"
	"nospark/printouts/instructor"
	"nospark/printouts/page"
	"nospark/printouts/wording"
)

// Styles of the chart.
var (
	testStyle  = page.Style{Size: 9.5, Bold: true, Condensed: true}
	goodStyle  = page.Style{Size: 8.5, Condensed: true}
	labelStyle = page.Style{Size: 8, Condensed: true}
	endStyle   = page.Style{Size: 9, Bold: true, Condensed: true}
	stepWide   = 11.5 // mm, of the field with the number of a step
	chartPen   = page.Stroke(0.35)
)

// blockHigh is the height of a test with all that leaves it to the right.
func (c *chart) blockHigh(at int) float64 {
	name, good := c.testTexts(at)
	right, _ := c.exits(at)
	return max(testLeast, name.H+good.H+2.6, float64(len(right))*c.pitch(at))
}

// testTexts are the texts in the box of a test.
func (c *chart) testTexts(at int) (name, good page.Paragraph) {
	n := c.tree.Nodes[at]
	wide := testWide - stepWide - 3
	name = c.Clip(wide, n.Name, testStyle, mostLines)
	good = c.Clip(wide, instructor.GoodText(n), goodStyle, mostLines)
	return name, good
}

// draw draws every block with what leads to it and what leaves it, in the order in which a person reads the page,
// which is also that of programs that read aloud.
func (c *chart) draw() {
	for _, at := range c.order {
		p := c.places[at]
		c.PutOn(p.page, func(on page.Canvas) {
			c.way(on, at)
			c.test(on, at)
			right, down := c.exits(at)
			for i, e := range right {
				c.exit(on, at, i, len(right), e)
			}
			if down != nil {
				c.down(on, at, *down)
			}
		})
	}
}

// way draws how a block is reached: the start, a connector, or nothing when it hangs below another block of the page.
func (c *chart) way(on page.Canvas, at int) {
	p := c.places[at]
	x := testWide / 2
	switch entry := c.entries[at]; {
	case at == 0:
		wide := on.Width("Start", endStyle) + 8
		on.RoundRect(x-wide/2, p.y-entryHigh+1, wide, 6, 3, page.Pen{Line: page.Black, Width: 0.4, Fill: page.Shade})
		on.Text(x, p.y-entryHigh+4, "Start", page.Style{Size: 9, Bold: true, Condensed: true, Align: page.Center,
			Level: page.Middle})
		on.Arrow(x, p.y-entryHigh+7, x, p.y, chartPen)
	case entry != nil:
		c.connect(on, x, p.y-entryHigh+circle+0.4, entry.letter)
		on.Arrow(x, p.y-entryHigh+2*circle+0.4, x, p.y, page.Stroke(0.35))
		from := c.tree.Nodes[entry.from].Step
		on.Text(x+circle+1.5, p.y-entryHigh+circle+0.4,
			fmt.Sprintf("from step %d, page %d", from, c.places[entry.from].page+1),
			page.Style{Size: 8, Condensed: true, Level: page.Middle})
	}
}

// connect draws a connector.
func (c *chart) connect(on page.Canvas, x, y float64, letter string) {
	on.Circle(x, y, circle, page.Pen{Line: page.Black, Width: 0.45, Fill: page.White})
	on.Fit(x-on.Width(letter, endStyle)/2, y+1.15, 2*circle, letter, endStyle)
}

// test draws the box of a test.
func (c *chart) test(on page.Canvas, at int) {
	n, p := c.tree.Nodes[at], c.places[at]
	box := on.Part(0, p.y, testWide, c.boxHigh(at))
	box.Rect(0, 0, box.W, box.H, page.Pen{Line: page.Black, Width: 0.5, Fill: page.White})
	box.Rect(0, 0, stepWide, box.H, page.Fill(page.Shade))
	box.Rect(0, 0, box.W, box.H, page.Pen{Line: page.Black, Width: 0.5})
	box.Text(stepWide/2, 6, fmt.Sprint(n.Step), page.Style{Size: 12, Bold: true, Condensed: true, Align: page.Center})
	box.Text(stepWide/2, box.H-2, wording.Short(n.Minutes, 1)+" min",
		page.Style{Size: 8, Condensed: true, Align: page.Center})
	name, good := c.testTexts(at)
	box.Paragraph(stepWide+1.5, 1.1, name)
	box.Paragraph(stepWide+1.5, box.H-good.H-1, good)
}

// boxHigh is the height of the box of a test: not more than its texts need, so that a block with many ways stays
// light.
func (c *chart) boxHigh(at int) float64 {
	name, good := c.testTexts(at)
	return max(testLeast, name.H+good.H+2.6)
}

// exit draws a way to the right and where it ends.
func (c *chart) exit(on page.Canvas, at, i, n int, e exit) {
	p := c.places[at]
	box := c.boxHigh(at)
	pitch := c.pitch(at)
	y := p.y + pitch*(float64(i)+0.5)
	if n == 1 {
		y = p.y + box/2
	}
	x, to := testWide, testWide+branchWide
	if y > p.y+box-1 { // below the box: along a line that leaves it further up
		const bend = 3.5
		on.Polyline(chartPen, page.Point{X: x, Y: p.y + box/2}, page.Point{X: x + bend, Y: p.y + box/2},
			page.Point{X: x + bend, Y: y})
		x += bend
	}
	end := c.merged(e)
	tip := to
	if !end.End() {
		tip = to + 1
	}
	on.Arrow(x, y, tip, y, chartPen)
	c.label(on.Part(testWide+5, y-5, branchWide-8, 10), e.branches, pitch)
	if end.End() {
		c.end(on.Part(to, y-boxShare*pitch/2, c.Width-to, boxShare*pitch), end)
		return
	}
	c.connect(on, to+1+circle, y, c.entries[e.node].letter)
	on.Text(to+2*circle+3, y, c.goOn(e.node), page.Style{Size: 8.5, Condensed: true, Level: page.Middle})
}

// merged is the node that a way leads to, with the faults of all branches that end there.
func (c *chart) merged(e exit) bestplay.TreeNode {
	end := c.tree.Nodes[e.node]
	for _, b := range e.branches[1:] {
		end.Faults = append(end.Faults[:len(end.Faults):len(end.Faults)],
			missing(c.tree.Nodes[b.Next].Faults, end.Faults)...)
	}
	return end
}

// missing lists what of some words others lack.
func missing(words, others []string) []string {
	return slices.DeleteFunc(slices.Clone(words), func(w string) bool { return slices.Contains(others, w) })
}

// goOn says where a way goes on.
func (c *chart) goOn(node int) string {
	return fmt.Sprintf("step %d, page %d", c.tree.Nodes[node].Step, c.places[node].page+1)
}

// mostLines of a text in a box: the box grows with it, and only a text without end is cut.
const mostLines = 8

// Measures of the words at a branch, mm: what stands above them, and their lines.
const (
	labelBase  = 4.5
	labelPitch = 4.0
)

// labelHigh is the height that the words at the branches of a way need.
func (c *chart) labelHigh(branches []bestplay.TreeBranch) float64 {
	_, words, _ := labelTexts(branches)
	if words == "" {
		return 0
	}
	return labelBase + labelPitch*float64(c.Clip(branchWide-8, words, labelStyle, mostLines).Lines())
}

// label writes the reading above and below the line of a branch.
func (c *chart) label(at page.Canvas, branches []bestplay.TreeBranch, pitch float64) {
	name, words, share := labelTexts(branches)
	percent := instructor.Percent(share)
	right := at.Width(percent, labelStyle)
	at.Text(at.W, at.H/2-1, percent, page.Style{Size: 8, Condensed: true, Align: page.Right})
	at.Fit(0, at.H/2-1, at.W-right-1, name, page.Style{Size: 8.5, Bold: true, Condensed: true})
	if lines := int((pitch-labelBase)/labelPitch + 1e-6); lines > 0 {
		at.Paragraph(0, at.H/2+0.2, c.Clip(at.W, words, labelStyle, lines))
	}
}

// labelTexts words the branches that share a way.
func labelTexts(branches []bestplay.TreeBranch) (name, words string, share float64) {
	var names []string
	for _, b := range branches {
		names = append(names, b.Band)
		share += b.Share
	}
	switch {
	case len(branches) > 2:
		return names[0] + " or", strings.Join(names[1:], " or "), share
	case len(branches) == 1 && branches[0].Words != branches[0].Band:
		words = branches[0].Words
	}
	return strings.Join(names, " or "), words, share
}

// end draws the repair at the end of a way.
func (c *chart) end(box page.Canvas, n bestplay.TreeNode) {
	box.RoundRect(0, 0, box.W, box.H, 2.5, page.Pen{Line: page.Black, Width: 0.45, Fill: page.Tint})
	repair, faults := c.endTexts(n)
	if repair.H+faults.H > box.H {
		faults = page.Paragraph{}
		repair = c.Clip(c.endWide(), instructor.RepairList(n), endStyle, max(1, int(box.H/4.4)))
	}
	y := (box.H - repair.H - faults.H) / 2
	box.Paragraph(2.5, y, repair)
	box.Paragraph(2.5, y+repair.H, faults)
}

// endWide is the width of the texts at an end.
func (c *chart) endWide() float64 { return c.Width - testWide - branchWide - 5 }

// endTexts are the repair at an end and the faults that it mends. A long repair says what is wrong.
func (c *chart) endTexts(n bestplay.TreeNode) (repair, faults page.Paragraph) {
	repair = c.Clip(c.endWide(), instructor.RepairList(n), endStyle, mostLines)
	if repair.Lines() == 1 {
		faults = c.Clip(c.endWide(), strings.Join(n.Faults, "; "), labelStyle, mostLines)
	}
	return repair, faults
}

// down draws the way down to the next test, or to a connector where it goes on elsewhere.
func (c *chart) down(on page.Canvas, at int, b bestplay.TreeBranch) {
	p, next := c.places[at], c.places[b.Next]
	x, from := testWide/2, p.y+c.boxHigh(at)
	to := next.y
	entry := c.entries[b.Next]
	if entry != nil {
		to = p.y + p.high + downHigh
	}
	on.Arrow(x, from, x, to, chartPen)
	name, words, share := labelTexts([]bestplay.TreeBranch{b})
	text := "**" + name + "**  " + wording.Join(", ", words, instructor.Percent(share))
	if p.high > c.boxHigh(at)+1 { // the ways to the right reach further down than the box
		on.Paragraph(x+1.8, to-downHigh/2-1.9, c.Clip(c.Width-x-4, text, labelStyle, 1))
	} else {
		on.Paragraph(x+1.8, (from+to)/2-2.4, c.Clip(c.Width-x-4, text, labelStyle, 1))
	}
	if entry != nil {
		c.connect(on, x, to+circle, entry.letter)
		on.Text(x+circle+1.5, to+circle, c.goOn(b.Next), page.Style{Size: 8.5, Condensed: true, Level: page.Middle})
	}
}
