package page

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"nospark/printouts/page/canvas"
)

// TestTableStaysInside builds random tables: no text leaves its cell or the table, no rule leaves the column, nothing
// leaves the body of the page, and every word is printed.
func TestTableStaysInside(t *testing.T) {
	random := rand.New(rand.NewPCG(3, 4))
	for trial := range 150 {
		large := trial%5 == 0
		f := newSection(t, Options{}, Frame{Large: large, Landscape: trial%7 == 0})
		table := randomTable(random)
		checkCells(t, f, table)
		f.Table(table)
		for _, m := range items(f) {
			switch m.Kind {
			case canvas.Text:
				if left, right := m.ends(); m.Angle == 0 && (left < f.left-1e-6 || right > f.left+f.W+1e-6) {
					t.Fatalf("trial %d: %q runs from %.2f to %.2f, the page from %.2f to %.2f", trial, m.Text, left,
						right, f.left, f.left+f.W)
				}
				if m.Y > f.bottom+1e-6 || m.Y < f.top {
					t.Fatalf("trial %d: %q at height %.2f is outside of %.2f to %.2f", trial, m.Text, m.Y, f.top,
						f.bottom)
				}
			case canvas.Line:
				if m.X < f.left-1e-6 || m.W > f.left+f.W+1e-6 || m.H > f.bottom+1e-6 {
					t.Fatalf("trial %d: a rule leaves the page: %+v", trial, m.Item)
				}
			}
		}
		checkAllPrinted(t, f, table)
	}
}

func randomTable(random *rand.Rand) Table {
	n := 1 + random.IntN(9)
	words := func(most int) string {
		var b strings.Builder
		for range random.IntN(most + 1) {
			b.WriteString([]string{"a", "seven", "12.56 V", "connector", "**bold**", "Donaudampfschiffahrt",
				strings.Repeat("x", 70)}[random.IntN(7)] + " ")
		}
		return b.String()
	}
	table := Table{Grid: random.IntN(2) == 0, Zebra: random.IntN(2) == 0, Middle: random.IntN(2) == 0,
		Tall: float64(random.IntN(12)), Condensed: random.IntN(2) == 0}
	for i := range n {
		table.Columns = append(table.Columns, Column{
			Head: fmt.Sprint("h", i), Width: []float64{0, 0, Natural, 15, 60}[random.IntN(5)],
			Share: random.Float64() * 3,
			Align: Align(random.IntN(3)), Bold: random.IntN(4) == 0, Turn: random.IntN(6) == 0,
			Rule: random.IntN(3) == 0,
		})
	}
	for range random.IntN(30) {
		var row Row
		for range n {
			cell := Cell{Text: words(4), Bold: random.IntN(4) == 0, Span: random.IntN(3)}
			if random.IntN(40) == 0 {
				cell.Text = strings.Repeat("a long story ", 150)
			}
			row.Cells = append(row.Cells, cell)
		}
		table.Rows = append(table.Rows, row)
	}
	return table
}

// checkCells checks the columns' widths and that each cell's lines fit it.
func checkCells(t *testing.T, f *Flow, table Table) {
	t.Helper()
	g := f.newGrid(table)
	if sum := g.right(); sum > f.W+1e-6 {
		t.Fatalf("the columns are %.2f mm wide together, the page %.2f", sum, f.W)
	}
	for _, row := range table.Rows {
		for _, cell := range g.place(row.Cells, false) {
			wide := g.edges[cell.to] - g.edges[cell.from]
			for i := range cell.text.Lines() {
				text, width := "", 0.0
				for run := range f.Runs(cell.text, i, i+1) {
					text, width = text+run.Line.Text, width+run.Line.Width
				}
				if width > wide && len(text) > 1 {
					t.Fatalf("line %q is %.2f mm wide in a cell of %.2f", text, width, wide)
				}
			}
		}
	}
}

// checkAllPrinted compares the letters of the cells with the letters on paper.
func checkAllPrinted(t *testing.T, f *Flow, table Table) {
	t.Helper()
	var printed strings.Builder
	for _, m := range texts(f) {
		printed.WriteString(m.Text)
	}
	want := 0
	for _, row := range table.Rows {
		at := 0
		for _, cell := range row.Cells {
			if at < len(table.Columns) {
				want += strings.Count(cell.Text, "o")
			}
			at += max(cell.Span, 1)
		}
	}
	if got := strings.Count(printed.String(), "o"); got != want {
		t.Fatalf("%d times the letter o is printed, want %d", got, want)
	}
}

func TestTableHeadIsRepeated(t *testing.T) {
	f := newSection(t, Options{}, Frame{})
	table := Table{Columns: []Column{{Head: "Number"}, {Head: "Word"}}}
	for i := range 150 {
		table.Row(fmt.Sprint(i), "word")
	}
	f.Table(table)
	first := map[int]string{}
	for _, m := range texts(f) {
		if _, there := first[m.page]; !there {
			first[m.page] = m.Text
		}
	}
	if len(f.pages) < 3 {
		t.Fatalf("%d pages, want several", len(f.pages))
	}
	for page := range f.pages {
		if first[page] != "Number" {
			t.Errorf("page %d begins with %q, want the head", page, first[page])
		}
	}
}

func TestTableWidths(t *testing.T) {
	f := newSection(t, Options{}, Frame{})
	check := func(name string, want []float64, columns ...Column) {
		t.Helper()
		g := f.newGrid(Table{Columns: columns})
		for i, w := range want {
			if d := g.widths[i] - w*f.W; d > 1e-6 || d < -1e-6 {
				t.Errorf("%s: column %d is %.2f mm wide, want %.2f", name, i, g.widths[i], w*f.W)
			}
		}
	}
	check("shares", []float64{0.25, 0.75}, Column{Share: 1}, Column{Share: 3})
	check("no share is one", []float64{0.5, 0.5}, Column{}, Column{Share: 1})
	check("given and rest", []float64{0.2, 0.8}, Column{Width: 0.2 * f.W}, Column{})
	check("too wide", []float64{0.5, 0.5}, Column{Width: 2 * f.W}, Column{Width: 2 * f.W})
}
