package network

import (
	"crypto/hmac"
	"crypto/rand"
	"crypto/subtle"
	"errors"
	"fmt"
	"html/template"
	"net/http"
	"strconv"
	"strings"
	"sync"
	"time"

	"golang.org/x/time/rate"

	"nospark/cmd/internal/desk"
	"nospark/cmd/internal/web"
	"nospark/grading/attempt"
)

// Desk serves the instructor's pages on the own machine.
type Desk struct {
	Desk      *desk.Desk
	Pages     *desk.Pages
	Bench     *web.Bench
	Waits     *Waits
	Hosts     func() []string
	Now       func() time.Time
	Pin       string
	Addresses func() []string                    // of the class
	Picture   func(address string) template.HTML // the QR code of an address
	Reached   func() bool                        // by a phone
	Spare     func() (sheet string, ok bool)     // the next that nobody has
	Known     func(student string) string        // the name of a student of the lab
	Grade     func() (string, error)
	Release   func() error // makes the debriefs
	Link      func(token string)
	TLS       bool
	Pairing   *Pairing // of the instructor's phones; nil without TLS
	Suffix    string   // of the cookie's name: browsers do not tell the ports of one machine apart

	giving   sync.Mutex // held from the look for a spare until it is given
	mu       sync.Mutex
	token    string // of the link, once
	sessions map[string]bool
	said     map[string]said // by session
	pins     *rate.Limiter
	readmit  time.Time
}

type said struct{ text, wrong string }

// NewLink makes the link that opens the desk once; the one before is of no use any more.
func (d *Desk) NewLink() {
	d.mu.Lock()
	d.token = rand.Text()
	token := d.token
	d.mu.Unlock()
	d.Link(token)
}

// Handler is what the desk's listener serves.
func (d *Desk) Handler() http.Handler {
	d.sessions, d.said, d.pins = map[string]bool{}, map[string]said{}, rate.NewLimiter(rate.Every(12*time.Second), 5)
	return onlyHosts(d.Hosts, secured(http.NewCrossOriginProtection().Handler(http.HandlerFunc(d.serve))))
}

const deskCookie = "desk"

func (d *Desk) serve(w http.ResponseWriter, r *http.Request) {
	r.Body = http.MaxBytesReader(w, r.Body, mostBody)
	switch {
	case r.Method == http.MethodGet && (r.URL.Path == web.StylePath):
		send(w, d.Bench.Do(web.Request{Method: r.Method, Path: r.URL.Path}))
		return
	case r.Method == http.MethodGet && r.URL.Path == "/desk.css":
		d.file(w, "text/css; charset=utf-8", d.Pages.Style)
		return
	case r.Method == http.MethodGet && r.URL.Path == "/desk.js":
		d.file(w, "text/javascript; charset=utf-8", d.Pages.Script)
		return
	case r.Method == http.MethodGet && r.URL.Path == "/open":
		d.open(w, r)
		return
	}
	session := ""
	if cookie, err := r.Cookie(deskCookie + d.Suffix); err == nil {
		session = cookie.Value
	}
	if !d.isOpen(session) {
		d.refuse(w, http.StatusUnauthorized, "Open the desk by the link in the terminal; it serves once. Press Enter "+
			"there for another.")
		return
	}
	switch {
	case r.Method == http.MethodGet && r.URL.Path == "/":
		d.show(w, session)
	case r.Method == http.MethodGet && r.URL.Path == "/door":
		d.door(w)
	case r.Method == http.MethodPost && r.URL.Path == "/do":
		if origin := r.Header.Get("Origin"); origin == "" || !strings.EqualFold(origin, "http://"+r.Host) {
			d.refuse(w, http.StatusForbidden, "This did not come from the desk's own page.")
			return
		}
		if err := r.ParseForm(); err != nil {
			d.refuse(w, http.StatusBadRequest, "What was sent cannot be read.")
			return
		}
		text, err := d.act(r)
		d.mu.Lock()
		d.said[session] = said{text: text}
		if err != nil {
			d.said[session] = said{wrong: err.Error()}
		}
		d.mu.Unlock()
		http.Redirect(w, r, "/", http.StatusSeeOther)
	default:
		d.refuse(w, http.StatusNotFound, "There is no such page.")
	}
}

func (d *Desk) file(w http.ResponseWriter, kind string, read func() ([]byte, error)) {
	data, err := read()
	if err != nil {
		http.Error(w, err.Error(), http.StatusInternalServerError)
		return
	}
	send(w, web.Answer{Status: http.StatusOK, Type: kind, Body: data})
}

func (d *Desk) page(w http.ResponseWriter, status int, data []byte, err error) {
	if err != nil {
		http.Error(w, err.Error(), http.StatusInternalServerError)
		return
	}
	send(w, web.Answer{Status: status, Type: "text/html; charset=utf-8", Body: data})
}

func (d *Desk) refuse(w http.ResponseWriter, status int, text string) {
	data, err := d.Pages.Refused(text)
	d.page(w, status, data, err)
}

