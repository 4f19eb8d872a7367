package workbook

import (
	"fmt"
	"strings"

	"github.com/xuri/excelize/v2"

	"nospark/grading/competency"
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

var trendColumns = []column{
	{title: "lab (n: opportunities)", width: 20, look: textLook}, {title: "date", width: 12, look: midLook},
	{title: "met, all", width: 8, look: wholeLook}, {title: "of", width: 8, look: wholeLook}, {title: shareAll, width: 8, look: percentLook},
	{title: "met, not competent", width: 12, look: wholeLook}, {title: "of", width: 8, look: wholeLook}, {title: shareOpen, width: 12, look: percentLook},
	{title: decaying, width: 11, look: percentLook},
}

// Headings of the columns that the chart shows; they are its legend too, so they are short enough for one line of it.
const (
	shareAll  = "share, all"
	shareOpen = "share, not competent"
	decaying  = "decaying average"
)

// trend writes a block for each competency: how many opportunities were met in each lab, of all students and of those who are not competent as of
// now.
func (s *summary) trend() {
	sh := s.sheet(trendSheet)
	sh.set(1, 1, titleLook, "Trend: "+s.t.Term.Program)
	sh.set(2, 1, noteLook, onPaper+" Share of opportunities met, by lab. \"Not competent\" are the students who are not competent as of now.")
	sh.set(3, 1, noteLook, "Decaying average of the share of all students: 0.35 of the old + 0.65 of the latest. It is drawn and never decides anything.")
	for i, c := range trendColumns {
		sh.widths[i+1] = c.width
	}
	sh.set(4, 1, noteLook, "Labs with few opportunities are shown too, with n beside the name: the sheet is for those who teach, who see each student on the sheet Matrix. Pass on the sheet Program instead.")
	sh.widths[trendChart-1] = 3
	for c := trendChart; c <= chartEnd; c++ {
		sh.widths[c] = underChart
	}
	scale, room := trendPage(s.t.Term.Paper)
	sh.scale = scale
	labs := s.t.Labs()
	row, page := 6, 1 // page: the row that begins it
	var without []string
	for c := range s.t.Competencies {
		if !hasEvidence(labs, c) {
			without = append(without, s.t.Competencies[c].Title)
			continue
		}
		next := s.trendBlock(sh, row, c, labs)
		if page < row && sh.high(page, next) > room {
			sh.breaks, page = append(sh.breaks, row), row
		}
		row = next
	}
	if len(without) > 0 {
		sh.set(row, 1, noteLook, "No evidence yet: "+strings.Join(without, ", ")+".")
	}
	sh.set(row, chartEnd, look{}, nil) // so that the last chart is printed to its end
	sh.printed = chartEnd
}

// trendPage gives a scale in percent at which the tables and charts, up to 17.8 inches wide where a broader font stands in for ours, fit the width of a page with its margins,
// and the points that fit on one below each other; both a little less, since programs differ.
func trendPage(paper string) (scale uint, room float64) {
	if paper == "a4" {
		return 59, 825
	}
	return 55, 910
}

// high is the height of rows in points, without the last.
func (s *sheet) high(from, to int) (sum float64) {
	for row := from; row < to; row++ {
		sum += max(s.heights[row], lineHeight)
	}
	return sum
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

// trendBlock writes one competency and returns the row after it, from which the next can begin: below the table or the chart, whichever is
// longer.
func (s *summary) trendBlock(sh *sheet, top, c int, labs []competency.Lab) int {
	sh.set(top, 1, headingLook, s.t.Competencies[c].Title)
	sh.set(top+1, 1, noteLook, s.directions(c))
	var rows [][]any
	for _, l := range labs {
		name := fmt.Sprintf("%s (n %d)", l.Name, l.Of[c]) // a lab without an opportunity keeps its place and has no share
		rows = append(rows, []any{name, l.Date, l.Met[c], l.Of[c], share(l.Met[c], l.Of[c]), l.MetOpen[c], l.OfOpen[c], share(l.MetOpen[c], l.OfOpen[c]), l.Trend[c]})
	}
	end := sh.table(top+2, 1, trendColumns, rows)
	sh.trendChart(at(top+1, trendChart), s.t.Competencies[c].Title, top+3, end-1)
	next := max(end+1, top+blockRows)
	for row := top; row < next; row++ { // so that all programs agree where a page ends
		sh.heights[row] = max(sh.heights[row], lineHeight)
	}
	return next
}

// directions says in words where those go who are not competent: the answer to "is it getting better?", before anybody reads a chart. An
// average can rise because those who could do it anyway had more opportunities; this counts students.
func (s *summary) directions(c int) string {
	g := s.t.Groups(c)[0]
	if g.Hidden {
		return fmt.Sprintf("Fewer than %d students.", competency.LeastGroup)
	}
	d := g.Directions
	if g.Count[competency.Competent] == g.Students {
		return fmt.Sprintf("All %d students are competent.", g.Students)
	}
	text := fmt.Sprintf("%d of %d competent. Of those who are not, %d meet more than before, %d as many, %d fewer", g.Count[competency.Competent], g.Students,
		d[competency.Better], d[competency.Steady], d[competency.Worse])
	if n := d[competency.Unclear]; n > 0 {
		text += fmt.Sprintf("; for %d it is too early to say", n)
	}
	return text + "."
}

// trendChart draws a block's shares: bars for all students, a dashed line for those not competent, a plain line for the decaying average. Its table
// stands in the rows from..to, with the headings above.
func (sh *sheet) trendChart(cell, title string, from, to int) {
	series := func(heading, colour string) excelize.ChartSeries {
		column := place(trendColumns, heading)
		return excelize.ChartSeries{
			// A name has to be a reference: programs other than LibreOffice take a plain text for a broken one.
			Name: sh.area(from-1, column, from-1, column), Categories: sh.area(from, 1, to, 1), Values: sh.area(from, column, to, column), Fill: solid(colour),
		}
	}
	line := func(heading, colour, marker string, dash excelize.LineDashType) excelize.ChartSeries {
		x := series(heading, colour)
		x.Line = excelize.LineOptions{Type: excelize.LineSolid, Fill: x.Fill, Width: 2, Dash: dash}
		x.Marker = excelize.ChartMarker{Symbol: marker, Size: 7, Fill: x.Fill}
		return x
	}
	// Both plots need the axes: of two the library writes those of the last.
	across := excelize.ChartAxis{Font: *chartFont(9, false)}
	if to-from >= mostAcross {
		across.Alignment.TextRotation = -90 // otherwise LibreOffice breaks the names within a word
	}
	up := excelize.ChartAxis{Font: *chartFont(9, false), MajorGridLines: true, Minimum: new(0.0), Maximum: new(1.0), MajorUnit: 0.25,
		NumFmt: excelize.ChartNumFmt{CustomNumFmt: percent}}
	sh.book.check(sh.book.file.AddChart(sh.name, cell, &excelize.Chart{
		Type: excelize.Col, Series: []excelize.ChartSeries{series(shareAll, skyBlue)}, XAxis: across, YAxis: up,
		Title:        chartTitle(title+": share of opportunities met", 11),
		Legend:       excelize.ChartLegend{Position: "bottom", Font: chartFont(9, false)},
		Dimension:    excelize.ChartDimension{Width: chartWidth, Height: trendHeight(to - from + 1)},
		VaryColors:   new(false),
		GapWidth:     new(uint(60)),
		ShowBlanksAs: "span",
	}, &excelize.Chart{
		Type: excelize.Line, XAxis: across, YAxis: up,
		Series: []excelize.ChartSeries{line(shareOpen, vermillion, "diamond", excelize.LineDashDash), line(decaying, black, "none", excelize.LineDashSolid)},
	}))
}

// trendHeight is the height in pixels of the chart beside a table of so many labs. The library counts a row as 20 pixels while it places a
// chart, whatever height the row gets later; the heading is two rows high.
func trendHeight(labs int) uint { return uint(min(max(chartHeight, 20*(labs+2)), chartMost)) }
