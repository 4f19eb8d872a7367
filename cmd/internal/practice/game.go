package practice

import (
	"errors"
	"fmt"
	"html/template"
	"io"
	"math"

	"nospark/cmd/internal/web"
	"nospark/cmd/internal/web/http"
	"nospark/grading/attempt"
	"nospark/grading/evidence"
	"nospark/printouts/debrief"
	"nospark/scenarios/build"
	"nospark/scenarios/lab"
)

// Config is what a game is made of.
type Config struct {
	Offers  []Offer
	Load    func(offer int) (*Shelf, error)
	Random  io.Reader // for vehicles
	Log     string    // what was kept of earlier practice, "" for nothing
	Vehicle string    // what was kept of the vehicle in hand, "" for nothing
	// keep the two; they may fail
	KeepLog, KeepVehicle func(string) error
}

// Game is one person's practice. It is not safe for use by several goroutines at once.
type Game struct {
	c       Config
	shell   *web.Shell
	pages   *template.Template
	log     Log
	level   Level  // chosen last
	kept    error  // why something could not be kept
	told    string // to say once at the start, "" for nothing
	shelves map[int]*Shelf
	stands  map[place]*stand
	spares  map[place]*turn // vehicles that are ready before somebody asks for one
	number  int             // of vehicles so far
	now     *turn
	before  *work // the vehicle that was in hand when the page was left, until it is fetched again
}

// turn is the vehicle that is worked on.
type turn struct {
	place
	work
	lab    *lab.Lab // of one sheet
	bench  *web.Bench
	result *debrief.Debrief // once concluded
}

// New begins a game.
func New(c Config) (*Game, error) {
	if len(c.Offers) == 0 {
		return nil, errors.New("practice: there is nothing to practice")
	}
	g := &Game{c: c, level: Guided, shelves: map[int]*Shelf{}, stands: map[place]*stand{}, spares: map[place]*turn{}}
	var err error
	if g.shell, err = web.NewShell(); err != nil {
		return nil, err
	}
	if g.pages, err = templates(); err != nil {
		return nil, err
	}
	g.log, _ = ParseLog(c.Log) // what cannot be read is no practice
	g.before, g.told = g.parseWork(c.Vehicle)
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
		g.log, g.now, g.before = nil, nil, nil
		g.keep()
		g.keepVehicle()
		return see("/progress")
	}
	g.resume()
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
	r.Sheet = g.now.Code
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
	did := v.bench.Attempt(v.Code)
	if did.Conclusion.Made() {
		if err := g.conclude(at, did); err != nil {
			return err
		}
		if a.Status == http.StatusSeeOther {
			a.Location = "/debrief"
		}
		return nil
	}
	words, err := g.say(did)
	if a.Status == http.StatusSeeOther && words {
		a.Location = "/sheet#said"
	}
	return err
}

// conclude grades the vehicle once its repair is concluded.
func (g *Game) conclude(at int64, did attempt.Attempt) error {
	v := g.now
	v.bench.Say(v.Code, "")
	if v.result != nil {
		return nil
	}
	d, err := grade(g.stands[v.place].memory, v.lab, did)
	if err != nil {
		return err
	}
	v.result = &d
	if !v.Logged {
		g.note(at)
	}
	return nil
}

// say puts the feedback on the last step on the sheet, and tells whether there is any.
func (g *Game) say(did attempt.Attempt) (bool, error) {
	v := g.now
	if v.Level != Guided {
		return false, nil
	}
	words, err := said(g.stands[v.place].memory, v.lab, did)
	if err != nil {
		return false, err
	}
	text, err := g.shell.Rendered(words)
	if err != nil {
		return false, err
	}
	v.bench.Say(v.Code, text)
	return words != nil, nil
}

// note writes the vehicle into the log.
func (g *Game) note(at int64) {
	v := g.now
	sheet := &v.lab.Sheets[0]
	e := Entry{Day: day(at), Pack: v.lab.Pack.Name, Stage: g.c.Offers[v.offer].Stages[v.stage].ID(), Level: v.Level,
		Fault: v.lab.Faults[v.lab.Hypotheses[sheet.Truth].Fault].ID}
	if v.result != nil {
		e.Mark, e.Proven = math.Round(v.result.Student.Mark*10)/10, evidence.Proven(&v.result.Student)
	}
	v.Logged = true
	g.log = append(g.log, e).recent()
	g.keep()
	g.keepVehicle()
}

// keep hands the log over. Where it cannot be kept the pages say so.
func (g *Game) keep() { g.kept = g.c.KeepLog(g.log.Text()) }

// leave puts the vehicle away. In an exam it counts.
func (g *Game) leave(at int64) {
	did := g.now.bench.Attempt(g.now.Code)
	if g.now.Level == Exam && !g.now.Logged && did.Begun() {
		g.note(at)
	}
	g.now = nil
	g.keepVehicle()
}

// begin gets the next vehicle: of a stage, or with the fault of the last one once more.
func (g *Game) begin(r web.Request) web.Answer {
	level := Level(r.Form.Get("level"))
	if !level.known() {
		level = Guided
	}
	g.resume()
	row := build.Any
	var at place
	switch v := g.now; {
	case r.Form.Get("next") == "same" && v != nil && v.result != nil:
		at, row, level = v.place, v.lab.Sheets[0].Truth, v.Level
	case r.Form.Get("next") == "other" && v != nil:
		at, level = v.place, v.Level
	default:
		at = g.find(r.Form.Get("stage"))
		g.level = level
	}
	if at == nowhere {
		return g.page(http.StatusBadRequest, "Not done", "", "trouble", "Choose what to practice.")
	}
	if row != build.Any && level == Exam {
		level = Open // who knows the fault takes no exam
	}
	if g.now != nil {
		g.leave(r.At)
	}
	if err := g.fetch(at, level, row); err != nil {
		return g.trouble(err)
	}
	return see("/sheet")
}

// trouble is a mistake of ours, told.
func (g *Game) trouble(err error) web.Answer {
	return g.page(http.StatusServiceUnavailable, "Not done", "", "trouble",
		fmt.Sprintf("Something is wrong with this file: %v.", err))
}
