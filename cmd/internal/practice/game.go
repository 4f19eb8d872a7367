package practice

import (
	"errors"
	"fmt"
	"html/template"
	"io"
	"math"
	"strconv"

	"nospark/cmd/internal/web"
	"nospark/cmd/internal/web/http"
	"nospark/grading/attempt"
	"nospark/grading/evidence"
	"nospark/printouts/debrief"
	"nospark/scenarios/build"
	"nospark/scenarios/lab"
	"nospark/scenarios/term"
)

// Config is what a game is made of.
type Config struct {
	Offers []Offer
	Load   func(offer int) (*Shelf, error)
	Random io.Reader          // for vehicles
	Log    string             // what was kept of earlier practice, "" for nothing
	Keep   func(string) error // keeps the log; may fail
}

// Game is one person's practice. It is not safe for use by several goroutines at once.
type Game struct {
	c       Config
	shell   *web.Shell
	pages   *template.Template
	log     Log
	level   Level // chosen last
	kept    error // why the log could not be kept
	shelves map[int]*Shelf
	supply  map[[2]int]*build.Supply
	benches map[[2]int]*web.Bench // of the first vehicle of each stage
	number  int                   // of vehicles so far
	now     *turn
}

// turn is the vehicle that is worked on.
type turn struct {
	offer, stage int
	level        Level
	lab          *lab.Lab // of one sheet
	bench        *web.Bench
	result       *debrief.Debrief // once concluded
	logged       bool
}

// forgetful is a journal in memory: the attempt itself is all that is kept.
type forgetful struct{}

func (forgetful) Append(attempt.Event) error { return nil }

// New begins a game.
func New(c Config) (*Game, error) {
	if len(c.Offers) == 0 {
		return nil, errors.New("practice: there is nothing to practice")
	}
	g := &Game{c: c, level: Guided, shelves: map[int]*Shelf{}, supply: map[[2]int]*build.Supply{},
		benches: map[[2]int]*web.Bench{}}
	var err error
	if g.shell, err = web.NewShell(); err != nil {
		return nil, err
	}
	if g.pages, err = templates(); err != nil {
		return nil, err
	}
	g.log, _ = ParseLog(c.Log) // what cannot be read is no practice
	return g, nil
}

// Do answers a request.
func (g *Game) Do(r web.Request) web.Answer {
	switch r.Method + " " + r.Path {
	case "GET /":
		return g.home()
	case "POST /vehicle":
		return g.begin(r)
	case "GET /progress":
		return g.progress("")
	case "POST /progress":
		return g.bringBack(r)
	case "POST /forget":
		g.log = nil
		g.keep()
		return see("/progress")
	}
	if g.now == nil {
		return see("/")
	}
	switch r.Method + " " + r.Path {
	case "POST /leave":
		g.leave(r.At)
		return see("/")
	case "GET /debrief":
		if g.now.result != nil {
			return g.debrief()
		}
	}
	r.Sheet = g.now.lab.Sheets[0].Code
	a := g.now.bench.Do(r)
	if r.Method == "POST" && a.Status < http.StatusBadRequest {
		if err := g.follow(r.At, &a); err != nil {
			return g.trouble(err)
		}
	}
	return a
}

func see(place string) web.Answer { return web.Answer{Status: http.StatusSeeOther, Location: place} }

// follow looks at the attempt after something was done.
func (g *Game) follow(at int64, a *web.Answer) error {
	v := g.now
	did := v.bench.Attempt(v.lab.Sheets[0].Code)
	if did.Conclusion.Made() {
		if v.result == nil {
			d, err := grade(v.lab, did)
			if err != nil {
				return err
			}
			v.result = &d
			g.note(at)
		}
		v.bench.Say(v.lab.Sheets[0].Code, "")
		if a.Status == http.StatusSeeOther {
			a.Location = "/debrief"
		}
		return nil
	}
	if v.level != Guided {
		return nil
	}
	words, err := said(v.lab, did)
	if err != nil {
		return err
	}
	text, err := g.shell.Rendered(words)
	if err != nil {
		return err
	}
	v.bench.Say(v.lab.Sheets[0].Code, text)
	if a.Status == http.StatusSeeOther && words != nil {
		a.Location = "/sheet#said"
	}
	return nil
}

