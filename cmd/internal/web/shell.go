package web

import (
	"bytes"
	"embed"
	"fmt"
	"html/template"

	"nospark/printouts/content"
	"nospark/printouts/screen"
	"nospark/printouts/wording"
	"nospark/scenarios/lab"
)

//go:embed parts
var parts embed.FS

// Shell is what all pages are made with. Several benches can share one.
type Shell struct {
	tmpl   *template.Template
	sheets []byte // style sheet
	live   []byte // script
	screen *screen.Screen
}

// NewShell reads the templates. They are part of the program, so an error is a mistake of ours.
func NewShell() (*Shell, error) {
	p := &Shell{screen: screen.New()}
	var err error
	p.tmpl, err = template.New("").Funcs(template.FuncMap{"minutes": wording.Minutes, "line": wording.Line}).
		ParseFS(parts, "parts/*.html")
	if err != nil {
		return nil, err
	}
	if p.sheets, err = parts.ReadFile("parts/bench.css"); err != nil {
		return nil, err
	}
	if p.live, err = parts.ReadFile("parts/bench.js"); err != nil {
		return nil, err
	}
	return p, nil
}

// Style is the style sheet of all pages.
func (p *Shell) Style() []byte { return p.sheets }

// TextStyle comes on top of it where a page names [TextStylePath].
func (p *Shell) TextStyle() []byte { return []byte(screen.Style()) }

// Plain is a page that somebody else has to say something on.
type Plain struct {
	Title, Lab, Program string // of the window, at the head and at the foot
	Body                template.HTML
	Lacks               lab.Lacks
	Text                bool // it holds a document, such as a debrief
}

// Page makes it look like those of the bench, cautions and all.
func (p *Shell) Page(status int, of Plain) Answer {
	return p.answer(status, "plain", struct {
		frame
		Body template.HTML
		Text bool
	}{p.frame(of.Title, of.Lab, of.Program, of.Lacks), of.Body, of.Text})
}

// frame is what every page says.
func (p *Shell) frame(title, lab, program string, lacks lab.Lacks) frame {
	return frame{Title: title, Lab: lab, Program: program, Cautions: content.Plain(content.Cautions{Lacks: lacks}.Short())}
}

// Rendered writes blocks of a document for such a page. An error is a picture that cannot be drawn.
func (p *Shell) Rendered(blocks []content.Block) (template.HTML, error) {
	return p.screen.Fragment(blocks, screen.Place{ID: "text"})
}

// part renders a template. What fails here is our own mistake: every template is rendered in tests, and the values hold
// nothing that could fail.
func (p *Shell) part(name string, value any) template.HTML {
	var out bytes.Buffer
	if err := p.tmpl.ExecuteTemplate(&out, name, value); err != nil {
		panic(fmt.Sprintf("web: page %s: %v", name, err))
	}
	return template.HTML(out.String())
}

func (p *Shell) answer(status int, name string, value any) Answer {
	return Answer{Status: status, Type: htmlType, Body: []byte(p.part(name, value))}
}

// frame is what every page says.
type frame struct {
	Title, Lab, Program string
	Sheet               string // code, "" before a claim
	Person              string
	Version             string // of the sheet, for the live events
	Cautions            string
}
