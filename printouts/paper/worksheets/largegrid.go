package worksheets

import (
	"fmt"
	"slices"

	"nospark/printouts/handouts"
	"nospark/printouts/page"
	"nospark/printouts/wording"
	"nospark/scenarios/handout"
	"nospark/scenarios/lab"
)

// Widths in a grid in large print, mm: a number of two digits, the minutes of access, and three digits of a line.
const (
	largePoint  = 12.0
	largeAccess = 14.0
	largeCell   = 12.4
	largeLabel  = 54.0 // least, of a point's name
	largeRole   = 30.0 // of a role alone
)

// largePart is a part of the grid: some of its columns, with the points at which these have a test. The first part
// names all points; the others do so where the sheet has the pages, or go on with number and role.
type largePart struct {
	from    int // index of its first column
	columns []lab.Column
	label   float64          // mm, of names
	points  []int            // indexes
	names   []page.Paragraph // of them
	key     []page.Paragraph // what the letters above the columns mean
}

// largeGrid places the grid in the parts that take the least height together.
func (s *worksheet) largeGrid() {
	n := len(s.handout.Reference.Columns)
	if !handouts.AtPoints(s.sheet) {
		return
	}
	const least = 10 // lines on the page where the grid begins
	if s.Room() < least*largePitch {
		s.next()
	}
	s.flow(1, "**"+handouts.PointTests+".** "+handouts.PointTestsNote)
	if without := s.without(); len(without) > 0 {
		s.flow(0.5, handouts.PointsWithout(without, s.handout.Untested))
	}
	room := s.Width - largePoint - largeAccess
	most := max(1, min(n, int((room-largeLabel)/largeCell)))
	var best []largePart
	others := most
	if s.density.bare {
		others = int((room - largeRole) / largeCell)
	}
	for first := range most {
		if p := s.largeParts(first+1, others); best == nil || heightOf(p) < heightOf(best) {
			best = p
		}
	}
	if s.density.bare && len(best) > 1 {
		s.flow(0.5, "Where a row gives a role alone, the first part of the table has the name of its point.")
	}
	for _, p := range best {
		s.Y += 2
		s.largePart(p)
	}
}

// largeParts cuts the columns into a first part of some columns and others of at most as many as fit.
func (s *worksheet) largeParts(first, most int) []largePart {
	var parts []largePart
	columns := s.handout.Reference.Columns
	for from := 0; from < len(columns); {
		to := min(from+first, len(columns))
		if from > 0 {
			to = min(from+most, len(columns))
		}
		parts = append(parts, s.largePartOf(from, to))
		from = to
	}
	return parts
}

func (s *worksheet) largePartOf(from, to int) largePart {
	ref, without := s.handout.Reference, s.without()
	p := largePart{from: from, columns: ref.Columns[from:to]}
	p.label = s.Width - largePoint - largeAccess - float64(to-from)*largeCell
	named := from == 0 || !s.density.bare
	if !named {
		p.label = min(p.label, largeRole)
	}
	for _, text := range handouts.ColumnKey(p.columns, from) {
		p.key = append(p.key, closer(s.Flow.Set(s.Width, text, largeText)))
	}
	for i, point := range ref.Points {
		name := lab.RoleName(point.Role)
		if named {
			name = wording.Join(", ", point.Label, name)
		}
		tested := slices.ContainsFunc(s.sheet.Grid[i][from:to], func(c handout.Cell) bool { return c.Line != 0 })
		if tested || from == 0 && !slices.Contains(without, point.Number) {
			p.points = append(p.points, i)
			p.names = append(p.names, closer(s.Flow.Set(p.label-2, name, largeText)))
		}
	}
	return p
}

// closer sets the lines of a paragraph as close as those of a table.
func closer(p page.Paragraph) page.Paragraph {
	p.Pitch = largePitch
	p.H = float64(p.Lines()) * largePitch
	return p
}

// heightOf is what parts need, mm.
func heightOf(parts []largePart) float64 {
	sum := 0.0
	for _, p := range parts {
		sum += p.keyHigh() + largePitch
		for _, name := range p.names {
			sum += name.H
		}
	}
	return sum
}

func (p largePart) keyHigh() float64 {
	sum := 1.5
	for _, k := range p.key {
		sum += k.H
	}
	return sum
}

// largePart places one part, its heads again on each page.
func (s *worksheet) largePart(p largePart) {
	const least = 3 // rows below a head
	if s.Room() < p.keyHigh()+largePitch*(1+least) {
		s.next()
	}
	s.largeKey(p)
	tinted := true
	for i, at := range p.points {
		tinted = !tinted
		tint, high := tinted, p.names[i].H
		if s.Room() < high {
			s.next()
			s.largeKey(p)
		}
		s.Put(high, func(c page.Canvas) { s.largeRow(c, p, i, at, tint) })
	}
}

// largeKey prints what the letters mean, and the letters.
func (s *worksheet) largeKey(p largePart) {
	s.Put(p.keyHigh(), func(c page.Canvas) {
		y := 0.0
		for _, k := range p.key {
			c.Paragraph(0, y, k)
			y += k.H
		}
	})
	s.Put(largePitch, func(c page.Canvas) {
		strong := page.Style{Size: largeSize, Condensed: true, Bold: true, Level: page.Middle}
		head := "role"
		if p.from == 0 || !s.density.bare {
			head = "point, role"
		}
		c.Text(largePoint, c.H/2, head, strong)
		access := strong
		access.Align = page.Right
		c.Text(largePoint+p.label+largeAccess-3, c.H/2, "add", access)
		strong.Align = page.Center
		for i := range p.columns {
			c.Text(p.middle(i), c.H/2, handouts.ColumnLetter(p.from+i), strong)
		}
		p.between(c)
		for _, y := range []float64{0, c.H} {
			c.Line(0, y, p.right(), y, page.Pen{Line: page.Black, Width: 0.5})
		}
	})
}

func (p largePart) middle(i int) float64 {
	return largePoint + p.label + largeAccess + (float64(i)+0.5)*largeCell
}

func (p largePart) right() float64 { return p.middle(len(p.columns)) - largeCell/2 }

// between rules the columns, which would read as one long number where the eye cannot see the gaps.
func (p largePart) between(c page.Canvas) {
	for i := range p.columns {
		x := p.middle(i) - largeCell/2
		c.Line(x, 0, x, c.H, page.Pen{Line: page.Rule, Width: 0.25})
	}
}

// largeRow prints the lines at one point.
func (s *worksheet) largeRow(c page.Canvas, p largePart, i, at int, tinted bool) {
	point := s.handout.Reference.Points[at]
	if tinted {
		c.Rect(0, 0, p.right(), c.H, page.Fill(page.Tint))
	}
	y := largePitch / 2
	text := page.Style{Size: largeSize, Condensed: true, Align: page.Right, Level: page.Middle}
	number := text
	number.Bold = true
	c.Text(largePoint-2.5, y, fmt.Sprint(point.Number), number)
	c.Paragraph(largePoint, 0, p.names[i])
	c.Text(largePoint+p.label+largeAccess-3, y, wording.Minutes(point.Access), text)
	text.Align = page.Center
	for k := range p.columns {
		c.Text(p.middle(k), y, cellText(s.sheet.Grid[at][p.from+k]), text)
	}
	p.between(c)
	c.Line(0, c.H, p.right(), c.H, page.Pen{Line: page.Rule, Width: 0.2})
}
