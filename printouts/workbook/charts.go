package workbook

import "github.com/xuri/excelize/v2"

// chart is a column chart of one series. Its bars carry their numbers, so that it can be read without colours.
type chart struct {
	title, across, up string // of the chart and its axes
	labels, values    string // ranges
	colour            string
	number            string // format of the numbers
}

// Every chart spells out its fonts and fills: a program that is left to choose takes its own, so that the same file looks different elsewhere.

// chartFont is the font of a text in a chart, of so many points.
func chartFont(size float64, bold bool) *excelize.Font {
	return &excelize.Font{Family: fontName, Size: size, Bold: bold, Color: black}
}

// chartTitle is the title of a chart or of an axis.
func chartTitle(words string, size float64) excelize.ChartTitle {
	return excelize.ChartTitle{Paragraph: []excelize.RichTextRun{{Text: words, Font: chartFont(size, true)}}}
}

// solid is a fill of one colour.
func solid(colour string) excelize.Fill {
	return excelize.Fill{Type: "pattern", Pattern: 1, Color: []string{colour}}
}

// columnChart draws a chart with its corner in a cell.
func (s *sheet) columnChart(cell string, c chart) {
	s.book.check(s.book.file.AddChart(s.name, cell, &excelize.Chart{
		Type: excelize.Col,
		Series: []excelize.ChartSeries{{Name: c.up, Categories: c.labels, Values: c.values, Fill: solid(c.colour),
			Line: excelize.LineOptions{Type: excelize.LineSolid, Fill: solid(black), Width: 0.75}}}, // an edge, where a printer leaves the fill pale
		Title:      chartTitle(c.title, 12),
		Legend:     excelize.ChartLegend{Position: "none"}, // of one series it would repeat the axis
		Dimension:  excelize.ChartDimension{Width: 620, Height: 380},
		VaryColors: new(false), // one series, one colour: differences would seem to mean something
		GapWidth:   new(uint(40)),
		XAxis:      excelize.ChartAxis{Font: *chartFont(9, false), Title: chartTitle(c.across, 10)},
		YAxis: excelize.ChartAxis{Font: *chartFont(9, false), Title: chartTitle(c.up, 10), MajorGridLines: true, Minimum: new(0.0),
			NumFmt: excelize.ChartNumFmt{CustomNumFmt: c.number}},
		PlotArea: excelize.ChartPlotArea{ShowVal: true, NumFmt: excelize.ChartNumFmt{CustomNumFmt: c.number}},
	}))
}
