package web

import (
	"bytes"
	"embed"
	"fmt"
	"html/template"

	"nospark/grading/attempt"
	"nospark/printouts/content"
	"nospark/printouts/wording"
)

//go:embed parts
var parts embed.FS

// Shell is what all pages are made with. Several benches can share one.
type Shell struct {
	tmpl   *template.Template
	sheets []byte // style sheet
	live   []byte // script
}

// NewShell reads the templates. They are part of the program, so an error is a mistake of ours.
func NewShell() (*Shell, error) {
	p := &Shell{}
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

// Page wraps what somebody else has to say into a page that looks like those of the bench, cautions and all. Lab stands at its head and
// program at its foot.
func (p *Shell) Page(status int, title, lab, program string, body template.HTML) Answer {
	return p.answer(status, "plain", struct {
		frame
		Body template.HTML
	}{frame{Title: title, Lab: lab, Program: program, Cautions: content.Plain(content.CautionsShort)}, body})
}

// Rendered writes blocks of text for such a page.
func Rendered(blocks []content.Block) template.HTML { return rendered(blocks) }

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

// Say gives a sheet what is said about its last step, from the next page on; nil for nothing. Where an instructor gives debriefs nobody
// says anything before.
func (b *Bench) Say(sheet string, text []content.Block) {
	if s := b.seats[sheet]; s != nil {
		s.mu.Lock()
		s.said = text
		s.mu.Unlock()
	}
}

// Attempt is what was done on a sheet so far.
func (b *Bench) Attempt(sheet string) (a attempt.Attempt) {
	b.Look(func(room *attempt.Room) { a = room.Of(sheet).Copy() })
	return a
}
