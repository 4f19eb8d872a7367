package screen

import (
	"fmt"
	"html/template"
	"strings"

	"nospark/printouts/content"
)

// renderer writes blocks one after the other.
type renderer struct {
	blocks  *template.Template
	id      string
	deeper  int // levels that all headings are moved down
	last    int // level of the heading before
	named   int // ids given so far
	heading string
	out     strings.Builder
	err     error
}

// put writes a block by its template.
func (r *renderer) put(name string, data any) {
	if r.err == nil {
		r.err = r.blocks.ExecuteTemplate(&r.out, name, data)
	}
}

// name gives another id.
func (r *renderer) name() string {
	r.named++
	return fmt.Sprintf("%s-%d", r.id, r.named)
}

// level is that of the next heading: it may go up by any number of levels, down by one.
func (r *renderer) level(asked int) int {
	r.last = min(asked+r.deeper, r.last+1, 6)
	return r.last
}

func (r *renderer) all(blocks []content.Block) {
	for _, b := range blocks {
		r.block(b)
	}
}

func (r *renderer) block(b content.Block) {
	switch b := b.(type) {
	case content.Title:
		r.head("title", 1, b.Text, b.Below)
	case content.Heading:
		r.head("heading", b.Level, b.Text, "")
	case content.Entry:
		r.entry(b)
	case content.Strip:
		r.put("strip", b)
	case content.Paragraph:
		if b.Text != "" {
			r.put("paragraph", stressed(b.Text))
		}
	case content.List:
		r.put("list", struct {
			Numbered bool
			Items    []template.HTML
		}{b.Numbered, eachStressed(b.Items)})
	case content.Fields:
		r.fields(b)
	case content.Note:
		r.put("note", struct{ Title, Text template.HTML }{stressed(b.Title), stressed(b.Text)})
	case content.Table:
		r.table(b)
	case content.Readings:
		r.put("readings", b.List)
	case content.Figure:
		r.figure(b)
	default:
		r.rest(b)
	}
}

// rest renders what is filled in, the cautions, and what hints for paper hold.
func (r *renderer) rest(b content.Block) {
	switch b := b.(type) {
	case content.Form:
		r.form(b)
	case content.Lines:
		r.put("lines", struct {
			Label string
			Rules []struct{}
		}{b.Label, make([]struct{}, b.Count)})
	case content.Cards:
		r.put("cards", b.List)
	case content.Cautions:
		r.cautions(b)
	case content.Columns:
		r.all(b.Blocks)
	case content.Together:
		r.all(b.Blocks)
	case content.PageBreak:
	default:
		panic(fmt.Sprintf("screen: no element for a block of type %T", b))
	}
}

// head writes a heading and remembers it as the name of the tables that follow.
func (r *renderer) head(name string, level int, text, below string) {
	r.heading = content.Plain(text)
	r.put(name, struct {
		Level       int
		ID          string
		Text, Below template.HTML
	}{r.level(level), r.name(), stressed(text), stressed(below)})
}

func (r *renderer) entry(e content.Entry) {
	r.heading = e.Code + " " + e.Text
	r.put("entry", struct {
		content.Entry
		Level int
		ID    string
	}{e, r.level(3), r.name()})
}

func (r *renderer) fields(f content.Fields) {
	type field struct {
		Label string
		Text  template.HTML
	}
	var list []field
	for _, one := range f.List {
		if one.Text != "" {
			list = append(list, field{one.Label, stressed(one.Text)})
		}
	}
	if len(list) > 0 {
		r.put("fields", list)
	}
}

func (r *renderer) form(f content.Form) {
	shown := struct {
		content.Form
		Level int
		ID    string
	}{Form: f}
	if f.Name != "" { // below the heading of its part, however many of them follow each other
		shown.Level, shown.ID = min(r.last+1, 6), r.name()
	}
	r.put("form", shown)
}

func (r *renderer) cautions(c content.Cautions) {
	shown := struct {
		All        bool
		Level      int
		ID         string
		Title      string
		Lead, Last template.HTML
		Items      []template.HTML
	}{All: c.All, Last: stressed(c.Short())}
	if c.All {
		shown.Level, shown.ID, shown.Title = r.level(2), r.name(), content.CautionsTitle
		shown.Lead, shown.Items = stressed(content.CautionsLead), eachStressed(c.List())
		shown.Last = stressed(content.CautionsFirst)
	}
	r.put("cautions", shown)
}

// stressed makes a text fit for a page, what stands between pairs of ** as strong words.
func stressed(text string) template.HTML {
	var b strings.Builder
	for i, part := range strings.Split(text, "**") {
		part = template.HTMLEscapeString(strings.ToValidUTF8(part, "\uFFFD"))
		if i%2 == 1 && part != "" {
			part = "<strong>" + part + "</strong>"
		}
		b.WriteString(part)
	}
	return template.HTML(b.String())
}

func eachStressed(texts []string) []template.HTML {
	all := make([]template.HTML, len(texts))
	for i, text := range texts {
		all[i] = stressed(text)
	}
	return all
}
