package section

import (
	"fmt"
	"strings"

	"nospark/printouts/content"
	"nospark/printouts/page"
)

func (r renderer) table(t content.Table) {
	if t.Keyed > 0 {
		r.keyed(t)
		return
	}
	if t.Paper.Run {
		r.running(t)
		return
	}
	table := page.Table{Zebra: t.Paper.Zebra, Grid: t.Paper.Ruled, Tall: t.Paper.Tall, Middle: t.Paper.Middle,
		Size: t.Paper.Look.Size, Condensed: t.Paper.Look.Condensed}
	for _, c := range t.Columns {
		table.Columns = append(table.Columns, columnOf(c))
	}
	for i, row := range t.Rows {
		rule := len(t.Groups) > 0 && t.Groups[0] == i
		if rule {
			t.Groups = t.Groups[1:]
		}
		table.Rows = append(table.Rows, page.Row{Cells: page.Cells(filled(row, t.Empty)...), Rule: rule})
	}
	r.Table(table)
}

// running sets each row as a few lines of text above a hairline: many short rows take half the room of a table.
func (r renderer) running(t content.Table) {
	const above, below = 0.25, 0.35 // mm
	style := styleOf(t.Paper.Look)
	for _, row := range t.Rows {
		var text strings.Builder
		for i, cell := range row {
			switch {
			case cell == "":
				continue
			case text.Len() == 0:
			case t.Columns[i-1].Header && t.Columns[i-1].Strong:
				text.WriteString(" ")
			default:
				text.WriteString("; ")
			}
			if t.Columns[i].Strong {
				cell = "**" + cell + "**"
			}
			text.WriteString(cell)
		}
		p := r.Set(r.W, text.String(), r.Flow.Running(style))
		r.Draw(above+p.H+below, func(c page.Canvas) {
			c.Paragraph(0, above, p)
			c.Line(0, c.H, c.W, c.H, page.Pen{Line: page.Rule, Width: 0.15})
		})
	}
}

func columnOf(c content.Column) page.Column {
	align := map[content.Align]page.Align{content.Left: page.Left, content.Right: page.Right, content.Center: page.Center}[c.Align]
	width := c.Width
	if width == content.Natural {
		width = page.Natural
	}
	return page.Column{Head: c.Head, Width: width, Share: c.Share, Align: align, Bold: c.Strong}
}

// filled puts a sign into empty cells.
func filled(row []string, empty string) []string {
	all := make([]string, len(row))
	for i, cell := range row {
		if all[i] = cell; cell == "" {
			all[i] = empty
		}
	}
	return all
}

// keyed sets a table whose heads are explained under letters, in parts of at most five such columns.
func (r renderer) keyed(t content.Table) {
	const most = 5
	for from := t.Keyed; from < len(t.Columns); from += most {
		to := min(from+most, len(t.Columns))
		part := page.Table{Zebra: t.Paper.Zebra}
		for _, c := range t.Columns[:t.Keyed] {
			part.Columns = append(part.Columns, columnOf(c))
		}
		var legend []string
		for i, c := range t.Columns[from:to] {
			letter := string(rune('A' + from - t.Keyed + i))
			legend = append(legend, fmt.Sprintf("%s: %s", letter, c.Head))
			part.Columns = append(part.Columns, page.Column{Head: letter, Width: 17, Align: page.Center})
		}
		r.Subheading(strings.Join(legend, "; ")) // stays with the table
		for _, row := range t.Rows {
			if t.Named(row, from, to) {
				part.Row(append(append([]string{}, row[:t.Keyed]...), filled(row[from:to], t.Empty)...)...)
			}
		}
		r.Table(part)
	}
}

// readings sets what a partner looks up in two columns, read downwards.
func (r renderer) readings(list content.Readings) {
	size := r.Sizes.Body
	high := 8.4 / 18 * size // mm, a line
	r.Space(3)
	for from := 0; from < len(list.List); {
		rows := max(1, int(r.Room()/high))
		to := min(from+2*rows, len(list.List))
		block := list.List[from:to]
		r.Draw(float64(min(rows, len(block)))*high, func(c page.Canvas) {
			wide := (c.W - 5) / 2
			for i, reading := range block {
				cell := c.Part(float64(i/rows)*(wide+5), float64(i%rows)*high, wide, high)
				Reading(cell, reading, size)
				cell.Line(0, cell.H, cell.W, cell.H, page.Pen{Line: page.Rule, Width: 0.2})
			}
		})
		if from = to; from < len(list.List) {
			r.Turn()
		}
	}
}

// Reading fills the canvas with number, letters and reading. Their places are fixed; a reading that is too long is
// set closer.
func Reading(c page.Canvas, r content.Reading, size float64) {
	y := c.H / 2
	number := page.Style{Size: size, Bold: true, Condensed: true, Level: page.Middle}
	text := page.Style{Size: size, Condensed: true, Level: page.Middle}
	// gaps of about one space: text taken from the file reads "214 KQ 12.39 V", and columns stay two spaces or
	// more apart
	gap := c.Width(" ", text)
	c.Text(0, y, r.Number, number)
	x := c.Width("000", number) + gap
	c.Text(x, y, r.Letters, text)
	x += c.Width("WW", text) + gap
	c.FitWhole(x, y, c.W-x, r.Text, text)
}
