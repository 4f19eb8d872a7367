package handouts

import (
	"slices"

	"nospark/printouts/wording"
	"nospark/scenarios/handout"
	"nospark/scenarios/lab"
)

// ColumnLetter names a column of a grid whose heads stand above it: A to Z, then AA.
func ColumnLetter(i int) string {
	const letters = 26
	if i < letters {
		return string(rune('A' + i))
	}
	return ColumnLetter(i/letters-1) + ColumnLetter(i%letters)
}

// ColumnKey says what the letters of some columns stand for, a sentence for each sweep; first is the index of the first
// of them in the lab.
func ColumnKey(columns []lab.Column, first int) []string {
	var all []string
	for _, s := range Sweeps(columns) {
		text := "**" + wording.Capital(columns[s.From].Label) + ":**"
		for i := s.From; i < s.To; i++ {
			if i > s.From {
				text += ";"
			}
			text += " **" + ColumnLetter(first+i) + "** " + columns[i].Condition + ", " +
				wording.Minutes(columns[i].Minutes) + " min"
		}
		all = append(all, text)
	}
	return all
}

// Allowed is a handout and one of its worksheets without the tests that the lab forbids, for sheets on which every
// line takes much room.
func Allowed(h handout.Handout, w handout.Worksheet) (handout.Handout, handout.Worksheet) {
	forbidden := func(meter string) bool { return slices.Contains(h.Forbidden, meter) }
	columns, grid := h.Reference.Columns, w.Grid
	h.Reference.Columns, w.Grid = nil, make([][]handout.Cell, len(grid))
	for i, c := range columns {
		if forbidden(lab.MeterLabel(c.Instrument)) {
			continue
		}
		h.Reference.Columns = append(h.Reference.Columns, c)
		for row := range grid {
			w.Grid[row] = append(w.Grid[row], grid[row][i])
		}
	}
	tables := w.Tables
	w.Tables = nil
	for _, t := range tables {
		t.Rows = slices.DeleteFunc(slices.Clone(t.Rows), func(r handout.SmallRow) bool { return forbidden(r.Meter) })
		if len(t.Rows) > 0 {
			w.Tables = append(w.Tables, t)
		}
	}
	return h, w
}
