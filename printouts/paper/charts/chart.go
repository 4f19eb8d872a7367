// Package charts draws isolation charts: the provably best order of tests for a complaint.
package charts

import (
	"nospark/grading/bestplay"
	"nospark/printouts/content"
	"nospark/printouts/instructor"
	"nospark/printouts/page"
	"nospark/printouts/paper"
	"nospark/printouts/wording"
)

// Cover says what the pages of a chart carry beside the chart itself.
type Cover struct {
	Program string
	Date    string // 2006-01-02; "" for none
	Paper   string // "letter" or "a4"
}

// PDF prints isolation charts, each from its own page on. A chart runs down the page along the longest way; what
// leaves it ends at the right in a repair, or goes on from a connector: a circle with a letter, and the same
// letter where the way goes on.
func PDF(cover Cover, trees ...*bestplay.Tree) ([]byte, error) {
	doc, err := paper.New(content.Document{Title: instructor.ChartName, Program: cover.Program, Date: cover.Date,
		Paper: cover.Paper})
	if err != nil {
		return nil, err
	}
	for _, t := range trees {
		flow := doc.Section(page.Frame{
			Name: t.Complaint, Foot: wording.Join(", ", instructor.ChartName, t.Title, cover.Program, cover.Date),
			Size: 10, Side: paper.Side,
		})
		c := chart{Pages: paper.NewPages(flow, cover.Paper), tree: t, places: map[int]place{},
			entries: map[int]*connector{}}
		c.full = c.Bottom
		c.plan()
		c.draw()
		c.Print()
	}
	return doc.Bytes()
}

// chart is one chart being placed: first every block gets its place, then all is drawn, because a connector names
// the page where its way goes on.
type chart struct {
	*paper.Pages
	tree    *bestplay.Tree
	places  map[int]place      // of the blocks, by node
	entries map[int]*connector // by the node at which a way goes on
	order   []int              // nodes in the order of the page
	top     float64            // of the chart on the page
	full    float64            // where the used part of the paper ends
	letters int
}

// place is where a block is.
type place struct {
	page int
	y    float64
	high float64
}

// connector is a way that is cut.
type connector struct {
	letter string
	from   int // node whose branch it is
}

// Measures of the chart, mm.
const (
	testWide   = 70.0
	branchWide = 50.0
	exitHigh   = 13.0 // of an end or a connector at the right
	boxShare   = 0.88 // of that, for the box of an end
	testLeast  = 16.0
	downHigh   = 9.5 // between two tests, for the label of the way down
	entryHigh  = 11.0
	trunkGap   = 5.0
	circle     = 4.2 // radius of a connector
)

// exit is what leaves a test to the right: branches with the same repairs at their end share one.
type exit struct {
	branches []bestplay.TreeBranch
	node     int
}

// exits lists the ways of a test to the right, and the one that goes down, which is nil at the end of a trunk.
func (c *chart) exits(at int) (right []exit, down *bestplay.TreeBranch) {
	branches := c.tree.Nodes[at].Branches
	for i, b := range branches {
		node := c.tree.Nodes[b.Next]
		if !node.End() && i == len(branches)-1 {
			return right, &branches[i]
		}
		if n := len(right); n > 0 && node.End() && sameRepairs(node, c.tree.Nodes[right[n-1].node]) {
			right[n-1].branches = append(right[n-1].branches, b)
			continue
		}
		right = append(right, exit{[]bestplay.TreeBranch{b}, b.Next})
	}
	return right, nil
}

// pitch is the height of each way of a test to the right: more than usual where the names of the faults at an end
// take two lines, less where a test has so many readings that they would leave the page.
func (c *chart) pitch(at int) float64 {
	const most = 150.0 // mm, what even the first page has
	right, _ := c.exits(at)
	high := exitHigh
	for _, e := range right {
		high = max(high, c.labelHigh(e.branches))
		if end := c.merged(e); end.End() {
			repair, faults := c.endTexts(end)
			high = max(high, (repair.H+faults.H+1)/boxShare)
		}
	}
	return min(high, most/float64(max(1, len(right))))
}

