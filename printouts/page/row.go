package page

// placed is a cell with its text broken into lines.
type placed struct {
	Cell
	from, to int // columns
	text     Paragraph
}

// place breaks the text of a row's cells. Cells beyond the last column are dropped, missing ones are empty.
func (g *grid) place(cells []Cell, bold bool) []placed {
	out := make([]placed, 0, len(g.Columns))
	at := 0
	for _, cell := range cells {
		if at >= len(g.Columns) {
			break
		}
		p := placed{Cell: cell, from: at, to: min(at+max(cell.Span, 1), len(g.Columns))}
		style := g.style
		style.Bold = bold || cell.Bold || g.Columns[at].Bold
		style.Align = g.Columns[at].Align
		if cell.Span > 1 {
			style.Align = Center
		}
		p.text = g.flow.Set(g.inner(p), cell.Text, style)
		out = append(out, p)
		at = p.to
	}
	return out
}

// inner is the width that the text of a cell may take. It stays above zero in tables with far too many columns.
func (g *grid) inner(p placed) float64 {
	wide := g.edges[p.to] - g.edges[p.from]
	return max(wide-2*g.padX, wide/2)
}

// row makes the units of one row: one, unless it is higher than a page.
func (g *grid) row(i int, row Row, last bool) []unit {
	cells := g.place(row.Cells, false)
	pitch := g.flow.LineHeight(g.style)
	lines := 1
	for _, c := range cells {
		lines = max(lines, c.text.Lines())
	}
	room := lines
	if page := g.flow.Page() - g.headHeight - 2*g.padY; page < float64(lines)*pitch {
		room = max(1, int(page/pitch))
	}
	var units []unit
	for from := 0; from < lines; from += room {
		to := min(from+room, lines)
		height := max(float64(to-from)*pitch+2*g.padY, g.Tall, row.Tall)
		units = append(units, g.flow.draw(0, height, func(c Canvas) {
			g.background(c, cells, g.Zebra && i%2 == 1)
			g.texts(c, cells, from, to)
			g.lines(c, row.Rule && from == 0, last && to == lines)
		}))
	}
	return units
}

func (g *grid) background(c Canvas, cells []placed, tinted bool) {
	if tinted {
		c.Rect(0, 0, g.right(), c.H, Fill(Tint))
	}
	for _, cell := range cells {
		if cell.Shade != None {
			c.Rect(g.edges[cell.from], 0, g.edges[cell.to]-g.edges[cell.from], c.H, Fill(cell.Shade))
		}
	}
}

// texts prints some lines of each cell.
func (g *grid) texts(c Canvas, cells []placed, from, to int) {
	for _, cell := range cells {
		a, b := min(from, cell.text.Lines()), min(to, cell.text.Lines())
		if cell.Text == "" || a == b {
			continue
		}
		y := g.padY
		if g.Middle {
			y = (c.H - float64(b-a)*cell.text.Pitch) / 2
		}
		x := (g.edges[cell.from] + g.edges[cell.to] - cell.text.Width) / 2
		c.Lines(x, y, cell.text, a, b)
	}
}

// right is the right edge of the table.
func (g *grid) right() float64 { return g.edges[len(g.edges)-1] }

// lines draws the rules of one row: hairlines between rows, and the lines of the grid.
func (g *grid) lines(c Canvas, heavy, last bool) {
	if heavy {
		c.Line(0, 0, g.right(), 0, Pen{Line: Black, Width: 0.3})
	}
	bottom := Pen{Line: Rule, Width: 0.2}
	if last {
		bottom = Pen{Line: Black, Width: 0.3}
	}
	if last || g.Grid || !g.Zebra {
		c.Line(0, c.H, g.right(), c.H, bottom)
	}
	g.uprights(c, 0)
}

// uprights draws the lines between columns from a height downwards.
func (g *grid) uprights(c Canvas, from float64) {
	pen := Pen{Line: Rule, Width: 0.2}
	for i, column := range g.Columns {
		if g.Grid || column.Rule && i > 0 {
			c.Line(g.edges[i], from, g.edges[i], c.H, pen)
		}
	}
	if g.Grid {
		c.Line(g.right(), from, g.right(), c.H, pen)
	}
}

// head makes the unit of the heads, or nil when there are none.
func (g *grid) head() *unit {
	over := g.place(g.Over, true)
	overHeight := 0.0
	for _, c := range over {
		if c.Text != "" {
			overHeight = max(overHeight, c.text.H+2*g.padY)
		}
	}
	heads, headHeight := g.heads()
	if overHeight+headHeight == 0 {
		return nil
	}
	g.headHeight = overHeight + headHeight
	u := g.flow.draw(0, g.headHeight, func(c Canvas) {
		c.Line(0, 0, g.right(), 0, Pen{Line: Black, Width: 0.3})
		if overHeight > 0 {
			top := c.Part(0, 0, c.W, overHeight)
			g.background(top, over, false)
			g.texts(top, over, 0, 99)
			for _, cell := range over {
				if cell.Text != "" && headHeight > 0 {
					c.Line(g.edges[cell.from]+g.padX, overHeight, g.edges[cell.to]-g.padX, overHeight,
						Pen{Line: Rule, Width: 0.2})
				}
			}
		}
		low := c.Part(0, overHeight, c.W, headHeight)
		for i, column := range g.Columns {
			p := heads[i]
			if column.Head == "" {
				continue
			}
			if column.Turn {
				g.turned(low, i)
				continue
			}
			// Heads stand on the line below them, also those of fewer lines.
			low.Paragraph((g.edges[i]+g.edges[i+1]-p.Width)/2, low.H-g.padY-p.H, p)
		}
		c.Line(0, c.H, g.right(), c.H, Pen{Line: Black, Width: 0.3})
		g.uprights(c, overHeight)
	})
	return &u
}

// heads breaks the heads of the columns and finds their height.
func (g *grid) heads() ([]Paragraph, float64) {
	out := make([]Paragraph, len(g.Columns))
	height := 0.0
	for i, column := range g.Columns {
		if column.Head == "" {
			continue
		}
		style := g.style
		style.Bold, style.Align = true, column.Align
		out[i] = g.flow.Set(g.inner(placed{from: i, to: i + 1}), column.Head, style)
		need := out[i].H + 2*g.padY
		if column.Turn {
			const longest = 45 // mm
			style.Condensed = true
			need = min(g.flow.Width(column.Head, style), longest) + 2*g.padX
		}
		height = max(height, need)
	}
	return out, height
}

// turned prints the head of one column upwards.
func (g *grid) turned(c Canvas, i int) {
	style := g.style
	style.Bold, style.Condensed, style.Angle, style.Level = true, true, 90, Middle
	c.Fit((g.edges[i]+g.edges[i+1])/2, c.H-g.padX, c.H-2*g.padX, g.Columns[i].Head, style)
}

// Cell is a place of a table.
type Cell struct {
	Text  string // words between pairs of ** are bold
	Bold  bool
	Shade Color // background; None for none
	Span  int   // number of columns it covers; 0 and 1 mean one
}

// Row is a row of a table.
type Row struct {
	Cells []Cell
	Rule  bool    // heavier line above, to group rows
	Tall  float64 // least height, mm
}
