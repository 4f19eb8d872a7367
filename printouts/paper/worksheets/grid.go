package worksheets

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"nospark/printouts/handouts"
	"nospark/printouts/page"
	"nospark/printouts/wording"
	"nospark/scenarios/handout"
	"nospark/scenarios/lab"
)

// Widths of the grid's columns, mm. Three digits of 9 pt need 6 mm, condensed 5.4; with less than 7.4 two lines
// would run together, on paper and in the text that is taken from the file.
const (
	numberWide = 7.5
	accessWide = 9.0
	labelLeast = 30.0
	labelMost  = 46.0
	// a name with its role behind it
	labelAndRole = 56.0
	roleGap      = 2.0
	columnLeast  = 7.4
	columnMost   = 15.0
)

// gridPlan is one grid: all columns of the lab, or as many as fit beside each other.
type gridPlan struct {
	columns []lab.Column
	spans   []handouts.Span
	from    int // index of the first column in the lab
	label   float64
	edges   []float64  // left edges of the columns of lines, and the right edge of the last
	sweep   []headText // of each span
	when    []headText // of each column
	sweepH  float64    // height of the sweeps' names
	whenH   float64    // height of the conditions
}

// headText is a column's head, broken into lines, level or turned upwards. A turned one with bold lines stands for
// sweep and condition.
type headText struct {
	lines []string
	bold  int // number of first lines that are bold
	turn  bool
}

const headPitch = 3.5 // mm between lines of 8 pt in a head

var (
	sweepStyle = page.Style{Size: 8.5, Bold: true, Condensed: true}
	whenStyle  = page.Style{Size: 8, Condensed: true}
	roleStyle  = page.Style{Size: 8, Condensed: true, Level: page.Middle}
)

// grid places the grid of line numbers, in several parts when there are more columns than the paper is wide or
// more rows than it is high. A lab whose tests all stand in the small tables has none.
func (s *worksheet) grid() {
	if !handouts.AtPoints(s.sheet) {
		return
	}
	ref := s.handout.Reference
	// no line of its own: some sheets are full
	s.section(wording.Join(". ", handouts.PointTests, strings.TrimSuffix(handouts.Forbidden(s.handout), ".")),
		handouts.PointTestsNote)
	without := s.without()
	if len(without) > 0 {
		s.PutShared(4.2, func(c page.Canvas) {
			text := handouts.PointsWithout(without, s.handout.Untested)
			c.Fit(0, 2.9, c.W, text, page.Style{Size: 10, Condensed: true, Color: page.Gray})
		})
	}
	// a column never moves to another grid for the sake of one sheet: the plan follows from the booklet alone
	for i, g := range planGrids(s.Flow, s.Width, s.density, ref) {
		if i > 0 {
			s.Y += 2
		}
		head := g.sweepH + g.whenH + 4.4
		if s.Room() < head+5*s.density.row { // a head with a few rows below it, or on the next page
			s.Turn()
		}
		s.PutShared(head, func(c page.Canvas) { g.head(c) })
		tinted := true // of the row before: the first is white
		for row, point := range ref.Points {
			if slices.Contains(without, point.Number) {
				continue
			}
			tinted = !tinted
			if s.Room() < s.density.row {
				s.Turn()
				s.PutShared(head, func(c page.Canvas) { g.head(c) })
			}
			tint := tinted
			s.PutAt(0, s.Y, s.Width, s.density.row,
				func(c page.Canvas) { g.cells(c, s.sheet.Grid[row][g.from:], s.density) })
			s.PutShared(s.density.row, func(c page.Canvas) { g.row(c, tint, point, s.density) })
		}
		s.Y += 0.5
	}
}

// without lists the points at which no column has a test; they need no row.
func (s *worksheet) without() []int {
	var numbers []int
	for i, row := range s.sheet.Grid {
		if !slices.ContainsFunc(row, func(c handout.Cell) bool { return c.Line != 0 }) {
			numbers = append(numbers, s.handout.Reference.Points[i].Number)
		}
	}
	return numbers
}

