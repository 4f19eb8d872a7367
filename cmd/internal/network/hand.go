package network

import (
	"crypto/rand"
	"crypto/subtle"
	"net/http"
	"strings"
	"sync"
	"time"

	"nospark/cmd/internal/web"
)

// Pairing knows the instructor's phones. There is one over TLS alone: without it whoever listens could take a phone's
// place.
type Pairing struct {
	mu     sync.Mutex
	token  string // of the link that is shown, once
	until  time.Time
	phones map[string]bool // by session
}

// pairable is how long a link pairs.
const pairable = 2 * time.Minute

// Offer makes the token of a link; the one before is of no use any more.
func (p *Pairing) Offer(now time.Time) string {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.token, p.until = rand.Text(), now.Add(pairable)
	return p.token
}

// Open is the token that pairs at the moment, "" for none.
func (p *Pairing) Open(now time.Time) string {
	p.mu.Lock()
	defer p.mu.Unlock()
	if now.Before(p.until) {
		return p.token
	}
	return ""
}

// take pairs a phone by a token, once.
func (p *Pairing) take(token string, now time.Time) (session string, ok bool) {
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.token == "" || !now.Before(p.until) || subtle.ConstantTimeCompare([]byte(token), []byte(p.token)) == 0 {
		return "", false
	}
	if p.phones == nil {
		p.phones = map[string]bool{}
	}
	session, p.token = rand.Text(), ""
	p.phones[session] = true
	return session, true
}

// Revoke sends all phones away, and takes the link back.
func (p *Pairing) Revoke() {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.token, p.phones = "", nil
}

// Phones counts those that are paired.
func (p *Pairing) Phones() int {
	p.mu.Lock()
	defer p.mu.Unlock()
	return len(p.phones)
}

func (p *Pairing) paired(session string) bool {
	p.mu.Lock()
	defer p.mu.Unlock()
	return session != "" && p.phones[session]
}

// Hand serves the instructor's paired phones beside the class.
type Hand struct {
	Web     *web.Hand
	Pairing *Pairing
	Cookies Cookies
	Now     func() time.Time
}

// handles tells whether a path is one of a paired phone.
func handles(path string) bool {
	return path == web.HandPath || strings.HasPrefix(path, web.HandPath+"/")
}

// answer is for requests whose form is parsed.
func (h *Hand) answer(w http.ResponseWriter, r *http.Request) web.Answer {
	post := r.Method == http.MethodPost
	if post && !strings.EqualFold(r.Header.Get("Origin"), "https://"+r.Host) {
		return h.Web.Refuse(http.StatusForbidden, "this did not come from the bench’s own page")
	}
	if post && r.URL.Path == web.HandPairPath {
		session, ok := h.Pairing.take(r.PostForm.Get("key"), h.Now())
		if !ok {
			return h.Web.Refuse(http.StatusForbidden, "this link has been used or is too old; take another at the desk")
		}
		h.Cookies.paired(w, session)
		return web.Answer{Status: http.StatusSeeOther, Location: web.HandPath}
	}
	if !h.Pairing.paired(h.Cookies.hand(r)) {
		if key := r.URL.Query().Get("key"); !post && r.URL.Path == web.HandPath && key != "" {
			return h.Web.Offer(key)
		}
		return h.Web.Refuse(http.StatusUnauthorized, "this phone is not paired; scan the QR code that the desk shows")
	}
	return h.Web.Do(web.Request{Method: r.Method, Path: r.URL.Path, Form: r.PostForm})
}

// Hand is what a paired phone does and sees of this desk.
func (d *Desk) Hand(shell *web.Shell, title, program string) *web.Hand {
	told := func(done string, err error) web.Told {
		if err != nil {
			return web.Told{Wrong: err.Error()}
		}
		return web.Told{Done: done}
	}
	return &web.Hand{Title: title, Program: program, Shell: shell, See: d.glance,
		Admit: func(word, sheet string) web.Told { return told(d.admit(word, sheet)) },
		Pause: func(stop bool) web.Told { return told(d.pause(stop)) },
		Extra: func(sheet, minutes string) web.Told { return told(d.extra(sheet, minutes)) }}
}

func (d *Desk) glance() web.Glance {
	c := d.Desk.Clock(d.Now(), "")
	return web.Glance{Guests: d.guests(), Running: c.Running, Paused: c.Paused, Planned: c.Planned, Left: c.Left}
}

// guests are the devices that wait.
func (d *Desk) guests() []web.Guest {
	var all []web.Guest
	for _, p := range d.Waits.List() {
		all = append(all, web.Guest{Word: p.Word, Sheet: p.Sheet, Student: p.Student, Name: d.Known(p.Student)})
	}
	return all
}
