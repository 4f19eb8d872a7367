package screen

import (
	"html/template"

	"nospark/printouts/content"
)

// wideFrom is the number of columns from which a table may need more room than a telephone has: it scrolls by itself
// then.
const wideFrom = 4

// tableCell is a cell, or the head of a column.
type tableCell struct {
	Header bool
	Class  string
	Text   template.HTML
}

// tableRow is a row; one that begins a group is set off.
type tableRow struct {
	Begins bool
	Cells  []tableCell
}

func (r *renderer) table(t content.Table) {
	shown := struct {
		Wide        bool
		ID, Caption string
		Heads       []tableCell
		Rows        []tableRow
	}{Wide: len(t.Columns) >= wideFrom, ID: r.name(), Caption: r.heading}
	if shown.Caption == "" {
		shown.Caption = "Table"
	}
	headed := false
	for _, c := range t.Columns {
		headed = headed || c.Head != ""
		shown.Heads = append(shown.Heads, tableCell{Class: classOf(c), Text: stressed(c.Head)})
	}
	if !headed {
		shown.Heads = nil
	}
	groups := t.Groups
	for i, row := range t.Rows {
		begins := len(groups) > 0 && groups[0] == i
		if begins {
			groups = groups[1:]
		}
		if t.Keyed > 0 && !t.Named(row, t.Keyed, len(row)) {
			continue
		}
		line := tableRow{Begins: begins && i > 0}
		for k, cell := range row {
			c := t.Columns[k]
			line.Cells = append(line.Cells, tableCell{c.Header && cell != "", classOf(c), stressed(cell)})
		}
		shown.Rows = append(shown.Rows, line)
	}
	r.put("table", shown)
}

// classOf names the look of a column's cells.
func classOf(c content.Column) string {
	class := ""
	switch c.Align {
	case content.Right:
		class = "right"
	case content.Center:
		class = "center"
	}
	if c.Strong {
		if class != "" {
			class += " "
		}
		class += "strong"
	}
	return class
}
