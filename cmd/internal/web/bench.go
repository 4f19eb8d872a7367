package web

import (
	"errors"
	"fmt"
	"net/url"
	"strings"
	"sync"

	"nospark/cmd/internal/web/http"

	"nospark/grading/attempt"
	"nospark/printouts/content"
	"nospark/scenarios/handout"
	"nospark/scenarios/lab"
	"nospark/scenarios/pack"
)

// Request is what a client asks.
type Request struct {
	Method, Path string
	Sheet        string // code; proven by whoever serves the bench, "" for nobody
	Device       int    // of the sheet, from 1
	Form         url.Values
	JSON         bool
	At           int64 // seconds since 1970, 0 without a clock
}

// Answer is what it gets.
type Answer struct {
	Status         int
	Location, Type string
	Body           []byte
	// with 303 the sheet that the client has from now on, with 202 the one that waits for the desk
	Claim   string
	Device  int    // with 303
	Student string // with 202: the id that was given, where no sheet is known for it
	Left    bool   // the client has no sheet any more
}

// Journal keeps events. Append returns once the event cannot be lost.
type Journal interface {
	Append(attempt.Event) error
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

// New makes a bench. The error is a lab whose pack this program cannot read.
func New(c Config) (*Bench, error) {
	if c.Pack == nil {
		var err error
		if c.Pack, err = c.Lab.KeptPack(); err != nil {
			return nil, err
		}
	}
	h, err := handout.With(c.Lab, c.Pack)
	if err != nil {
		return nil, err
	}
	if c.Room == nil {
		c.Room = attempt.NewRoom()
	}
	b := &Bench{seats: map[string]*seat{}, fold: c.Lab.SheetCodes(), journal: c.Journal, changed: c.Changed,
		left: c.Left, room: c.Room,
		doors: newDoors(c.Lab, c.Word)}
	var class *class
	if c.Like != nil {
		b.pages, class = c.Like.pages, c.Like.pages.class
	} else {
		class = newClass(c.Lab, h)
		if b.pages, err = newPages(class, c); err != nil {
			return nil, err
		}
	}
	for i, w := range h.Worksheets {
		b.seats[w.Code] = &seat{class: class, sheet: ownSheet(w), attempt: c.Room.Of(w.Code),
			meter: newMeter(c.Lab, &c.Lab.Sheets[i], h.Readings[i].Plots)}
		b.codes = append(b.codes, w.Code)
	}
	return b, nil
}

// route is a row of the table of routes.
type route struct {
	method, path string // with N for a number
	own          func(b *Bench, s *seat, r Request) Answer
	open         func(b *Bench, r Request) Answer // for everybody
}

// routes are all that there are.
func routes() []route {
	return []route{
		{method: "GET", path: "/", open: (*Bench).enter},
		{method: "GET", path: ClaimPath, open: (*Bench).enter},
		{method: "POST", path: ClaimPath, open: (*Bench).claim},
		{method: "GET", path: StylePath, open: (*Bench).style},
		{method: "GET", path: TextStylePath, open: (*Bench).textStyle},
		{method: "GET", path: ScriptPath, open: (*Bench).script},
		{method: "GET", path: "/sheet", own: (*Bench).sheet},
		{method: "POST", path: "/steps", own: (*Bench).commit},
		{method: "POST", path: "/steps/N/verdict", own: (*Bench).judge},
		{method: "POST", path: "/conclusion", own: (*Bench).conclude},
		{method: "GET", path: "/debrief", own: (*Bench).debrief},
		{method: "GET", path: "/booklet", own: (*Bench).showBooklet},
		{method: "POST", path: "/leave", own: (*Bench).leave},
	}
}

// ClaimPath is where a sheet is claimed. A strip's picture leads there, with code and word behind #.
const ClaimPath = "/claim"

// The files that pages refer to.
const (
	StylePath     = "/bench.css"
	TextStylePath = "/text.css" // of debriefs
	ScriptPath    = "/bench.js"
)

// Do answers a request.
func (b *Bench) Do(r Request) Answer {
	pattern, step := numbered(r.Path)
	known := false
	for _, route := range routes() {
		if route.path != pattern {
			continue
		}
		known = true
		if route.method != r.Method && (r.Method != "HEAD" || route.method != "GET") {
			continue
		}
		if route.open != nil {
			return route.open(b, r)
		}
		s := b.seats[r.Sheet]
		if s == nil {
			return b.trouble(nil, r, http.StatusUnauthorized,
				"Claim a sheet first, with its code and the word on your strip.")
		}
		if step != "" {
			r.Path = step // a handler of a step finds its number here
		}
		return route.own(b, s, r)
	}
	if known {
		return b.trouble(b.seats[r.Sheet], r, http.StatusMethodNotAllowed, "This cannot be done here.")
	}
	if r.Method == "GET" && strings.HasPrefix(r.Path, "/steps") { // an address that a browser kept of a form
		return Answer{Status: http.StatusSeeOther, Location: "/sheet"}
	}
	return b.trouble(b.seats[r.Sheet], r, http.StatusNotFound, "There is no such page.")
}

// numbered takes the number out of the path of a step.
func numbered(path string) (pattern, number string) {
	rest, ok := strings.CutPrefix(path, "/steps/")
	if !ok {
		return path, ""
	}
	number, tail, _ := strings.Cut(rest, "/")
	return "/steps/N/" + tail, number
}

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
