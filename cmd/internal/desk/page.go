package desk

import (
	"bytes"
	"embed"
	"html/template"
	"time"

	"nospark/cmd/internal/web"
	"nospark/printouts/content"
	"nospark/printouts/wording"
)

//go:embed parts
var parts embed.FS

// Pages renders what the instructor sees.
type Pages struct{ tmpl *template.Template }

// NewPages reads the templates.
func NewPages() *Pages {
	words := template.FuncMap{"minutes": wording.Minutes}
	return &Pages{template.Must(template.New("").Funcs(words).ParseFS(parts, "parts/*.html"))}
}

// View is everything on the desk.
type View struct {
	Title, Program string
	Cautions       string
	Rows           []Row
	Waiting        []web.Guest
	Clock          Clock
	Addresses      []string // of the class
	Reached        bool     // by a phone
	Readmitting    bool
	Said           string // what the last action did
	Wrong          string // or why it was not done
	Working        []string
	Counts         Counts
	TLS            bool
	Phones         int           // of the instructor that are paired
	PairAt         string        // address that pairs another, "" for none at the moment
	PairQR         template.HTML // of it
}

// Counts of the class.
type Counts struct{ Absent, Paper, Begun, Working, Concluded, Spare int }

// View gathers the desk.
func (d *Desk) View(now time.Time) View {
	v := View{Title: d.lab.Title, Program: d.lab.Program,
		Cautions: content.Plain(content.Cautions{Lacks: d.lab.Lacks}.Short()),
		Rows:     d.Rows(now),
		Clock:    d.Clock(now, "")}
	for _, r := range v.Rows {
		switch {
		case r.Spare && r.Where == "absent":
			v.Counts.Spare++
		case r.Concluded:
			v.Counts.Concluded++
		case r.Where == "paper":
			v.Counts.Paper++
		case r.Steps > 0:
			v.Counts.Working++
			v.Working = append(v.Working, r.Sheet+" "+r.Name)
		case r.Where == "phone":
			v.Counts.Begun++
			v.Working = append(v.Working, r.Sheet+" "+r.Name)
		default:
			v.Counts.Absent++
		}
	}
	return v
}

// Bar is a piece of the chart of the class.
type Bar struct {
	Name  string
	N     int
	X, W  int // thousandths
	Class string
}

// Bars are the pieces of the chart, from left to right.
func (c Counts) Bars() []Bar {
	bars := []Bar{{"concluded", c.Concluded, 0, 0, "b1"}, {"at work", c.Working, 0, 0, "b2"},
		{"signed in", c.Begun, 0, 0, "b3"},
		{"on paper", c.Paper, 0, 0, "b4"}, {"absent", c.Absent, 0, 0, "b5"}}
	total := 0
	for _, b := range bars {
		total += b.N
	}
	x := 0
	for i := range bars {
		bars[i].X = x
		bars[i].W = 1000 * bars[i].N / max(1, total)
		x += bars[i].W
	}
	return bars
}

// Desk is the desk's page.
func (p *Pages) Desk(v View) ([]byte, error) { return p.page("desk", v) }

// Door is the page that is projected for the class: no names.
func (p *Pages) Door(v DoorView) ([]byte, error) { return p.page("door", v) }

// DoorView is everything on it.
type DoorView struct {
	Title, Program, Cautions string
	Address                  string
	QR                       template.HTML
	Clock                    Clock
	Rules                    []string
}

// Refused is the page of who has not come by the link.
func (p *Pages) Refused(text string) ([]byte, error) {
	return p.page("refused", struct{ Text, Cautions string }{text, content.Plain(content.CautionsShort)})
}

// Style is the style sheet of the desk, behind that of the bench.
func (p *Pages) Style() ([]byte, error) { return parts.ReadFile("parts/desk.css") }

// Script is the script of the desk.
func (p *Pages) Script() ([]byte, error) { return parts.ReadFile("parts/desk.js") }

func (p *Pages) page(name string, value any) ([]byte, error) {
	var out bytes.Buffer
	err := p.tmpl.ExecuteTemplate(&out, name, value)
	return out.Bytes(), err
}
