package practice

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"html/template"
	"io"
	"math"
	"slices"

	"nospark/cmd/internal/web"
	"nospark/cmd/internal/web/http"
	"nospark/grading"
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

// keep hands the log over. Where it cannot be kept the pages say so.
func (g *Game) keep() { g.kept = g.c.KeepLog(g.log.Text()) }

func see(place string) web.Answer { return web.Answer{Status: http.StatusSeeOther, Location: place} }

// place is a stage of an offer.
type place struct{ offer, stage int }

var nowhere = place{-1, -1}

// stand is what the vehicles of a stage have in common.
type stand struct {
	supply *build.Supply
	memory *grading.Memory
	bench  *web.Bench // of the first vehicle, nil before
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

// work is what is kept of the vehicle in hand, so that a page which is loaded again goes on with it: what it was drawn
// from and what was done. The vehicle itself, and so its fault, does not stand in it.
type work struct {
	Stage  string          `json:"stage"`
	Level  Level           `json:"level"`
	Seed   []byte          `json:"seed"`
	Number int             `json:"number"` // of the vehicle
	Row    int             `json:"row"`    // of the matrix where the same fault was asked for once more
	Code   string          `json:"code"`   // of the sheet
	Sum    string          `json:"sum"`    // of the sheet: another version of the file may draw another vehicle
	Logged bool            `json:"logged"`
	Events []attempt.Event `json:"events"`
}

func (w *work) concluded() bool {
	return slices.ContainsFunc(w.Events, func(e attempt.Event) bool { return e.Kind == attempt.Conclude })
}

// keepVehicle hands over what is needed to go on. Where it cannot be kept the pages say so.
func (g *Game) keepVehicle() {
	text := ""
	if g.now != nil {
		data, err := json.Marshal(g.now.work)
		if err != nil {
			panic(fmt.Sprintf("practice: work has no JSON: %v", err)) // plain values all
		}
		text = string(data)
	}
	g.kept = g.c.KeepVehicle(text)
}

// sum tells two sheets apart.
func sum(s *lab.Sheet) string {
	text, err := json.Marshal(s)
	if err != nil {
		panic(fmt.Sprintf("practice: a sheet has no JSON: %v", err)) // plain values all
	}
	full := sha256.Sum256(text)
	return hex.EncodeToString(full[:8])
}

// unkept is what a sheet says where nothing can be kept.
func (g *Game) unkept(string) string {
	if g.kept == nil {
		return ""
	}
	return "This browser keeps nothing for this page: do not close it and do not load it again before you are done."
}
