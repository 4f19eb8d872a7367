package rollup

import (
	"fmt"
	"strings"

	"nospark/grading/competency"
	"nospark/printouts/workbook"
)

// Places of a block of the trend sheet: a table at the left, its chart at the right.
const (
	trendChart  = 11 // column of the chart
	blockRows   = 17 // that a chart takes, with a row between it and the next
	chartWidth  = 560
	chartHeight = 290 // at least; as high as the table beside it where that is higher
	chartMost   = 420 // beyond that a line only gets steeper
	mostAcross  = 8   // labs whose names fit beside each other below a chart
	underChart  = 8.2 // width of each of the columns under the chart
	chartEnd    = trendChart + 9
)

var trendColumns = []workbook.Column{
	{Title: "lab (n: opportunities)", Width: 20, Style: workbook.TextStyle},
	{Title: "date", Width: 12, Style: workbook.CenterStyle},
	{Title: "met, all", Width: 8, Style: workbook.WholeStyle}, {Title: "of", Width: 8, Style: workbook.WholeStyle},
	{Title: shareAll, Width: 8, Style: workbook.PercentStyle},
	{Title: "met, not competent", Width: 12, Style: workbook.WholeStyle},
	{Title: "of", Width: 8, Style: workbook.WholeStyle},
	{Title: shareOpen, Width: 12, Style: workbook.PercentStyle},
	{Title: decaying, Width: 11, Style: workbook.PercentStyle},
}

// Headings of the columns that the chart shows; they are its legend too, so they are short enough for one line of it.
const (
	shareAll  = "share, all"
	shareOpen = "share, not competent"
	decaying  = "decaying average"
)

// trend writes a block for each competency: how many opportunities were met in each lab, of all students and of those
// who are not competent as of now.
func (s *summary) trend() {
	sh := s.AddSheet(trendSheet)
	sh.Set(1, 1, workbook.TitleStyle, "Trend: "+s.t.Term.Program)
	sh.Set(2, 1, workbook.NoteStyle, onPaper+" Share of opportunities met, by lab. \"Not competent\" are the "+
		"students who are not competent as of now.")
	sh.Set(3, 1, workbook.NoteStyle, "Decaying average of the share of all students: 0.35 of the old + 0.65 of the "+
		"latest. It is drawn and never decides anything.")
	for i, c := range trendColumns {
		sh.Widths[i+1] = c.Width
	}
	sh.Set(4, 1, workbook.NoteStyle, "Labs with few opportunities are shown too, with n beside the name: the sheet "+
		"is for those who teach, who see each student on the sheet Matrix. Pass on the sheet Program instead.")
	sh.Widths[trendChart-1] = 3
	for c := trendChart; c <= chartEnd; c++ {
		sh.Widths[c] = underChart
	}
	scale, room := trendPage(s.t.Term.Paper)
	sh.Scale = scale
	labs := s.t.Labs()
	row, page := 6, 1 // page: the row that begins it
	var without []string
	for c := range s.t.Competencies {
		if !hasEvidence(labs, c) {
			without = append(without, s.t.Competencies[c].Title)
			continue
		}
		next := s.trendBlock(sh, row, c, labs)
		if page < row && sh.HeightOf(page, next) > room {
			sh.Breaks, page = append(sh.Breaks, row), row
		}
		row = next
	}
	if len(without) > 0 {
		sh.Set(row, 1, workbook.NoteStyle, "No evidence yet: "+strings.Join(without, ", ")+".")
	}
	sh.Set(row, chartEnd, workbook.Style{}, nil) // so that the last chart is printed to its end
	sh.PrintedColumns = chartEnd
}

// trendPage gives a scale in percent at which the tables and charts, up to 17.8 inches wide where a broader font stands
// in for ours, fit the width of a page with its margins, and the points that fit on one below each other; both a little
// less, since programs differ.
func trendPage(paper string) (scale uint, room float64) {
	if paper == "a4" {
		return 59, 825
	}
	return 55, 910
}

