package practice

import (
	"errors"

	"nospark/cmd/internal/web"
	"nospark/cmd/internal/web/http"
	"nospark/scenarios/build"
)

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