// planGrids divides the columns into grids that fit the width, never within a sweep unless the sweep alone is too
// wide. Names of points get room for the roles behind them, unless the density goes without: then only short names have
// theirs.
func planGrids(flow *page.Flow, width float64, d density, ref handout.Reference) []gridPlan {
	label := labelLeast
	for _, p := range ref.Points {
		wide := flow.Width(p.Label, page.Style{Size: d.grid, Condensed: true}) + 2
		if !d.bare {
			wide += flow.Width(lab.RoleName(p.Role), roleStyle) + roleGap
		}
		label = max(label, wide)
	}
	most := labelMost
	if !d.bare {
		most = labelAndRole
	}
	label = min(label, most)
	room := width - numberWide - accessWide
	columns := max(1, int((room-labelLeast)/columnLeast))
	var plans []gridPlan
	for _, s := range handouts.Sweeps(ref.Columns) {
		for from := s.From; from < s.To; from += columns {
			to := min(from+columns, s.To)
			if n := len(plans); n == 0 || to-plans[n-1].from > columns {
				plans = append(plans, gridPlan{from: from})
			}
			p := &plans[len(plans)-1]
			p.spans = append(p.spans, handouts.Span{From: from - p.from, To: to - p.from})
			p.columns = ref.Columns[p.from:to]
		}
	}
	for i := range plans {
		p := &plans[i]
		p.label = min(label, room-columnLeast*float64(len(p.columns)))
		// the heads tell which columns must be wider, at the cost of the names of the points if need be, and the new
		// widths how the heads break
		p.spread(room-p.label, nil)
		needed := p.heads(flow)
		p.label = clamp(room-total(needed), labelLeast, p.label)
		p.spread(room-p.label, needed)
		p.heads(flow)
	}
	return plans
}

// total is the width of columns of which some have a width of their own, 0 for the others, mm.
func total(fixed []float64) float64 {
	sum := 0.0
	for _, wide := range fixed {
		if wide == 0 {
			wide = columnLeast
		}
		sum += wide
	}
	return sum
}

func clamp(x, low, high float64) float64 { return math.Max(low, math.Min(high, x)) }

// spread divides the room over the columns; fixed has the widths of those that are settled, 0 for the others.
func (g *gridPlan) spread(room float64, fixed []float64) {
	free, n := room, len(g.columns)
	for _, w := range fixed {
		if w > 0 {
			free, n = free-w, n-1
		}
	}
	x := numberWide + g.label + accessWide
	g.edges = []float64{x}
	for i := range g.columns {
		wide := clamp(free/float64(max(n, 1)), columnLeast, columnMost)
		if fixed != nil && fixed[i] > 0 {
			wide = fixed[i]
		}
		x += wide
		g.edges = append(g.edges, x)
	}
}

func (g *gridPlan) wide(s handouts.Span) float64 { return g.edges[s.To] - g.edges[s.From] }

// heads breaks the heads into lines, and gives the widths that columns need for them, 0 where any will do. The name
// of a sweep of several conditions stands level above them; the columns are as wide as its longest word asks for.
// A sweep of one condition whose name does not fit is turned: name and condition share the whole height of the head.
func (g *gridPlan) heads(flow *page.Flow) (needed []float64) {
	const lone, several = 2, 4 // level lines; turned, a lone column has the height of the conditions as well
	needed = make([]float64, len(g.columns))
	g.sweep, g.when, g.sweepH, g.whenH = nil, make([]headText, len(g.columns)), headPitch+1.2, 0
	for _, s := range g.spans {
		n, label := s.To-s.From, g.columns[s.From].Label
		lines, fits := breakLines(flow, label, g.wide(s)-1.6, sweepStyle)
		turn := n == 1 && (!fits || len(lines) > lone)
		for wide := g.wide(s); n > 1 && (!fits || len(lines) > several); wide += 0.5 {
			lines, fits = breakLines(flow, label, wide-1.6, sweepStyle)
			for i := s.From; i < s.To; i++ {
				needed[i] = wide / float64(n)
			}
		}
		g.sweep = append(g.sweep, headText{lines: lines, bold: len(lines), turn: turn})
		if !turn {
			g.sweepH = math.Max(g.sweepH, float64(len(lines))*headPitch+1.2)
		}
	}
	g.conditions(flow)
	for i, s := range g.spans {
		if !g.sweep[i].turn {
			continue
		}
		// as high as the condition in one line needs, for each line more makes every such column wider
		g.whenH = math.Max(g.whenH, flow.Width(g.columns[s.From].Condition, whenStyle)+2-g.sweepH)
	}
	for i, s := range g.spans {
		if !g.sweep[i].turn {
			continue
		}
		high := g.sweepH + g.whenH - 2 // a millimeter free at either end
		name, _ := breakLines(flow, g.columns[s.From].Label, high, sweepStyle)
		when, _ := breakLines(flow, g.columns[s.From].Condition, high, whenStyle)
		h := headText{lines: append(name, when...), bold: len(name), turn: true}
		g.when[s.From].lines = nil // it stands in the sweep's head now
		needed[s.From] = math.Max(g.wide(s), float64(len(h.lines))*headPitch+1.5)
		g.sweep[i] = h
	}
	return needed
}

