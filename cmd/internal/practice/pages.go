package practice

import (
	"bytes"
	"embed"
	"fmt"
	"html/template"

	"nospark/cmd/internal/web"
	"nospark/cmd/internal/web/http"
	"nospark/printouts/content"
	"nospark/printouts/wording"
	"nospark/scenarios/lab"
)

//go:embed parts
var parts embed.FS

func templates() (*template.Template, error) { return template.ParseFS(parts, "parts/*.html") }

// page renders one of the pages of this package into the dress of the bench.
func (g *Game) page(status int, title, head, name string, value any) web.Answer {
	var body bytes.Buffer
	if err := g.pages.ExecuteTemplate(&body, name, value); err != nil {
		panic(fmt.Sprintf("practice: page %s: %v", name, err)) // every page is rendered in tests
	}
	if head == "" {
		head = program
	}
	var lacks lab.Lacks
	if name == "after" {
		lacks = g.now.lab.Lacks
	}
	return g.shell.Page(status, web.Plain{Title: title, Lab: head, Program: program, Lacks: lacks,
		Body: template.HTML(body.String()), Text: name == "after"})
}

// homePage is where somebody chooses what to practice.
type homePage struct {
	Begun   string // code of a vehicle that is not finished
	Levels  any
	Offers  []offerView
	Counted string // vehicles so far
	Notice  string
	Level   Level  // to offer
	Told    string // about a vehicle that was kept
}

type offerView struct {
	Title  string
	Stages []stageView
}

type stageView struct {
	Value, Label, Standing string
	Faults                 int
	Suggested, Scope       bool
}

// home shows the stages in the order of growing, with the next one chosen.
func (g *Game) home() web.Answer {
	p := homePage{Levels: levels(), Counted: vehicles(len(g.log)), Notice: Notice, Level: g.level, Told: g.told}
	switch {
	case g.before != nil && !g.before.concluded():
		p.Begun = g.before.Code
	case g.now != nil && g.now.result == nil:
		p.Begun = g.now.Code
	}
	g.told = ""
	next := g.next()
	for i, o := range g.c.Offers {
		v := offerView{Title: o.Title}
		for j, s := range o.Stages {
			at := place{i, j}
			v.Stages = append(v.Stages, stageView{g.name(at), s.Label, g.log.standing(o.Pack, s).Words(), s.Faults,
				at == next, s.Kind == Scope})
		}
		p.Offers = append(p.Offers, v)
	}
	return g.page(http.StatusOK, program, "", "home", p)
}

// next is the stage to go on with: the first that is not mastered, of what is always there in all systems, then of what
// comes and goes, then with the oscilloscope. Whoever has mastered all begins again.
func (g *Game) next() place {
	for kind := range kinds {
		for i, o := range g.c.Offers {
			for j, s := range o.Stages {
				if s.Kind == kind && !g.log.standing(o.Pack, s).Mastered {
					return place{i, j}
				}
			}
		}
	}
	return place{}
}

// progressPage shows the log.
type progressPage struct {
	Notice, Rule, Text string
	Lost               bool   // the log could not be kept
	Told               string // about what was brought back
	Vehicles           string
}

func vehicles(n int) string { return wording.Count(n, "vehicle", "vehicles") }

func (g *Game) progress(told string) web.Answer {
	return g.page(http.StatusOK, "Your practice so far", "", "progress", progressPage{Notice: Notice, Rule: ruleWords(),
		Text: g.log.Text(), Lost: g.kept != nil, Told: told, Vehicles: vehicles(len(g.log))})
}

// bringBack takes a log over that somebody has kept as a text.
func (g *Game) bringBack(r web.Request) web.Answer {
	log, strange := ParseLog(r.Form.Get("log"))
	told := fmt.Sprintf("%s brought back.", wording.Count(len(log), "vehicle was", "vehicles were"))
	if strange > 0 {
		told += fmt.Sprintf(" %s could not be read.", wording.Count(strange, "line", "lines"))
	}
	if len(log) == 0 {
		return g.progress("Nothing was brought back: no line of this text is of a practice log.")
	}
	g.log = log
	g.keep()
	return g.progress(told)
}

// afterPage is the debrief with what can follow.
type afterPage struct {
	Text template.HTML
	Exam bool
	Lost bool // the log could not be kept
}

func (g *Game) debrief() web.Answer {
	v := g.now
	blocks := v.result.Section().Blocks
	var text []content.Block
	for _, b := range blocks {
		switch b.(type) {
		case content.Strip, content.Cautions: // there is nobody to hide the name from, and every page has the cautions
		default:
			text = append(text, b)
		}
	}
	page, err := g.shell.Rendered(text)
	if err != nil {
		return g.trouble(err)
	}
	return g.page(http.StatusOK, "Debrief", v.lab.Title, "after", afterPage{Text: page, Exam: v.Level == Exam,
		Lost: g.kept != nil})
}

// trouble is a mistake of ours, told.
func (g *Game) trouble(err error) web.Answer {
	return g.page(http.StatusServiceUnavailable, "Not done", "", "trouble",
		fmt.Sprintf("Something is wrong with this file: %v.", err))
}