// sameRepairs tells whether two ends ask for the same, so that one box can stand for both.
func sameRepairs(a, b bestplay.TreeNode) bool {
	if len(a.Repairs) != len(b.Repairs) {
		return false
	}
	for i := range a.Repairs {
		if a.Repairs[i] != b.Repairs[i] {
			return false
		}
	}
	return true
}

// plan gives every block its place and cuts ways where a page ends.
func (c *chart) plan() {
	c.head()
	if c.tree.Nodes[0].End() {
		return
	}
	c.trunk(0)
}

// trunk places a trunk and then, in their order, the trunks that leave it.
func (c *chart) trunk(start int) {
	trunk := c.tree.Trunk(start)
	for i, at := range trunk {
		high := c.blockHigh(at)
		above := downHigh
		switch {
		case i == 0:
			above = entryHigh
			if c.Y > c.top {
				above += trunkGap
			}
		case c.Y+above+high+c.reserve(at) > c.Bottom:
			c.entry(at, trunk[i-1])
			above = entryHigh
		}
		if c.Y > c.top && c.Y+above+high+c.reserve(at) > c.Bottom {
			c.next()
			above = entryHigh
		}
		c.Y += above
		c.places[at] = place{c.Count() - 1, c.Y, high}
		c.order = append(c.order, at)
		c.Y += high
	}
	// All letters of a trunk are given before the first of the ways is placed, so that they ascend down the page.
	for _, at := range trunk {
		right, _ := c.exits(at)
		for _, e := range right {
			if !c.tree.Nodes[e.node].End() {
				c.entry(e.node, at)
			}
		}
	}
	for _, at := range trunk {
		right, _ := c.exits(at)
		for _, e := range right {
			if !c.tree.Nodes[e.node].End() {
				c.trunk(e.node)
			}
		}
	}
}

// reserve is the room that a block needs below it for a connector, if its way goes down.
func (c *chart) reserve(at int) float64 {
	if _, down := c.exits(at); down != nil {
		return downHigh + 2*circle
	}
	return 0
}

// entry marks a node as the place where a cut way goes on.
func (c *chart) entry(at, from int) {
	if c.entries[at] == nil {
		c.entries[at] = &connector{letters(c.letters), from}
		c.letters++
	}
}

// letters numbers connectors: A to Z, AA, AB and so on.
func letters(n int) string {
	text := ""
	for n++; n > 0; n = (n - 1) / 26 {
		text = string(rune('A'+(n-1)%26)) + text
	}
	return text
}

// next begins a new page of the chart.
func (c *chart) next() {
	c.Turn()
	c.Put(8, func(p page.Canvas) {
		p.Fit(0, 4, p.W, instructor.ChartName+", continued: "+c.tree.Complaint,
			page.Style{Size: 10, Bold: true, Condensed: true})
	})
	c.cautions()
	c.top = c.Y
}

// head prints what the chart is about.
func (c *chart) head() {
	t := c.tree
	c.Put(9, func(p page.Canvas) {
		p.Fit(0, 6, p.W, instructor.ChartName+": "+t.Title, page.Style{Size: 17, Bold: true, Condensed: true})
	})
	c.Para(0.5, "**Complaint:** "+t.Complaint, page.Style{Size: 11}, 2)
	c.Para(0.5, instructor.ChartText(t), page.Style{Size: 8.5, Condensed: true}, 6)
	c.Y += 1
	c.cautions()
	c.top = c.Y
	if t.Nodes[0].End() {
		c.Para(3, instructor.NothingToTest(t), page.Style{Size: 11, Bold: true}, 4)
	}
}

// cautions fixes the short cautions to the foot of the page and takes their room away from the chart.
func (c *chart) cautions() {
	of := content.Cautions{Lacks: c.tree.Lacks}
	high := page.ShortCautionsHeight(c.Flow, c.Width, of)
	c.PutAt(0, c.full-high-1.5, c.Width, high, func(p page.Canvas) { page.ShortCautions(p, of) })
	c.Bottom = c.full - high - 3.5
}
