package screen

import (
	"fmt"
	"html/template"

	"nospark/printouts/content"
	"nospark/printouts/diagram"
	"nospark/printouts/diagram/svg"
	"nospark/printouts/vector"
)

// Sizes of the drawings, mm: the letters of a circuit are as large as those of the page around it where the page is
// wide, and the drawing scrolls where it is not.
const (
	circuitWide, circuitHigh = 240.0, 160.0
	legendHigh               = 5.0
	traceWide, traceHigh     = 110.0, 80.0
)

func (r *renderer) figure(f content.Figure) {
	shown := struct {
		Caption, Name, Class, Telling string
		Images                        []template.HTML
		Words                         []template.HTML
	}{Caption: f.Caption, Class: "plot", Telling: f.Telling, Words: eachStressed(f.Words)}
	add := func(s vector.Scene) {
		if shown.Name == "" {
			shown.Name = s.Title
		}
		shown.Images = append(shown.Images, template.HTML(svg.Render(s, r.name())))
	}
	switch p := f.Picture.(type) {
	case content.Circuit:
		shown.Class = "drawing"
		add(diagram.Layout(p.Diagram, vector.Box(0, 0, circuitWide, circuitHigh), svg.Width))
		add(diagram.Legend(p.Diagram, vector.Box(0, 0, circuitWide, legendHigh), svg.Width))
	case content.Trace:
		add(diagram.Trace(p.Plot, vector.Box(0, 0, traceWide, traceHigh), svg.Width))
	case content.Chart:
		add(chart(p))
	case content.Dots:
		add(dots(p))
	case content.Bars:
		add(bars(p))
	default:
		panic(fmt.Sprintf("screen: no drawing of a picture of type %T", p))
	}
	if f.Caption != "" {
		shown.Name = f.Caption
	}
	shown.Name = content.Plain(shown.Name)
	r.put("figure", shown)
}
