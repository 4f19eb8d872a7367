package page

import (
	"strings"

	"nospark/printouts/vector"
)

// cramped reports whether a table in large print has columns too narrow to read in. Tables to write in stay tables.
func (g *grid) cramped() bool {
	if !g.flow.Sizes.Large() || g.Grid {
		return false
	}
	em := g.style.Size * vector.PerPoint
	for i := range g.Columns {
		natural, word := g.needs(i)
		if g.widths[i] < max(word, min(natural, 9*em))-0.1 {
			return true
		}
	}
	return false
}

// cards adds each row as a small list instead: the first cell in bold, then a line for every other cell with the head
// of its column before it.
func (g *grid) cards() {
	f := g.flow
	over := g.place(g.Over, true)
	for _, row := range g.Rows {
		lead, lines := "", []string(nil)
		at := 0
		for _, cell := range row.Cells {
			if at >= len(g.Columns) {
				break
			}
			name := strings.Trim(group(over, at)+": "+g.Columns[at].Head, ": ")
			text := strings.ReplaceAll(cell.Text, "**", "")
			switch {
			case at == 0 || name == "" && len(lines) == 0:
				lead = strings.TrimSpace(lead + " " + text)
			case text != "":
				lines = append(lines, strings.TrimPrefix(name+": "+text, ": "))
			}
			at += max(cell.Span, 1)
		}
		f.lines(0.5*f.lineHeight(), f.Set(f.W, lead, Style{Bold: true}), true)
		indent := 1.2 * f.Sizes.Body * vector.PerPoint
		for i, text := range lines {
			f.hanging(0, indent, "", f.Set(f.W-indent, text, Style{}), i < len(lines)-1)
		}
		f.add(f.draw(0, 1.5, func(c Canvas) { c.Line(0, 1, c.W, 1, Pen{Line: Rule, Width: 0.2}) }))
	}
}

// group is the text above a column's head.
func group(over []placed, column int) string {
	for _, cell := range over {
		if cell.from <= column && column < cell.to {
			return cell.Text
		}
	}
	return ""
}
