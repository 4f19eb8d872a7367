package web

import (
	"strings"

	"nospark/cmd/internal/web/http"
	"nospark/grading/attempt"
	"nospark/scenarios/handout"
)

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
