package page

import (
	"slices"
	"strings"
)

// measure finds the widths of a table's columns: given ones, natural ones, then shares of the rest. No word is broken
// as long as the words fit beside each other at all, so a column may become wider than was asked for. The sum is never
// more than the width of the flow.
func (g *grid) measure() []float64 {
	n := len(g.Columns)
	widths, least := make([]float64, n), make([]float64, n)
	fixed, shares, sum := 0.0, 0.0, 0.0
	for i, c := range g.Columns {
		natural, word := g.needs(i)
		least[i] = word
		switch {
		case c.Width > 0:
			widths[i] = max(c.Width, word)
		case c.Width < 0:
			widths[i] = natural
		default:
			shares += share(c)
		}
		fixed += widths[i]
	}
	for i, c := range g.Columns {
		if c.Width == 0 {
			widths[i] = max(least[i], (g.flow.W-fixed)*share(c)/shares)
		}
		sum += widths[i]
	}
	sum = squeeze(widths, least, sum-g.flow.W, func(i int) bool { return g.Columns[i].Width == 0 })
	sum = squeeze(widths, least, sum-g.flow.W, func(int) bool { return true })
	if sum > g.flow.W {
		most := capWidths(widths, g.flow.W)
		for i := range widths {
			widths[i] = min(widths[i], most)
		}
	}
	return widths
}

// capWidths gives the width to which the widest columns must be cut so that all columns fit the room: narrow columns
// keep theirs.
func capWidths(widths []float64, room float64) float64 {
	sorted := slices.Sorted(slices.Values(widths))
	for i, w := range sorted {
		if each := room / float64(len(sorted)-i); w >= each {
			return each
		}
		room -= w
	}
	return room
}

func share(c Column) float64 {
	if c.Share > 0 {
		return c.Share
	}
	return 1
}

// squeeze takes an excess of width from the chosen columns, in proportion to what each can give, and returns the new
// sum.
func squeeze(widths, least []float64, excess float64, chosen func(int) bool) float64 {
	spare, sum := 0.0, 0.0
	for i := range widths {
		if chosen(i) {
			spare += widths[i] - least[i]
		}
	}
	for i := range widths {
		if excess > 0 && spare > 0 && chosen(i) {
			widths[i] -= (widths[i] - least[i]) * min(1, excess/spare)
		}
		sum += widths[i]
	}
	return sum
}

// needs gives the width at which all cells of a column stand on one line, at most half the table's, and the width of
// its longest word, at most two fifths.
func (g *grid) needs(column int) (natural, word float64) {
	style := g.style
	try := func(text string, bold bool) {
		style.Bold = bold
		line, longest := g.flow.Extent(text, style)
		natural, word = max(natural, line), max(word, longest)
	}
	if c := g.Columns[column]; c.Turn {
		natural = g.flow.LineHeight(style) - 2*g.padX
	} else {
		try(c.Head, true)
	}
	for _, row := range g.Rows {
		at := 0
		for _, cell := range row.Cells {
			if at == column && cell.Span <= 1 {
				try(cell.Text, cell.Bold || g.Columns[column].Bold || strings.Contains(cell.Text, "**"))
			}
			at += max(cell.Span, 1)
		}
	}
	pad := 2*g.padX + 0.1
	return min(natural+pad, g.flow.W/2), min(word+pad, g.flow.W*2/5)
}

// Column describes a column of a [Table].
type Column struct {
	Head  string
	Width float64 // mm; 0: a share of what the others leave; [Natural]: as wide as its longest cell
	Share float64 // of what is left, for Width 0; 0 means 1
	Align Align
	Bold  bool // all its cells
	Turn  bool // head printed upwards, for narrow columns of numbers; programs that read aloud come to it out of order
	Rule  bool // line at its left, to group columns
}

// grid is a table with measured columns.
type grid struct {
	*Table
	flow   *Flow
	style  Style
	widths []float64 // mm
	edges  []float64 // left edge of each column, and the right edge of the last
	padX   float64   // mm between text and edge of a cell
	padY   float64

	headHeight float64 // mm, set by head
}
