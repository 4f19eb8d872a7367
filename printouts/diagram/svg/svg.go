package svg

import (
	"html"
	"strconv"
	"strings"
	"unicode"

	"nospark/printouts/vector"
)

// Render draws a scene. The id is that of the image in its page and begins those of its title and description.
func Render(s vector.Scene, id string) string {
	var b strings.Builder
	f, name := s.Frame, escaped(id)
	element(&b, "svg",
		"xmlns", "http://www.w3.org/2000/svg", "id", name, "role", "img", "aria-labelledby",
		name+"-title "+name+"-desc",
		"viewBox", strings.Join([]string{number(f.X), number(f.Y), number(f.W), number(f.H)}, " "),
		"width", number(f.W)+"mm", "height", number(f.H)+"mm",
		"font-family", "'DejaVu Sans', Verdana, sans-serif", "fill", "none", "stroke-linecap", "round",
		"stroke-linejoin", "round")
	b.WriteString(">\n")
	words(&b, "title", name+"-title", s.Title)
	words(&b, "desc", name+"-desc", s.Description)
	for _, shape := range s.Shapes {
		path(&b, shape)
	}
	for _, t := range s.Texts {
		line(&b, t)
	}
	b.WriteString("</svg>\n")
	return b.String()
}

// element opens a tag with its attributes, names and values in turn; values are escaped already.
func element(b *strings.Builder, tag string, attributes ...string) {
	b.WriteString("<" + tag)
	for i := 0; i+1 < len(attributes); i += 2 {
		b.WriteString(" " + attributes[i] + `="` + attributes[i+1] + `"`)
	}
}

func words(b *strings.Builder, tag, id, text string) {
	element(b, tag, "id", id)
	b.WriteString(">" + escaped(text) + "</" + tag + ">\n")
}

func path(b *strings.Builder, s vector.Shape) {
	attributes := []string{"d", steps(s.Path)}
	attributes = append(attributes, paint("fill", s.Pen.Fill)...)
	if s.Pen.Line != vector.None {
		width := s.Pen.Width
		if width == 0 {
			width = vector.Hairline
		}
		attributes = append(attributes, paint("stroke", s.Pen.Line)...)
		attributes = append(attributes, "stroke-width", number(width))
		if s.Pen.Dash != vector.Solid {
			var lengths []string
			for _, l := range s.Pen.Dash.Lengths(width) {
				lengths = append(lengths, number(l))
			}
			// round ends would close the gaps
			attributes = append(attributes, "stroke-dasharray", strings.Join(lengths, " "), "stroke-linecap", "butt")
		}
	}
	element(b, "path", attributes...)
	b.WriteString("/>\n")
}

// steps writes a path as SVG has it.
func steps(p vector.Path) string {
	var b strings.Builder
	place := func(letter string, points ...vector.Point) {
		b.WriteString(letter)
		for i, at := range points {
			if i > 0 {
				b.WriteByte(' ')
			}
			b.WriteString(number(at.X) + " " + number(at.Y))
		}
	}
	for _, s := range p {
		switch s.Kind {
		case vector.MoveTo:
			place("M", s.To)
		case vector.LineTo:
			place("L", s.To)
		case vector.CurveTo:
			place("C", s.C1, s.C2, s.To)
		case vector.Close:
			b.WriteByte('Z')
		}
	}
	return b.String()
}

// line writes one line of text, held to its width.
func line(b *strings.Builder, t vector.Text) {
	at := t.Style.Start(t.Place(), t.Width, t.Style.Size)
	x, y := number(at.X), number(at.Y)
	attributes := []string{"x", x, "y", y, "font-size", number(t.Style.Size * vector.PerPoint)}
	if t.Style.Bold {
		attributes = append(attributes, "font-weight", "bold")
	}
	if t.Width > 0 {
		attributes = append(attributes, "textLength", number(t.Width), "lengthAdjust", "spacingAndGlyphs")
	}
	if t.Style.Angle != 0 {
		attributes = append(attributes, "transform", "rotate("+number(-t.Style.Angle)+" "+x+" "+y+")")
	}
	element(b, "text", append(attributes, paint("fill", t.Style.Color.ForText())...)...)
	b.WriteString(">" + escaped(t.Text) + "</text>\n")
}

// paint is the attribute that gives a color, "fill" or "stroke", and with it how much of what is below shows through: a
// gray is the color of the text, diluted. Gray text keeps a contrast of 4.5 to 1 on black as on white.
func paint(attribute string, c vector.Color) []string {
	diluted := func(share string) []string {
		return []string{attribute, "currentColor", attribute + "-opacity", share}
	}
	switch c {
	case vector.None:
		return nil
	case vector.White:
		return []string{attribute, "var(--paper, Canvas)"}
	case vector.Gray:
		return diluted("0.75")
	case vector.Rule:
		return diluted("0.35")
	case vector.Shade:
		return diluted("0.13")
	case vector.Tint:
		return diluted("0.06")
	}
	return []string{attribute, "currentColor"}
}

// number prints a length in hundredths of a millimeter, finer than a screen shows.
func number(v float64) string {
	text := strconv.FormatFloat(v, 'f', 2, 64)
	text = strings.TrimRight(strings.TrimRight(text, "0"), ".")
	if text == "-0" {
		return "0"
	}
	return text
}

// escaped makes a text fit for an element or an attribute, without characters that XML does not allow.
func escaped(text string) string {
	text = strings.Map(func(r rune) rune {
		if unicode.IsControl(r) || r == 0xFFFE || r == 0xFFFF {
			return -1
		}
		return r
	}, strings.ToValidUTF8(text, "\uFFFD"))
	return html.EscapeString(text)
}
