package web

import (
	"errors"
	"fmt"
	"sync"

	"nospark/grading/attempt"
	"nospark/printouts/content"
	"nospark/scenarios/lab"
	"nospark/scenarios/pack"
)

// Bench serves the sheets of a lab. It is safe for use by several goroutines at once.
type Bench struct {
	seats   map[string]*seat
	fold    lab.SheetCodes
	codes   []string
	doors   *doors
	journal Journal
	changed func(string)
	left    func(string) string
	pages   *pages

	gate sync.RWMutex // held for reading by events of one sheet, for writing by those of all
	mu   sync.Mutex   // guards room
	room *attempt.Room
}

// ClaimPath is where a sheet is claimed. A strip's picture leads there, with code and word behind #.
const ClaimPath = "/claim"

// The files that pages refer to.
const (
	StylePath     = "/bench.css"
	TextStylePath = "/text.css" // of debriefs
	ScriptPath    = "/bench.js"
)

// Find gives the code of a sheet as it is printed for one as people write it.
func (b *Bench) Find(code string) (string, bool) {
	at, ok := b.fold.Find(code)
	if !ok {
		return "", false
	}
	return b.codes[at], true
}

// Look shows the room as it is between two events.
func (b *Bench) Look(at func(*attempt.Room)) {
	b.mu.Lock()
	defer b.mu.Unlock()
	at(b.room)
}

// Version of a sheet changes whenever something about it does.
func (b *Bench) Version(sheet string) string {
	version := ""
	b.Look(func(room *attempt.Room) {
		version = fmt.Sprintf("%d.%s", room.Of(sheet).Version, state(room, room.Of(sheet)))
		if room.Released {
			version += ".debrief"
		}
	})
	return version
}

// errNoSheet is an event for a sheet that the lab does not have.
var errNoSheet = errors.New("the lab has no such sheet")

// Record writes an event of the desk down and takes it over. What was recorded before is done already.
func (b *Bench) Record(e attempt.Event) error {
	if e.Sheet != "" {
		s := b.seats[e.Sheet]
		if s == nil {
			return errNoSheet
		}
		b.gate.RLock()
		defer b.gate.RUnlock()
		s.mu.Lock()
		defer s.mu.Unlock()
		_, err := b.record(s, e)
		return err
	}
	b.gate.Lock()
	defer b.gate.Unlock()
	if b.closed() && e.Kind != attempt.Release {
		return errClosed
	}
	if err := b.journal.Append(e); err != nil {
		return err
	}
	return b.take(e)
}

var errClosed = errors.New("the lab is closed")

func (b *Bench) closed() (closed bool) {
	b.Look(func(room *attempt.Room) { closed = room.Closed })
	return closed
}

// record is for who holds the gate and the seat.
func (b *Bench) record(s *seat, e attempt.Event) (news bool, err error) {
	if b.closed() {
		return false, errClosed
	}
	if e.Kind != attempt.Told {
		if news, err = s.attempt.Check(e, s.asks); err != nil || !news {
			return news, err
		}
	}
	if err := b.journal.Append(e); err != nil {
		return false, err
	}
	return true, b.take(e)
}

func (b *Bench) take(e attempt.Event) error {
	b.mu.Lock()
	err := b.room.Apply(e)
	b.mu.Unlock()
	if err == nil && b.changed != nil {
		b.changed(e.Sheet)
	}
	return err
}

// Debrief gives a sheet what is read once debriefs are released.
func (b *Bench) Debrief(sheet string, text []content.Block) {
	if s := b.seats[sheet]; s != nil {
		s.mu.Lock()
		s.after = text
		s.mu.Unlock()
	}
}

// Config is what a bench is made of.
type Config struct {
	Lab     *lab.Lab // it is not kept
	Room    *attempt.Room
	Journal Journal
	Word    func(sheet string) string // that claims a sheet; nil where nobody claims
	Shell   *Shell                    // may be shared; nil for one of its own
	Alone   bool                      // somebody practices alone: there is no instructor and no other device
	Pack    *pack.Pack                // that the lab keeps, for who has read it already; nil: it is read
	Circuit string                    // as Circuit draws it; "": it is drawn
	// of a lab that differs in its sheets alone: what is the same for everybody is taken from it
	Like    *Bench
	Left    func(sheet string) string // what an open sheet says first, such as how much time it has; may be nil
	Changed func(sheet string)        // called after each event with its sheet, "" for all; may be nil
}
