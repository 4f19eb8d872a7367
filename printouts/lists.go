package printouts

import (
	"nospark/printouts/page"
	"nospark/scenarios"
)

// entry is a line of the small tables: a heading, or one test.
type entry struct {
	table         scenarios.SmallTable
	row           int // index into the table's rows; -1 for the heading
	text          []string
	height        float64
	headingHeight float64
	heading       string
	shared        string // instrument and condition that all rows share
}

// Widths in a small table, mm.
const (
	listGap     = 7.0 // between the two columns of tables
	minutesWide = 9.0
	lineWide    = 9.0
)

// lists places the small tables of the tests outside the grid in two columns, as many as fit below the grid and the others on the next
// page.
func (s *worksheet) lists() {
	if len(s.sheet.Tables) == 0 {
		return
	}
	entries := s.entries()
	const heading, least = 5.6, 16.0
	s.y += 2.2
	if s.room() < heading+least {
		s.next()
	}
	s.section("Other tests", "")
	for len(entries) > 0 {
		left, right, rest, height := pour(entries, s.room())
		s.column(0, left)
		s.column(1, right)
		s.y += height
		if entries = rest; len(entries) > 0 {
			s.next()
		}
	}
}

// next turns to the next page; its top, the back of the stub, stays free of what is needed.
func (s *worksheet) next() {
	s.turn()
	if len(s.pages) == 2 {
		s.y += stubHeight - 3.5
	}
}

func (s *worksheet) entries() []entry {
	wide := (s.width-listGap)/2 - minutesWide - lineWide
	var all []entry
	for _, t := range s.sheet.Tables {
		meter, when := shared(t)
		head := entry{table: t, row: -1, height: s.density.item + 1.4, headingHeight: s.density.item + 1.4, heading: t.Heading, shared: joined(", ", meter, when)}
		all = append(all, head)
		for i, r := range t.Rows {
			lines, _ := breakLines(s.flow, rowText(r, meter, when), wide, page.Style{Size: s.density.list, Condensed: true})
			pitch := s.density.list * 0.41
			e := head
			e.row, e.text, e.height = i, lines, s.density.item+float64(len(lines)-1)*pitch
			all = append(all, e)
		}
	}
	return all
}

// shared gives the instrument and the condition that all rows of a table have in common, for its heading.
func shared(t scenarios.SmallTable) (meter, when string) {
	if len(t.Rows) < 2 {
		return "", ""
	}
	meter, when = t.Rows[0].Meter, t.Rows[0].Condition
	for _, r := range t.Rows {
		if r.Meter != meter {
			meter = ""
		}
		if r.Condition != when {
			when = ""
		}
	}
	return meter, when
}

// rowText names a test, with its instrument and condition unless its table's heading has them.
func rowText(r scenarios.SmallRow, meter, when string) string {
	if meter == "" {
		meter = r.Meter
	} else {
		meter = ""
	}
	if when == "" {
		when = r.Condition
	} else {
		when = ""
	}
	return joined("; ", r.Label, joined(", ", meter, when))
}

// pour divides entries over two columns of at most the given height, the columns as equal as they can be. What does not fit is the rest.
func pour(entries []entry, room float64) (left, right, rest []entry, height float64) {
	total := 0.0
	for _, e := range entries {
		total += e.height
	}
	const step = 0.5 // mm
	for height = min(room, total/2); ; height = min(room, height+step) {
		a := fill(entries, height)
		b := a + fill(entries[a:], height)
		if b == len(entries) || height >= room {
			if b == 0 {
				b, a = len(entries), len(entries) // nothing fits an empty page: print it all rather than nothing
			}
			return entries[:a], entries[a:b], entries[b:], height
		}
	}
}

// fill counts the entries that fit a height, with the heading repeated where a table goes on. No heading and no first row stands last,
// and no last row alone in the next column.
func fill(entries []entry, height float64) int {
	sum := 0.0
	if len(entries) > 0 && entries[0].row >= 0 {
		sum = entries[0].again().height
	}
	n := 0
	for n < len(entries) && sum+entries[n].height <= height+1e-6 {
		sum += entries[n].height
		n++
	}
	if n == len(entries) || n == 0 || entries[n].row <= 0 {
		for n > 0 && n < len(entries) && entries[n-1].row < 0 {
			n--
		}
		return n
	}
	if next := entries[n]; next.row == len(next.table.Rows)-1 && next.row > 2 {
		n--
	}
	if entries[n].row == 1 && n > 2 {
		n--
	}
	for n > 0 && entries[n-1].row < 0 {
		n--
	}
	return n
}

// again is the heading of an entry's table.
func (e entry) again() entry {
	return entry{table: e.table, row: -1, height: e.headingHeight, headingHeight: e.headingHeight, heading: e.heading, shared: e.shared}
}

// column prints entries one below the other, in the left or the right column.
func (s *worksheet) column(side int, entries []entry) {
	wide := (s.width - listGap) / 2
	y := s.y
	if len(entries) > 0 && entries[0].row >= 0 {
		head := entries[0].again()
		head.heading += " (cont.)"
		entries = append([]entry{head}, entries...)
	}
	for _, e := range entries {
		s.fix(float64(side)*(wide+listGap), y, wide, e.height, func(c page.Canvas) { e.print(c, s.density) })
		y += e.height
	}
}

func (e entry) print(c page.Canvas, d density) {
	small := page.Style{Size: 8, Condensed: true, Align: page.Right}
	if e.row < 0 {
		style := page.Style{Size: d.list, Bold: true, Condensed: true}
		base := c.H - 1.2
		c.Text(0, base, e.heading, style)
		x := c.Width(e.heading, style)
		if e.shared != "" {
			c.Fit(x, base, c.W-minutesWide-lineWide-x, ": "+e.shared, page.Style{Size: d.list, Condensed: true})
		}
		c.Text(c.W-lineWide-1.5, base, "min", small)
		c.Text(c.W-1, base, "line", small)
		c.Line(0, c.H, c.W, c.H, page.Pen{Line: page.Black, Width: 0.3})
		return
	}
	r := e.table.Rows[e.row]
	first := d.item / 2
	for i, text := range e.text {
		c.Fit(0, first+float64(i)*d.list*0.41, c.W-minutesWide-lineWide, text, page.Style{Size: d.list, Condensed: true, Level: page.Middle})
	}
	number := page.Style{Size: d.list, Align: page.Right, Level: page.Middle}
	c.Text(c.W-lineWide-1.5, first, minutes(r.Minutes), page.Style{Size: d.list, Condensed: true, Align: page.Right, Level: page.Middle})
	c.Text(c.W-1, first, line(r.Line), number)
	c.Line(0, c.H, c.W, c.H, page.Pen{Line: page.Rule, Width: 0.15})
}
