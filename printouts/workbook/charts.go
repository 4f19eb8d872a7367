package workbook

import "github.com/xuri/excelize/v2"

// chart is a column chart of one series. Its bars carry their numbers, so that it can be read without colours.
type chart struct {
	title, across, up string // of the chart and its axes
	labels, values    string // ranges
	colour            string
	number            string // format of the numbers
}

// columnChart draws a chart with its corner in a cell.
func (s *sheet) columnChart(cell string, c chart) {
	text := func(size float64, bold bool) *excelize.Font {
		return &excelize.Font{Family: fontName, Size: size, Bold: bold, Color: black}
	}
	title := func(words string, size float64) excelize.ChartTitle {
		return excelize.ChartTitle{Paragraph: []excelize.RichTextRun{{Text: words, Font: text(size, true)}}}
	}
	// Without fonts of their own the axes, and without VaryColors each bar, would look different in every program.
	fill := excelize.Fill{Type: "pattern", Pattern: 1, Color: []string{c.colour}}
	s.book.check(s.book.file.AddChart(s.name, cell, &excelize.Chart{
		Type: excelize.Col,
		Series: []excelize.ChartSeries{{Name: c.up, Categories: c.labels, Values: c.values, Fill: fill,
			Line: excelize.LineOptions{Type: excelize.LineSolid, Fill: excelize.Fill{Type: "pattern", Pattern: 1, Color: []string{black}}, Width: 0.75}}},
		Title:      title(c.title, 12),
		Legend:     excelize.ChartLegend{Position: "none"},
		Dimension:  excelize.ChartDimension{Width: 620, Height: 380},
		VaryColors: new(false),
		GapWidth:   new(uint(40)),
		XAxis:      excelize.ChartAxis{Font: *text(9, false), Title: title(c.across, 10)},
		YAxis: excelize.ChartAxis{Font: *text(9, false), Title: title(c.up, 10), MajorGridLines: true, Minimum: new(0.0),
			NumFmt: excelize.ChartNumFmt{CustomNumFmt: c.number}},
		PlotArea: excelize.ChartPlotArea{ShowVal: true, NumFmt: excelize.ChartNumFmt{CustomNumFmt: c.number}},
	}))
}
