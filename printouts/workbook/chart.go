package workbook

import "github.com/xuri/excelize/v2"

// Chart is a column chart of one series. Its bars carry their numbers, so that it can be read without colors.
type Chart struct {
	Title, Across, Up string // of the chart and its axes
	Labels, Values    string // ranges
	Color             string
	Alt               string // what it shows, for those who hear it
	Number            string // format of the numbers
}

// Every chart spells out its fonts and fills: a program that is left to choose takes its own, so that the same file
// looks different elsewhere.

// chartFont is the font of a text in a chart, of so many points.
func chartFont(size float64, bold bool) *excelize.Font {
	return &excelize.Font{Family: fontName, Size: size, Bold: bold, Color: Black}
}

// chartTitle is the title of a chart or of an axis.
func chartTitle(words string, size float64) excelize.ChartTitle {
	return excelize.ChartTitle{Paragraph: []excelize.RichTextRun{{Text: words, Font: chartFont(size, true)}}}
}

// solid is a fill of one color.
func solid(color string) excelize.Fill {
	return excelize.Fill{Type: "pattern", Pattern: 1, Color: []string{color}}
}

// ColumnChart draws a chart with its corner in a cell.
func (s *Sheet) ColumnChart(cell string, c Chart) {
	s.book.check(s.book.file.AddChart(s.name, cell, &excelize.Chart{
		Type: excelize.Col,
		Series: []excelize.ChartSeries{{Name: c.Up, Categories: c.Labels, Values: c.Values, Fill: solid(c.Color),
			// an edge, where a printer leaves the fill pale
			Line: excelize.LineOptions{Type: excelize.LineSolid, Fill: solid(Black), Width: 0.75}}},
		Title:      chartTitle(c.Title, 12),
		Format:     excelize.GraphicOptions{AltText: c.Alt},
		Legend:     excelize.ChartLegend{Position: "none"}, // of one series it would repeat the axis
		Dimension:  excelize.ChartDimension{Width: 620, Height: 380},
		VaryColors: new(false), // one series, one color: differences would seem to mean something
		GapWidth:   new(uint(40)),
		XAxis:      excelize.ChartAxis{Font: *chartFont(9, false), Title: chartTitle(c.Across, 10)},
		YAxis: excelize.ChartAxis{Font: *chartFont(9, false), Title: chartTitle(c.Up, 10), MajorGridLines: true,
			Minimum: new(0.0),
			NumFmt:  excelize.ChartNumFmt{CustomNumFmt: c.Number}},
		PlotArea: excelize.ChartPlotArea{ShowVal: true, NumFmt: excelize.ChartNumFmt{CustomNumFmt: c.Number}},
	}))
}
