package network

import (
	"io"
	"log"
	"net/http"
	"slices"
	"strings"
	"time"

	"nospark/cmd/internal/web"
)

// Class serves the bench to the class.
type Class struct {
	Bench   *web.Bench
	Waits   *Waits
	Live    *Live
	Cookies Cookies
	Hosts   func() []string // exact values of the Host header that are ours
	Now     func() time.Time
	Hand    *Hand               // the instructor's paired phones; nil without TLS
	Arrived func(remote string) // called for each request that comes from elsewhere; may be nil
}

// Bounds of what a client may send or keep busy.
const (
	mostBody   = 16 << 10
	MostHeader = 16 << 10
	readHeader = 5 * time.Second
	readAll    = 10 * time.Second
	writeAll   = 20 * time.Second
	idle       = 2 * time.Minute
)

// Server is one for a handler, with the bounds that keep slow clients from staying. What clients do wrong is not
// logged.
func Server(h http.Handler) *http.Server {
	return &http.Server{Handler: h, ReadHeaderTimeout: readHeader, ReadTimeout: readAll, WriteTimeout: writeAll,
		IdleTimeout: idle, MaxHeaderBytes: MostHeader, ErrorLog: log.New(io.Discard, "", 0)}
}

// Handler is what the class's listener serves.
func (c *Class) Handler() http.Handler {
	return onlyHosts(c.Hosts, secured(http.NewCrossOriginProtection().Handler(http.HandlerFunc(c.serve))))
}

// onlyHosts refuses requests that name another host. The cross-origin check alone would let a page through whose name
// was made to lead to this machine.
func onlyHosts(hosts func() []string, next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if !slices.Contains(hosts(), strings.ToLower(r.Host)) {
			http.Error(w, "this is not the address of the bench; use the one on the board",
				http.StatusMisdirectedRequest)
			return
		}
		next.ServeHTTP(w, r)
	})
}

// secured sets the headers of all answers.
func secured(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		h := w.Header()
		h.Set("Content-Security-Policy",
			"default-src 'none'; style-src 'self'; script-src 'self'; connect-src 'self'; "+
				"img-src 'self' data:; form-action 'self'; base-uri 'none'; frame-ancestors 'none'")
		h.Set("X-Content-Type-Options", "nosniff")
		h.Set("X-Frame-Options", "DENY")
		h.Set("Referrer-Policy", "same-origin")
		h.Set("Cache-Control", "no-store")
		next.ServeHTTP(w, r)
	})
}

func (c *Class) serve(w http.ResponseWriter, r *http.Request) {
	if c.Arrived != nil {
		c.Arrived(r.RemoteAddr)
	}
	json := strings.Contains(r.Header.Get("Accept"), "application/json")
	r.Body = http.MaxBytesReader(w, r.Body, mostBody)
	if err := r.ParseForm(); err != nil {
		send(w, c.Bench.Problem(http.StatusBadRequest, "What was sent cannot be read, or is too long.", json))
		return
	}
	if c.Hand != nil && handles(r.URL.Path) {
		send(w, c.Hand.answer(w, r))
		return
	}
	sheet, device := c.Cookies.seat(r)
	if sheet != "" && !c.Bench.Active(sheet, device) {
		sheet, device = "", 0
	}
	if sheet == "" && r.Method == http.MethodGet && c.admitted(w, r) {
		return
	}
	if r.URL.Path == "/events" && r.Method == http.MethodGet {
		if sheet == "" {
			send(w, c.Bench.Problem(http.StatusUnauthorized, "Claim a sheet first.", json))
			return
		}
		c.Live.serve(w, r, sheet, func() string { return c.Bench.Version(sheet) })
		return
	}
	a := c.Bench.Do(web.Request{Method: r.Method, Path: r.URL.Path, Sheet: sheet, Device: device,
		Form: r.PostForm, JSON: json,
		At: c.Now().Unix()})
	switch {
	case a.Left:
		c.Cookies.clear(w)
	case a.Status == http.StatusSeeOther && a.Claim != "":
		c.Cookies.seated(w, a.Claim, a.Device)
	case a.Status == http.StatusAccepted:
		if a = c.wait(w, r, a, json); a.Status == http.StatusAccepted && !json {
			return
		}
	}
	send(w, a)
}

// admitted lets a waiting device in once the desk has said so. It is true when the request is answered.
func (c *Class) admitted(w http.ResponseWriter, r *http.Request) bool {
	p, known := c.Waits.find(c.Cookies.ticket(r))
	switch {
	case !known:
		return false
	case p.Device > 0:
		c.Waits.drop(p.ticket)
		c.Cookies.seated(w, p.Sheet, p.Device)
		http.Redirect(w, r, "/sheet", http.StatusSeeOther)
		return true
	case r.URL.Path == "/sheet" && !strings.Contains(r.Header.Get("Accept"), "application/json"):
		send(w, c.Bench.Waiting(p.Word))
		return true
	}
	return false
}

// wait puts a device on the desk's list.
func (c *Class) wait(w http.ResponseWriter, r *http.Request, a web.Answer, json bool) web.Answer {
	p, ok := c.Waits.add(c.Cookies.ticket(r), a.Claim, a.Student, c.Now())
	if !ok {
		return c.Bench.Problem(http.StatusTooManyRequests, "Too many are waiting already. Go to your instructor.", json)
	}
	c.Cookies.waiting(w, p.ticket)
	if !json {
		send(w, c.Bench.Waiting(p.Word))
	}
	return a
}

// send writes an answer.
func send(w http.ResponseWriter, a web.Answer) {
	if a.Type != "" {
		w.Header().Set("Content-Type", a.Type)
		if strings.HasPrefix(a.Type, "text/css") || strings.HasPrefix(a.Type, "text/javascript") {
			w.Header().Set("Cache-Control", "max-age=3600")
		}
	}
	if a.Location != "" {
		w.Header().Set("Location", a.Location)
	}
	w.WriteHeader(a.Status)
	_, _ = w.Write(a.Body) // who has gone needs no answer
}
