package web

import (
	"html"
	"html/template"
	"strings"

	"nospark/printouts/content"
)

// rendered writes a document of text blocks for a browser. Hints for paper are left out; a figure is told in its words.
func rendered(blocks []content.Block) template.HTML {
	var b strings.Builder
	render(&b, blocks)
	return template.HTML(b.String())
}

func render(b *strings.Builder, blocks []content.Block) {
	element := func(tag, text string) {
		if text != "" {
			b.WriteString("<" + tag + ">" + stressed(text) + "</" + tag + ">\n")
		}
	}
	for _, block := range blocks {
		switch v := block.(type) {
		case content.Title:
			element("h1", v.Text)
			element("p", v.Below)
		case content.Heading:
			if v.Level > 2 {
				element("h3", v.Text)
			} else {
				element("h2", v.Text)
			}
		case content.Paragraph:
			element("p", v.Text)
		case content.List:
			tag := "ul"
			if v.Numbered {
				tag = "ol"
			}
			b.WriteString("<" + tag + ">\n")
			for _, item := range v.Items {
				element("li", item)
			}
			b.WriteString("</" + tag + ">\n")
		case content.Fields:
			for _, f := range v.List {
				if f.Text != "" {
					text := f.Text
					if f.Label != "" {
						text = "**" + f.Label + ":** " + text
					}
					element("p", text)
				}
			}
		case content.Note:
			b.WriteString("<div class=\"notice\">\n")
			element("h2", v.Title)
			element("p", v.Text)
			b.WriteString("</div>\n")
		case content.Figure:
			b.WriteString("<details><summary>" + html.EscapeString(figureName(v)) + "</summary>\n")
			for _, w := range v.Words {
				element("p", w)
			}
			b.WriteString("</details>\n")
		case content.Together:
			render(b, v.Blocks)
		case content.Columns:
			render(b, v.Blocks)
		}
	}
}

func figureName(f content.Figure) string {
	if f.Caption != "" {
		return f.Caption
	}
	return "The picture in words"
}

// stressed escapes a text and makes its stressed passages strong.
func stressed(text string) string {
	parts := strings.Split(html.EscapeString(text), "**")
	for i := 1; i < len(parts); i += 2 {
		parts[i] = "<strong>" + parts[i] + "</strong>"
	}
	return strings.Join(parts, "")
}