// hasEvidence tells that somebody had an opportunity; a chart of nothing would take a third of a page.
func hasEvidence(labs []competency.Lab, c int) bool {
	for _, l := range labs {
		if l.Of[c] > 0 {
			return true
		}
	}
	return false
}

// trendBlock writes one competency and returns the row after it, from which the next can begin: below the table or the
// chart, whichever is longer.
func (s *summary) trendBlock(sh *workbook.Sheet, top, c int, labs []competency.Lab) int {
	sh.Set(top, 1, workbook.HeadingStyle, s.t.Competencies[c].Title)
	sh.Set(top+1, 1, workbook.NoteStyle, s.directions(c))
	var rows [][]any
	for _, l := range labs {
		// a lab without an opportunity keeps its place and has no share
		name := fmt.Sprintf("%s (n %d)", l.Name, l.Of[c])
		rows = append(rows, []any{name, l.Date, l.Met[c], l.Of[c], share(l.Met[c], l.Of[c]), l.MetOpen[c],
			l.OfOpen[c], share(l.MetOpen[c], l.OfOpen[c]), l.Trend[c]})
	}
	end := sh.Table(top+2, 1, trendColumns, rows)
	drawTrend(sh, workbook.Ref(top+1, trendChart), s.t.Competencies[c].Title, top+3, end-1)
	next := max(end+1, top+blockRows)
	for row := top; row < next; row++ { // so that all programs agree where a page ends
		sh.Heights[row] = max(sh.Heights[row], workbook.LineHeight)
	}
	return next
}

// directions says in words where those go who are not competent: the answer to "is it getting better?", before anybody
// reads a chart. An average can rise because those who could do it anyway had more opportunities; this counts students.
func (s *summary) directions(c int) string {
	g := s.t.Groups(c)[0]
	if g.Hidden {
		return fmt.Sprintf("Fewer than %d students.", competency.LeastGroup)
	}
	d := g.Directions
	if g.Count[competency.Competent] == g.Students {
		return fmt.Sprintf("All %d students are competent.", g.Students)
	}
	text := fmt.Sprintf("%d of %d competent. Of those who are not, %d meet more than before, %d as many, %d fewer",
		g.Count[competency.Competent], g.Students,
		d[competency.Better], d[competency.Steady], d[competency.Worse])
	if n := d[competency.Unclear]; n > 0 {
		text += fmt.Sprintf("; for %d it is too early to say", n)
	}
	return text + "."
}

// drawTrend draws a block's shares: bars for all students, a dashed line for those not competent, a plain line for the
// decaying average. Its table stands in the rows from..to, with the headings above.
func drawTrend(sh *workbook.Sheet, cell, title string, from, to int) {
	of := func(heading string, x workbook.Series) workbook.Series {
		column := workbook.ColumnIndex(trendColumns, heading)
		x.Name, x.Values = sh.Range(from-1, column, from-1, column), sh.Range(from, column, to, column)
		return x
	}
	sh.MixedChart(cell, workbook.MixedChart{
		Title: title + ": share of opportunities met", Labels: sh.Range(from, 1, to, 1), Most: 1, Step: 0.25,
		Number:  workbook.Percent,
		Upright: to-from >= mostAcross, // otherwise LibreOffice breaks the names within a word
		Width:   chartWidth, Height: trendHeight(to - from + 1),
		Bars: of(shareAll, workbook.Series{Color: workbook.SkyBlue}),
		Lines: []workbook.Series{of(shareOpen, workbook.Series{Color: workbook.Vermillion, Marker: "diamond",
			Dashed: true}),
			of(decaying, workbook.Series{Color: workbook.Black, Marker: "none"})},
	})
}

// trendHeight is the height in pixels of the chart beside a table of so many labs. The library counts a row as 20
// pixels while it places a chart, whatever height the row gets later; the heading is two rows high.
func trendHeight(labs int) uint { return uint(min(max(chartHeight, 20*(labs+2)), chartMost)) }

// share is k of n; NaN, an empty cell, of none.
func share(k, n int) float64 { return float64(k) / float64(n) }
