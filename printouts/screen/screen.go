package screen

import (
	"bytes"
	_ "embed" // the files below
	"fmt"
	"html/template"
	"strings"

	"nospark/printouts/content"
)

//go:embed style.css
var styleSheet string

//go:embed page.html
var pageText string

//go:embed blocks.html
var blocksText string

// Style is the style sheet of every page: dark and light, narrow and wide, and on paper. It names no file.
func Style() template.CSS {
	return template.CSS(styleSheet)
}

// Screen makes pages. It can be shared.
type Screen struct{ page, blocks *template.Template }

// New reads the templates.
func New() *Screen {
	return &Screen{page: template.Must(template.New("page").Parse(pageText)),
		blocks: template.Must(template.New("blocks").Funcs(template.FuncMap{"stressed": stressed}).Parse(blocksText))}
}

// Frame is a page around what it shows.
type Frame struct {
	Title  string       // of the window
	More   template.CSS // rules after those of [Style], "" for none
	Header template.HTML
	Body   template.HTML // with one heading of the first level
	Footer template.HTML
}

// Frame makes a page.
func (s *Screen) Frame(f Frame) ([]byte, error) {
	var out bytes.Buffer
	err := s.page.Execute(&out, struct {
		Frame
		Language string
		Style    template.CSS
	}{f, content.Language, Style()})
	if err != nil {
		return nil, fmt.Errorf("page %q: %w", f.Title, err)
	}
	return out.Bytes(), nil
}

// Page makes a page of a document, its sections one below the other.
func (s *Screen) Page(doc content.Document) ([]byte, error) {
	var body strings.Builder
	for i, section := range doc.Sections {
		part, err := s.Fragment(section.Blocks, Place{ID: fmt.Sprintf("s%d", i+1)})
		if err != nil {
			return nil, err
		}
		if len(doc.Sections) > 1 {
			part = "<article>\n" + part + "</article>\n"
		}
		body.WriteString(string(part))
	}
	return s.Frame(Frame{Title: windowTitle(doc), Body: template.HTML(body.String())})
}

// windowTitle names the section where there is one, and then the document.
func windowTitle(doc content.Document) string {
	if len(doc.Sections) != 1 {
		return doc.Title
	}
	name := doc.Sections[0].Name
	switch {
	case name == "" || strings.Contains(strings.ToLower(doc.Title), strings.ToLower(name)):
		return doc.Title
	case doc.Title == "":
		return name
	}
	return name + ", " + doc.Title
}

// Place is where in its page a fragment stands.
type Place struct {
	ID    string // begins every id in the fragment: another for every fragment of a page
	Under int    // level of the heading above it, 0 on a page that has none yet
}

// Fragment makes blocks that stand in a page. A title among them is a heading one level below the one above; without
// a title the headings of level 2 are. No heading skips a level.
func (s *Screen) Fragment(blocks []content.Block, at Place) (template.HTML, error) {
	r := renderer{blocks: s.blocks, id: at.ID, last: at.Under, deeper: at.Under}
	if !titled(blocks) {
		r.deeper = max(0, at.Under-1)
	}
	r.all(blocks)
	if r.err != nil {
		return "", fmt.Errorf("page: %w", r.err)
	}
	return template.HTML(r.out.String()), nil
}

// titled tells whether a title is among some blocks.
func titled(blocks []content.Block) bool {
	for _, b := range blocks {
		if _, is := b.(content.Title); is {
			return true
		}
	}
	return false
}
