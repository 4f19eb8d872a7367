package practice

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"slices"

	"nospark/grading/attempt"
	"nospark/scenarios/build"
	"nospark/scenarios/lab"
	"nospark/scenarios/term"
)

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

// lost is said of a vehicle that cannot be gone on with.
const lost = "The vehicle in hand of last time is gone: what this browser kept of it does not fit this file."

// parseWork reads what was kept. It also says what to tell.
func (g *Game) parseWork(text string) (*work, string) {
	if text == "" {
		return nil, ""
	}
	w := new(work)
	if err := json.Unmarshal([]byte(text), w); err != nil || len(w.Seed) != term.KeySize || w.Row < build.Any ||
		!w.Level.known() || g.find(w.Stage) == nowhere {
		return nil, lost
	}
	return w, ""
}

// resume fetches the vehicle that was in hand when the page was left.
func (g *Game) resume() {
	if g.before == nil {
		return
	}
	w := *g.before
	g.before = nil
	if err := g.again(w); err != nil {
		g.now, g.told = nil, lost
		g.keepVehicle()
	}
}

// again draws the vehicle of a work once more and does what was done.
func (g *Game) again(w work) error {
	for _, e := range w.Events {
		if e.Sheet != w.Code || !slices.Contains([]attempt.Kind{attempt.Commit, attempt.Judge, attempt.Conclude}, e.Kind) {
			return errAnother
		}
	}
	done, err := attempt.After(w.Events)
	if err != nil {
		return err
	}
	sum, code := w.Sum, w.Code
	v, err := g.build(g.find(w.Stage), w, done)
	if err != nil {
		return err
	}
	if v.Sum != sum || v.Code != code || !fits(v.lab, w.Events) {
		return errAnother
	}
	g.now, g.number = v, max(g.number, v.Number)
	did := v.bench.Attempt(v.Code)
	if did.Conclusion.Made() {
		return g.conclude(did.Conclusion.At, did)
	}
	_, err = g.say(did)
	return err
}

// fits tells whether the lab has the tests and repairs of which events speak.
func fits(l *lab.Lab, events []attempt.Event) bool {
	known := map[string]bool{}
	for _, t := range l.Tests {
		known[t.ID] = true
	}
	for _, r := range l.Repairs {
		known[r.Code+r.Letters] = true
	}
	for _, e := range events {
		if e.Kind == attempt.Commit && !known[e.Test] || e.Kind == attempt.Conclude && !known[e.Repair] {
			return false
		}
	}
	return true
}

var errAnother = errors.New("another vehicle")

// sum tells two sheets apart.
func sum(s *lab.Sheet) string {
	text, err := json.Marshal(s)
	if err != nil {
		panic(fmt.Sprintf("practice: a sheet has no JSON: %v", err)) // plain values all
	}
	full := sha256.Sum256(text)
	return hex.EncodeToString(full[:8])
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

// unkept is what a sheet says where nothing can be kept.
func (g *Game) unkept(string) string {
	if g.kept == nil {
		return ""
	}
	return "This browser keeps nothing for this page: do not close it and do not load it again before you are done."
}

// keeper is the journal of the vehicle in hand. That something cannot be kept stops nobody.
type keeper struct{ *Game }

func (k keeper) Append(e attempt.Event) error {
	k.now.Events = append(k.now.Events, e)
	k.keepVehicle()
	return nil
}
