package practice

import (
	"encoding/json"
	"errors"
	"slices"

	"nospark/grading/attempt"
	"nospark/scenarios/build"
	"nospark/scenarios/lab"
	"nospark/scenarios/term"
)

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

// keeper is the journal of the vehicle in hand. That something cannot be kept stops nobody.
type keeper struct{ *Game }

func (k keeper) Append(e attempt.Event) error {
	k.now.Events = append(k.now.Events, e)
	k.keepVehicle()
	return nil
}