// conditions breaks the conditions: level where every one fits its column, else all turned, as high as the longest
// needs to be.
func (g *gridPlan) conditions(flow *page.Flow) {
	turn := false
	for i, c := range g.columns {
		lines, fits := breakLines(flow, c.Condition, g.wide(handouts.Span{From: i, To: i + 1})-1, whenStyle)
		turn = turn || !fits || len(lines) > 3
		g.when[i] = headText{lines: lines}
		g.whenH = math.Max(g.whenH, float64(len(lines))*headPitch+1.2)
	}
	if !turn {
		return
	}
	g.whenH = 0
	for i, c := range g.columns {
		most := max(1, int((g.wide(handouts.Span{From: i, To: i + 1})-0.6)/headPitch))
		g.whenH = math.Max(g.whenH, least(flow, c.Condition, most)+2)
	}
	for i, c := range g.columns {
		lines, _ := breakLines(flow, c.Condition, g.whenH-2, whenStyle)
		g.when[i] = headText{lines: lines, turn: true}
	}
}

// least is the shortest line, in mm, at which a text breaks into at most n lines.
func least(flow *page.Flow, text string, n int) float64 {
	const longest = 45
	// half a millimeter is finer than the eye; the texts are few
	for wide := 6.0; ; wide += 0.5 {
		if lines, fits := breakLines(flow, text, wide, whenStyle); fits && len(lines) <= n || wide >= longest {
			return wide
		}
	}
}

// breakLines breaks a text at spaces, but not before a lone sign: "battery -" stays together. It reports false
// when a word is wider than the line.
func breakLines(flow *page.Flow, text string, wide float64, style page.Style) (lines []string, fits bool) {
	fits = true
	var words []string
	for _, word := range strings.Fields(text) {
		if n := len(words); n > 0 && strings.Trim(word, ",;:") != "" && strings.Trim(word, "+-,;:") == "" {
			words[n-1] += " " + word
			continue
		}
		words = append(words, word)
	}
	for _, word := range words {
		fits = fits && flow.Width(word, style) <= wide
		if n := len(lines); n > 0 && flow.Width(lines[n-1]+" "+word, style) <= wide {
			lines[n-1] += " " + word
			continue
		}
		lines = append(lines, word)
	}
	return lines, fits
}