// note writes the vehicle into the log.
func (g *Game) note(at int64) {
	v := g.now
	sheet := &v.lab.Sheets[0]
	e := Entry{Day: day(at), Pack: v.lab.Pack.Name, Complaint: v.lab.Complaints[sheet.Complaint].ID, Level: v.level,
		Fault: v.lab.Faults[v.lab.Hypotheses[sheet.Truth].Fault].ID}
	if v.result != nil {
		e.Mark, e.Proven = math.Round(v.result.Student.Mark*10)/10, evidence.Proven(&v.result.Student)
	}
	v.logged = true
	g.log = append(g.log, e).recent()
	g.keep()
}

// keep hands the log over. Where it cannot be kept the pages say so.
func (g *Game) keep() { g.kept = g.c.Keep(g.log.Text()) }

// leave puts the vehicle away. In an exam it counts.
func (g *Game) leave(at int64) {
	did := g.now.bench.Attempt(g.now.lab.Sheets[0].Code)
	if g.now.level == Exam && !g.now.logged && did.Begun() {
		g.note(at)
	}
	g.now = nil
}

// begin gets the next vehicle: of a stage, or with the fault of the last one once more.
func (g *Game) begin(r web.Request) web.Answer {
	level := Level(r.Form.Get("level"))
	if level != Open && level != Exam {
		level = Guided
	}
	row := build.Any
	offer, stage := -1, -1
	switch v := g.now; {
	case r.Form.Get("next") == "same" && v != nil && v.result != nil:
		offer, stage, row, level = v.offer, v.stage, v.lab.Sheets[0].Truth, v.level
	case r.Form.Get("next") == "other" && v != nil:
		offer, stage, level = v.offer, v.stage, v.level
	default:
		offer, stage = g.find(r.Form.Get("stage"))
		g.level = level
	}
	if offer < 0 {
		return g.page(http.StatusBadRequest, "Not done", "", "trouble", "Choose what to practice.")
	}
	if row != build.Any && level == Exam {
		level = Open // who knows the fault takes no exam
	}
	if g.now != nil {
		g.leave(r.At)
	}
	if err := g.fetch(offer, stage, level, row); err != nil {
		return g.trouble(err)
	}
	return see("/sheet")
}

// find looks a stage up by its name, "PACK COMPLAINT".
func (g *Game) find(name string) (offer, stage int) {
	for i, o := range g.c.Offers {
		for j, s := range o.Stages {
			if o.Pack+" "+s.Complaint == name {
				return i, j
			}
		}
	}
	return -1, -1
}

// fetch draws a vehicle and puts it on the bench.
func (g *Game) fetch(offer, stage int, level Level, row int) error {
	at := [2]int{offer, stage}
	if g.supply[at] == nil {
		if g.shelves[offer] == nil {
			s, err := g.c.Load(offer)
			if err != nil {
				return err
			}
			g.shelves[offer] = s
		}
		stock, err := g.shelves[offer].stock(stage)
		if err != nil {
			return err
		}
		supply, err := stock.Open()
		if err != nil {
			return err
		}
		g.supply[at] = supply
	}
	k, err := term.NewKey(g.c.Random)
	if err != nil {
		return err
	}
	g.number++
	l, err := g.supply[at].Draw(k, g.number, row)
	if err != nil {
		return err
	}
	l.Name, l.Title = "practice-"+strconv.Itoa(g.number), "Practice: "+g.c.Offers[offer].Title
	l.Sheets[0].Student = self
	b, err := web.New(web.Config{Lab: l, Journal: forgetful{}, Shell: g.shell, Alone: true, Pack: g.supply[at].Pack(),
		Circuit: g.shelves[offer].Circuit, Like: g.benches[at]})
	if err != nil {
		return err
	}
	if g.benches[at] == nil {
		g.benches[at] = b
	}
	g.now = &turn{offer: offer, stage: stage, level: level, lab: l, bench: b}
	return nil
}

// trouble is a mistake of ours, told.
func (g *Game) trouble(err error) web.Answer {
	return g.page(http.StatusServiceUnavailable, "Not done", "", "trouble",
		fmt.Sprintf("Something is wrong with this file: %v.", err))
}
