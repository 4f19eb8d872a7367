package workbook

import "github.com/xuri/excelize/v2"

// Chart is a column chart of one series. Its bars carry their numbers, so that it can be read without colors.
type Chart struct {
	Title, Across, Up string // of the chart and its axes
	Labels, Values    string // ranges
	Color             string
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

// MixedChart is a chart of bars with lines across them, over the same labels and from 0 to most.
type MixedChart struct {
	Title         string
	Labels        string // range
	Bars          Series
	Lines         []Series
	Most, Step    float64 // end of the upright axis, and between its marks
	Number        string  // format of the numbers
	Upright       bool    // labels stand upright
	Width, Height uint    // pixels
}

// Series is one row of numbers of a chart.
type Series struct {
	// ranges. A name has to be one: programs other than LibreOffice take a plain text for a broken one
	Name, Values string
	Color        string
	Marker       string // of a line: "diamond" or "none"
	Dashed       bool
}

// MixedChart draws a chart with its corner in a cell.
func (s *Sheet) MixedChart(cell string, c MixedChart) {
	draw := func(x Series) excelize.ChartSeries {
		return excelize.ChartSeries{Name: x.Name, Categories: c.Labels, Values: x.Values, Fill: solid(x.Color)}
	}
	var lines []excelize.ChartSeries
	for _, x := range c.Lines {
		line, dash := draw(x), excelize.LineDashSolid
		if x.Dashed {
			dash = excelize.LineDashDash
		}
		line.Line = excelize.LineOptions{Type: excelize.LineSolid, Fill: line.Fill, Width: 2, Dash: dash}
		line.Marker = excelize.ChartMarker{Symbol: x.Marker, Size: 7, Fill: line.Fill}
		lines = append(lines, line)
	}
	// Both plots need the axes: of two the library writes those of the last.
	across := excelize.ChartAxis{Font: *chartFont(9, false)}
	if c.Upright {
		across.Alignment.TextRotation = -90
	}
	up := excelize.ChartAxis{Font: *chartFont(9, false), MajorGridLines: true, Minimum: new(0.0), Maximum: &c.Most,
		MajorUnit: c.Step,
		NumFmt:    excelize.ChartNumFmt{CustomNumFmt: c.Number}}
	s.book.check(s.book.file.AddChart(s.name, cell, &excelize.Chart{
		Type: excelize.Col, Series: []excelize.ChartSeries{draw(c.Bars)}, XAxis: across, YAxis: up,
		Title:        chartTitle(c.Title, 11),
		Legend:       excelize.ChartLegend{Position: "bottom", Font: chartFont(9, false)},
		Dimension:    excelize.ChartDimension{Width: c.Width, Height: c.Height},
		VaryColors:   new(false),
		GapWidth:     new(uint(60)),
		ShowBlanksAs: "span",
	}, &excelize.Chart{Type: excelize.Line, XAxis: across, YAxis: up, Series: lines}))
}