// head prints names of sweeps over their conditions over their minutes, between two heavy lines.
func (g *gridPlan) head(c page.Canvas) {
	first, right := g.edges[0], g.edges[len(g.columns)]
	strong := page.Pen{Line: page.Black, Width: 0.35}
	c.Line(0, 0, right, 0, strong)
	for i, s := range g.spans {
		h, high := g.sweep[i], g.sweepH
		if h.turn {
			high += g.whenH
		} else {
			c.Line(g.edges[s.From]+0.8, g.sweepH, g.edges[s.To]-0.8, g.sweepH, page.Pen{Line: page.Rule, Width: 0.2})
		}
		h.print(c.Part(g.edges[s.From], 0, g.wide(s), high))
		g.upright(c, s.From)
	}
	for i := range g.columns {
		g.when[i].print(c.Part(g.edges[i], g.sweepH, g.wide(handouts.Span{From: i, To: i + 1}), g.whenH))
	}
	base := c.H - 1.4
	c.Text(numberWide, base-4, "point", sweepStyle)
	c.Text(numberWide, base, "minutes", whenStyle)
	role := whenStyle
	role.Align = page.Right
	c.Text(numberWide+g.label-1, base, "role", role)
	access := page.Style{Size: 8, Condensed: true, Align: page.Right}
	c.Text(first-2.2, base-4, "access", access)
	c.Text(first-2.2, base, "add", access)
	for i, column := range g.columns {
		c.Text(g.middle(i), base, wording.Minutes(column.Minutes),
			page.Style{Size: 8, Condensed: true, Align: page.Center})
	}
	c.Line(0, c.H, right, c.H, strong)
}

func (g *gridPlan) middle(column int) float64 { return (g.edges[column] + g.edges[column+1]) / 2 }

// print puts the lines of a head at the foot of its place; turned ones are read from below upwards, side by side
// in the middle.
func (h headText) print(c page.Canvas) {
	middle := float64(len(h.lines)-1) / 2
	for i, text := range h.lines {
		style := whenStyle
		if i < h.bold {
			style = sweepStyle
		}
		style.Level = page.Middle
		if h.turn {
			style.Angle = 90
			c.Text(c.W/2+(float64(i)-middle)*headPitch, c.H-1, text, style)
			continue
		}
		style.Align = page.Center
		c.Text(c.W/2, c.H-0.8-(float64(len(h.lines)-i)-0.5)*headPitch, text, style)
	}
}

// upright is the line at the left of a sweep; within a sweep there are none, so that its conditions read as one
// group.
func (g *gridPlan) upright(c page.Canvas, column int) {
	c.Line(g.edges[column], 0, g.edges[column], c.H, page.Pen{Line: page.Rule, Width: 0.25})
}

// row prints one point: number, name and access minutes.
func (g *gridPlan) row(c page.Canvas, tinted bool, p lab.Point, d density) {
	right, y := g.edges[len(g.columns)], c.H/2
	if tinted {
		c.Rect(0, 0, right, c.H, page.Fill(page.Tint))
	}
	c.Text(numberWide-2.2, y, fmt.Sprint(p.Number),
		page.Style{Size: d.grid, Bold: true, Align: page.Right, Level: page.Middle})
	name, role := page.Style{Size: d.grid, Condensed: true, Level: page.Middle}, lab.RoleName(p.Role)
	if c.Width(p.Label, name)+roleGap+c.Width(role, roleStyle) <= g.label-1 { // a name is never cut for it
		right := roleStyle
		right.Align = page.Right
		c.Text(numberWide+g.label-1, y, role, right)
	}
	c.FitWhole(numberWide, y, g.label-1, p.Label, name)
	c.Text(g.edges[0]-2.2, y, wording.Minutes(p.Access),
		page.Style{Size: d.grid, Condensed: true, Align: page.Right, Level: page.Middle})
	for _, s := range g.spans {
		g.upright(c, s.From)
	}
	c.Line(0, c.H, right, c.H, page.Pen{Line: page.Rule, Width: 0.15})
}

// cells prints the lines of a point's tests; a dash where there is none.
func (g *gridPlan) cells(c page.Canvas, row []handout.Cell, d density) {
	for i := range g.columns {
		narrow := g.wide(handouts.Span{From: i, To: i + 1}) < 8.3
		c.Text(g.middle(i), c.H/2, cellText(row[i]),
			page.Style{Size: d.grid, Condensed: narrow, Align: page.Center, Level: page.Middle})
	}
}

// cellText is the line of a cell, or a dash.
func cellText(c handout.Cell) string {
	if c.Line == 0 {
		return handouts.NoLine
	}
	return wording.Line(c.Line)
}