func (d *Desk) isOpen(session string) bool {
	d.mu.Lock()
	defer d.mu.Unlock()
	return session != "" && d.sessions[session]
}

// open takes the link's token for a cookie.
func (d *Desk) open(w http.ResponseWriter, r *http.Request) {
	d.mu.Lock()
	ok := d.token != "" && subtle.ConstantTimeCompare([]byte(r.URL.Query().Get("key")), []byte(d.token)) == 1
	session := rand.Text()
	if ok {
		d.token = ""
		d.sessions[session] = true
	}
	d.mu.Unlock()
	if !ok {
		d.refuse(w, http.StatusForbidden, "This link has been used. Press Enter in the terminal for another.")
		return
	}
	http.SetCookie(w, &http.Cookie{Name: deskCookie + d.Suffix, Value: session, Path: "/", HttpOnly: true,
		SameSite: http.SameSiteStrictMode})
	http.Redirect(w, r, "/", http.StatusSeeOther)
}

// show is the desk.
func (d *Desk) show(w http.ResponseWriter, session string) {
	v := d.Desk.View(d.Now())
	v.Waiting = d.guests()
	v.Addresses, v.Reached, v.TLS = d.Addresses(), d.Reached(), d.TLS
	if d.Pairing != nil {
		v.Phones = d.Pairing.Phones()
		if key := d.Pairing.Open(d.Now()); key != "" && len(v.Addresses) > 0 {
			v.PairAt = v.Addresses[0] + web.HandPath + "?key=" + key
			v.PairQR = d.Picture(v.PairAt)
		}
	}
	d.mu.Lock()
	v.Readmitting = d.Now().Before(d.readmit)
	v.Said, v.Wrong = d.said[session].text, d.said[session].wrong
	delete(d.said, session)
	d.mu.Unlock()
	data, err := d.Pages.Desk(v)
	d.page(w, http.StatusOK, data, err)
}

// door is what is projected.
func (d *Desk) door(w http.ResponseWriter) {
	v := d.Desk.View(d.Now())
	address := ""
	if all := d.Addresses(); len(all) > 0 {
		address = all[0]
	}
	data, err := d.Pages.Door(desk.DoorView{Title: v.Title, Program: v.Program, Cautions: v.Cautions, Address: address,
		QR: d.Picture(address), Clock: v.Clock, Rules: []string{
			"Open the address, write the code and the word of your strip.",
			"Choose a test, write what a good reading would be, commit: then the reading shows.",
			"Judge every reading. Minutes count, not the number of tests.",
			"Who has no phone, or likes paper better, works on paper. Anybody can go on on paper at any moment.",
		}})
	d.page(w, http.StatusOK, data, err)
}

var errPin = errors.New("the PIN is wrong; it stands in the terminal")

// pinned checks the PIN of a form.
func (d *Desk) pinned(r *http.Request) error {
	if !d.pins.AllowN(d.Now(), 1) {
		return errors.New("too many PINs; wait a minute")
	}
	if !hmac.Equal([]byte(strings.TrimSpace(r.PostForm.Get("pin"))), []byte(d.Pin)) {
		return errPin
	}
	return nil
}

// sheet finds the sheet that a form names.
func (d *Desk) sheet(written string) (string, error) {
	code, ok := d.Bench.Find(written)
	if !ok {
		return "", fmt.Errorf("there is no sheet %q", attempt.Tidy(written))
	}
	return code, nil
}

// act does what a form of the desk asks, and says what was done.
func (d *Desk) act(r *http.Request) (string, error) {
	at := d.Now().Unix()
	simple := func(kind attempt.Kind, done string) (string, error) {
		return done, d.Bench.Record(attempt.Event{Kind: kind, At: at})
	}
	switch r.PostForm.Get("act") {
	case "admit":
		return d.admit(r.PostForm.Get("word"), r.PostForm.Get("sheet"))
	case "deny":
		return "Sent away.", d.Waits.Answer(r.PostForm.Get("word"), nil)
	case "start":
		return simple(attempt.Start, "The time runs.")
	case "pause":
		return d.pause(true)
	case "resume":
		return d.pause(false)
	case "pair", "unpair":
		return d.pair(r.PostForm.Get("act") == "pair")
	case "extra":
		return d.extra(r.PostForm.Get("sheet"), r.PostForm.Get("minutes"))
	case "tell":
		return d.tell(r)
	case "give":
		sheet, err := d.give(attempt.Tidy(r.PostForm.Get("student")), attempt.Tidy(r.PostForm.Get("name")))
		return "Sheet " + sheet + " is the student's.", err
	case "readmit":
		d.mu.Lock()
		d.readmit = d.Now().Add(2 * time.Minute)
		d.mu.Unlock()
		d.Bench.Readmit(d.Now().Add(2 * time.Minute).Unix())
		return "For two minutes every earlier claim is let in again by its word.", nil
	case "void":
		return d.void(r)
	case "grade":
		return d.Grade()
	case "release":
		if err := d.pinned(r); err != nil {
			return "", err
		}
		if err := d.Release(); err != nil {
			return "", err
		}
		if d.Desk.Clock(d.Now(), "").Closed {
			return simple(attempt.Release, "Everybody can read the own debrief.")
		}
		return simple(attempt.Release, "Whoever has concluded can read the debrief.")
	case "close":
		return d.close(r)
	}
	return "", errors.New("the desk knows no such action")
}

