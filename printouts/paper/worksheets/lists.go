package worksheets

import (
	"slices"

	"nospark/printouts/handouts"
	"nospark/printouts/page"
	"nospark/printouts/paper"
	"nospark/printouts/wording"
	"nospark/scenarios/handout"
)

// entry is a line of the small tables: a heading, a name that the tests below share, or one test.
type entry struct {
	row           int    // of its table; -1 for the heading
	last          bool   // row of its table
	under         bool   // names instrument and condition of the rows below
	run           string // what is named above the row's run, "" for nothing
	runLength     int    // number of rows of the run
	runRow        int    // row of the run
	minutes       int64  // of each of its tests
	table         int    // of the sheet
	places        []int  // of its tests in the table
	text          []string
	height        float64
	headingHeight float64
	item          float64 // height of a row of one line
	heading       string
	shared        string // instrument and condition that all rows of the table share
}

// Widths in a small table, mm.
const (
	listGap     = 6.0 // between columns of tables
	minutesWide = 8.0
	lineWide    = 8.0
	wholeRun    = 3 // rows of a run that are kept on one column
)

// lists places the small tables of the tests outside the grid in columns, as many as fit below the grid and the
// others on the next page.
func (s *worksheet) lists() {
	if len(s.sheet.Tables) == 0 {
		return
	}
	entries := s.entries()
	const heading, least = 5.6, 16.0
	need := 10.0 // a few rows
	if s.density.roomy() {
		need = heading + least
	}
	s.Y += 2.2
	if s.Room() < need {
		s.next()
	}
	if s.density.roomy() {
		s.section(handouts.OtherTests, "")
	}
	for fresh := false; len(entries) > 0; fresh = true {
		columns, rest, height := pour(entries, s.density.columns, s.Room())
		if len(columns[0]) == 0 {
			if !fresh {
				s.next()
				continue
			}
			columns[0], rest = entries, nil // higher than a page: print it all rather than nothing
		}
		for i, c := range columns {
			s.column(i, c)
		}
		s.Y += height
		if entries = rest; len(entries) > 0 {
			s.next()
		}
	}
}

// next turns to the next page; its top, the back of the stub, stays free of what is needed.
func (s *worksheet) next() {
	s.Turn()
	if s.Count() != 2 {
		return
	}
	if s.sheet.Large {
		s.Y += largeTear
	} else {
		s.Y += paper.StripHigh - 3.5
	}
}

// entries breaks the tables into lines. The tests of an instrument in one condition stand together under its name,
// where they are several; order and grouping follow from the lab alone, so they tell nothing about a sheet.
func (s *worksheet) entries() []entry {
	wide := s.columnWide() - minutesWide
	style := page.Style{Size: s.density.list, Condensed: true}
	var all []entry
	for table, t := range s.sheet.Tables {
		meter, when := handouts.Shared(t.Rows)
		head := entry{row: -1, height: s.density.item + 1.4, item: s.density.item, heading: t.Heading,
			shared: handouts.TableNote(t)}
		head.headingHeight = head.height
		all = append(all, head)
		n, first := 0, len(all)
		for _, run := range handouts.Runs(t.Rows) {
			runMeter, runWhen := meter, when
			wraps := slices.ContainsFunc(s.groups(run, meter, when), func(g handouts.NumberedTests) bool {
				lines, _ := breakLines(s.Flow, g.Text, wide-lineWide*float64(len(g.Rows)), style)
				return len(lines) > 1
			})
			under := handouts.RunName(run, meter, when, wraps)
			if under != "" {
				runMeter, runWhen = handouts.Shared(run)
				e := head
				e.row, e.under, e.text, e.height = n, true, []string{under}, s.density.item
				all = append(all, e)
			}
			groups := s.groups(run, runMeter, runWhen)
			for i, g := range groups {
				e := head
				e.row, e.minutes, e.table = n, g.Rows[0].Minutes, table
				for _, r := range g.Rows {
					e.places = append(e.places, slices.Index(t.Rows, r))
				}
				e.run, e.runLength, e.runRow = under, len(groups), i
				e.text, _ = breakLines(s.Flow, g.Text, wide-lineWide*float64(len(g.Rows)), style)
				e.height = s.density.item + float64(len(e.text)-1)*s.density.list*0.41
				all = append(all, e)
				n++
			}
		}
		if len(all) > first {
			all[len(all)-1].last = true
		}
	}
	return all
}

// groups are the rows of a run; where room is scarce, tests that differ in a number alone share one.
func (s *worksheet) groups(run []handout.SmallRow, meter, when string) []handouts.NumberedTests {
	if s.density.shared {
		return handouts.Numbered(run, meter, when)
	}
	var all []handouts.NumberedTests
	for _, r := range run {
		all = append(all, handouts.NumberedTests{Text: handouts.TestText(r, meter, when), Rows: []handout.SmallRow{r}})
	}
	return all
}

// columnWide is the width of one column of tables, mm.
func (s *worksheet) columnWide() float64 {
	n := float64(s.density.columns)
	return (s.Width - (n-1)*listGap) / n
}

