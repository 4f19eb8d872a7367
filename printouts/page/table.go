package page

import (
	"nospark/printouts/vector"
)

// Natural is the width of a column that is as wide as its longest cell.
const Natural = -1

// Table is a table that may run over several pages; its head is repeated. Text never leaves its cell: it is wrapped,
// and the row grows. Widths that are too large for the page are narrowed, and no word is broken as long as the words
// fit beside each other. In large print a table whose columns would become too narrow is set as lists, unless it is a
// Grid.
type Table struct {
	Columns   []Column
	Over      []Cell // a row above the heads, usually with spans
	Rows      []Row
	Size      float64 // pt; 0 means one point less than the section's body, never below its least
	Condensed bool
	Grid      bool    // lines between columns too, for tables to write in
	Zebra     bool    // every other row tinted
	Tall      float64 // least height of a row, mm; about 8.5 for handwriting
	Middle    bool    // cells in the middle of the row's height instead of at its top
	Loose     bool    // rows may be parted from the head's page; normally two rows stay with it
}

// Row appends a row of plain cells.
func (t *Table) Row(texts ...string) {
	t.Rows = append(t.Rows, Row{Cells: Cells(texts...)})
}

// Cells makes plain cells.
func Cells(texts ...string) []Cell {
	cells := make([]Cell, len(texts))
	for i, text := range texts {
		cells[i].Text = text
	}
	return cells
}

// Table adds a table.
func (f *Flow) Table(t Table) {
	if len(t.Columns) == 0 {
		return
	}
	g := f.newGrid(t)
	f.gap += 0.4 * f.lineHeight()
	if g.cramped() {
		g.cards()
		f.gap += 0.4 * f.lineHeight()
		return
	}
	head := g.head()
	rows := 0
	for i, row := range t.Rows {
		for _, u := range g.row(i, row, i == len(t.Rows)-1) {
			u.again = head
			if rows == 0 && head != nil {
				first := *head
				first.glue = true
				f.add(first)
			}
			u.glue = u.glue || (!t.Loose && rows == 0 && len(t.Rows) > 1)
			f.add(u)
			rows++
		}
	}
	if rows == 0 && head != nil {
		f.add(*head)
	}
	f.gap += 0.4 * f.lineHeight()
}

func (f *Flow) newGrid(t Table) *grid {
	size := t.Size
	if size == 0 {
		size = max(f.Sizes.Least, f.Sizes.Body-1)
	}
	g := &grid{Table: &t, flow: f, style: f.Running(Style{Size: size, Condensed: t.Condensed})}
	em := g.style.Size * vector.PerPoint
	// Less than an em between columns and programs that read PDFs aloud take two cells for one.
	g.padX, g.padY = 0.6*em, 0.16*em
	if t.Grid {
		g.padY = 0.1 * em
	}
	g.widths = g.measure()
	g.edges = make([]float64, len(g.widths)+1)
	for i, w := range g.widths {
		g.edges[i+1] = g.edges[i] + w
	}
	return g
}