// close ends the lab. Where debriefs are released already, whoever has not concluded can read the own one from now on.
func (d *Desk) close(r *http.Request) (string, error) {
	if err := d.pinned(r); err != nil {
		return "", err
	}
	if err := d.Bench.Record(attempt.Event{Kind: attempt.Close, At: d.Now().Unix()}); err != nil {
		return "", err
	}
	if d.Desk.Clock(d.Now(), "").Released {
		if err := d.Release(); err != nil {
			return "", fmt.Errorf("the lab is closed, but the debriefs cannot be made: %w", err)
		}
	}
	return "The lab is closed. Grade it here or with nospark grade. Debriefs can still be released.", nil
}

func (d *Desk) pause(stop bool) (string, error) {
	e := attempt.Event{Kind: attempt.Resume, At: d.Now().Unix()}
	done := "Everybody goes on."
	if stop {
		e.Kind, done = attempt.Pause, "Everybody pauses."
	}
	return done, d.Bench.Record(e)
}

// pair shows the link that pairs a phone of the instructor, or sends all of them away.
func (d *Desk) pair(on bool) (string, error) {
	switch {
	case d.Pairing == nil:
		return "", errors.New("a phone is paired over TLS alone: start with --certificate and --key")
	case on:
		d.Pairing.Offer(d.Now())
		return "Scan the code with your phone within two minutes; it serves once.", nil
	}
	d.Pairing.Revoke()
	return "No phone is paired any more.", nil
}

// admit lets in who says a word: to the sheet that is written, else to the one that is asked for, else to a spare.
func (d *Desk) admit(word, written string) (string, error) {
	err := d.Waits.Answer(word, func(p Waiting) (string, int, error) {
		sheet := p.Sheet
		if written != "" {
			var err error
			if sheet, err = d.sheet(written); err != nil {
				return "", 0, err
			}
		}
		if sheet == "" {
			var err error
			if sheet, err = d.give(p.Student, ""); err != nil {
				return "", 0, err
			}
		}
		device, err := d.Bench.Admit(sheet, d.Now().Unix())
		return sheet, device, err
	})
	return word + " is let in.", err
}

// give gives the next spare to a student who has no sheet; who has one keeps it.
func (d *Desk) give(student, name string) (string, error) {
	if student == "" || len(student) > attempt.MostKey || len(name) > 2*attempt.MostKey {
		return "", errors.New("a spare needs the student's id")
	}
	d.giving.Lock()
	defer d.giving.Unlock()
	for _, r := range d.Desk.Rows(d.Now()) {
		if r.Student == student {
			return r.Sheet, nil
		}
	}
	sheet, ok := d.Spare()
	if !ok {
		return "", errors.New("there is no spare sheet left; build some with spares in the plan, and start again")
	}
	e := attempt.Event{Kind: attempt.Give, At: d.Now().Unix(), Sheet: sheet, Student: student, Name: name}
	return sheet, d.Bench.Record(e)
}

func (d *Desk) extra(written, time string) (string, error) {
	sheet, err := d.sheet(written)
	if err != nil {
		return "", err
	}
	minutes, err := strconv.Atoi(strings.TrimSpace(time))
	if err != nil || minutes < 1 || minutes > 240 {
		return "", errors.New("give minutes from 1 to 240")
	}
	return fmt.Sprintf("Sheet %s has %d minutes more.", sheet, minutes),
		d.Bench.Record(attempt.Event{Kind: attempt.Extra, At: d.Now().Unix(), Sheet: sheet, Minutes: minutes})
}

func (d *Desk) tell(r *http.Request) (string, error) {
	sheet, err := d.sheet(r.PostForm.Get("sheet"))
	if err != nil {
		return "", err
	}
	line, err := strconv.Atoi(strings.TrimSpace(r.PostForm.Get("line")))
	if err != nil {
		return "", errors.New("a line is a number of three digits")
	}
	return d.Desk.Telling(sheet, line, d.Now())
}

func (d *Desk) void(r *http.Request) (string, error) {
	if err := d.pinned(r); err != nil {
		return "", err
	}
	sheet, err := d.sheet(r.PostForm.Get("sheet"))
	if err != nil {
		return "", err
	}
	step, err := strconv.Atoi(strings.TrimSpace(r.PostForm.Get("step")))
	if err != nil {
		return "", errors.New("a step is a number, 0 for the conclusion")
	}
	err = d.Bench.Record(attempt.Event{Kind: attempt.Void, At: d.Now().Unix(), Sheet: sheet, Step: step,
		Reason: attempt.Tidy(r.PostForm.Get("reason"))})
	if err == nil && step == 0 {
		d.Bench.Debrief(sheet, nil) // who concludes again has not read it
	}
	return "Taken back; it stays in the journal with the reason.", err
}