// pour divides entries over columns of at most the given height, the columns as equal as they can be. What does not
// fit is the rest.
func pour(entries []entry, n int, room float64) (columns [][]entry, rest []entry, height float64) {
	total := 0.0
	for _, e := range entries {
		total += e.height
	}
	// the least height at which the columns hold everything leaves most room for the record
	const step = 0.5 // mm
	for height = min(room, total/float64(n)); ; height = min(room, height+step) {
		columns, rest = make([][]entry, n), entries
		for i := range columns {
			k := fill(rest, height)
			columns[i], rest = rest[:k], rest[k:]
		}
		if len(rest) == 0 || height >= room {
			return columns, rest, height
		}
	}
}

// fill counts the entries that fit a height, with the heading repeated where a table goes on. No heading and no
// first row stands last, and no last row alone in the next column.
func fill(entries []entry, height float64) int {
	sum := 0.0
	if len(entries) > 0 {
		for _, e := range entries[0].again() {
			sum += e.height
		}
	}
	n := 0
	for n < len(entries) && sum+entries[n].height <= height+1e-6 {
		sum += entries[n].height
		n++
	}
	if n == len(entries) || n == 0 || entries[n].row <= 0 {
		for n > 0 && n < len(entries) && (entries[n-1].row < 0 || entries[n-1].under) {
			n--
		}
		return n
	}
	if next := entries[n]; next.run != "" && next.runLength <= wholeRun && next.runRow > 0 && n > next.runRow+1 {
		n -= next.runRow
	}
	if next := entries[n]; next.run != "" && next.runRow == 1 && n > 2 { // no first row of a run alone either
		n--
	}
	if next := entries[n]; next.last && next.row > 2 {
		n--
	}
	if entries[n].row == 1 && n > 2 {
		n--
	}
	for n > 0 && (entries[n-1].row < 0 || entries[n-1].under) {
		n--
	}
	return n
}

// again repeats the heading of an entry's table, for the top of a column in which the table goes on, and below it
// the name of the entry's run; nothing where the entry is a heading itself.
func (e entry) again() []entry {
	if e.row < 0 {
		return nil
	}
	head := entry{row: -1, height: e.headingHeight, headingHeight: e.headingHeight, heading: e.heading +
		" (cont.)", shared: e.shared}
	if e.run == "" || e.under {
		return []entry{head}
	}
	return []entry{head, {row: e.row, under: true, text: []string{e.run}, height: e.item}}
}

// column prints entries one below the other, in the column of that number from the left.
func (s *worksheet) column(number int, entries []entry) {
	wide := s.columnWide()
	y := s.Y
	if len(entries) > 0 {
		entries = append(entries[0].again(), entries...)
	}
	for _, e := range entries {
		x := float64(number) * (wide + listGap)
		s.PutSharedAt(x, y, wide, e.height, func(c page.Canvas) { e.print(c, s.density) })
		if e.row >= 0 && !e.under {
			s.PutAt(x, y, wide, e.height, func(c page.Canvas) {
				for i, place := range e.places {
					row := s.sheet.Tables[e.table].Rows[place]
					c.Text(c.W-1-float64(len(e.places)-1-i)*lineWide, s.density.item/2, wording.Line(row.Line),
						page.Style{Size: s.density.list, Align: page.Right, Level: page.Middle})
				}
			})
		}
		y += e.height
	}
}

func (e entry) print(c page.Canvas, d density) {
	small := page.Style{Size: 8, Condensed: true, Align: page.Right}
	if e.row < 0 {
		style := page.Style{Size: d.list, Bold: true, Condensed: true}
		base := c.H - 1.2
		const heads = 8.0 // mm, of the minutes' and the line's own heading
		c.FitWhole(0, base, c.W-lineWide-heads, e.heading, style)
		x := c.Width(e.heading, style)
		if e.shared != "" {
			c.Fit(x, base, c.W-minutesWide-lineWide-x, ": "+e.shared, page.Style{Size: d.list, Condensed: true})
		}
		c.Text(c.W-lineWide-1.5, base, "min", small)
		c.Text(c.W-1, base, "line", small)
		c.Line(0, c.H, c.W, c.H, page.Pen{Line: page.Black, Width: 0.3})
		return
	}
	first, lines := d.item/2, lineWide*float64(len(e.places))
	if e.under {
		c.Fit(0, first+0.3, c.W, e.text[0]+":",
			page.Style{Size: 8, Condensed: true, Color: page.Gray, Level: page.Middle})
		return
	}
	for i, text := range e.text {
		c.FitWhole(0, first+float64(i)*d.list*0.41, c.W-minutesWide-lines, text,
			page.Style{Size: d.list, Condensed: true, Level: page.Middle})
	}
	c.Text(c.W-lines-1.5, first, wording.Minutes(e.minutes),
		page.Style{Size: d.list, Condensed: true, Align: page.Right, Level: page.Middle})
	c.Line(0, c.H, c.W, c.H, page.Pen{Line: page.Rule, Width: 0.15})
}
