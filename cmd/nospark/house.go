package main

import (
	"bufio"
	"context"
	"fmt"
	"io"
	"net"
	"net/netip"
	"os"
	"strconv"
	"strings"
	"sync"
	"sync/atomic"
	"time"

	xterm "golang.org/x/term"

	"nospark/cmd/internal/desk"
	"nospark/cmd/internal/network"
	"nospark/cmd/internal/web"
	"nospark/grading/attempt"
	"nospark/printouts/wording"
	"nospark/scenarios/draw"
	"nospark/scenarios/term"
)

// house is a lab that is being served: bench, desk, and what connects them.
type house struct {
	folder  string
	g       *graded
	serving serving
	bench   *web.Bench
	view    *desk.Desk
	class   *network.Class
	desk    *network.Desk
	live    *network.Live
	at      netip.AddrPort // of the class's listener
	deskAt  netip.AddrPort
	reached atomic.Bool

	mu    sync.Mutex
	hosts []string
	seen  time.Time // when the addresses were looked up
}

func newHouse(ctx context.Context, folder string, g *graded, journal web.Journal, room *attempt.Room, s serving,
	class, deskAt net.Addr) (*house, error) {
	h := &house{folder: folder, g: g, serving: s, live: network.NewLive(), at: class.(*net.TCPAddr).AddrPort(),
		deskAt: deskAt.(*net.TCPAddr).AddrPort()}
	key := g.key
	shell, err := web.NewShell()
	if err != nil {
		return nil, err
	}
	h.bench, err = web.New(web.Config{Lab: g.lab, Shell: shell, Room: room, Journal: journal,
		Changed: h.live.Changed, Left: h.left,
		Word: func(sheet string) string { return claimWord(key, g.lab.Name, sheet) }})
	if err != nil {
		return nil, err
	}
	h.view = desk.New(g.lab, h.bench, s.minutes)
	waits := &network.Waits{}
	h.class = &network.Class{Bench: h.bench, Waits: waits, Live: h.live, Hosts: h.classHosts, Now: now,
		Arrived: h.arrived,
		Cookies: network.Cookies{Key: cookieKey(key, g.lab.Name), Suffix: strconv.Itoa(int(h.at.Port())),
			Secure: s.certificate != ""}}
	h.desk = &network.Desk{Desk: h.view, Pages: desk.NewPages(), Bench: h.bench, Waits: waits, Hosts: h.deskHosts,
		Now: now,
		Pin: s.pin, Addresses: h.addresses, Picture: qrImage, Reached: h.reached.Load, Spare: h.spare, Known: h.name,
		Grade: func() (string,
			error) {
			return h.grade(ctx)
		}, Release: func() error { return h.debriefs(ctx) },
		TLS: s.certificate != "", Suffix: strconv.Itoa(int(h.deskAt.Port()))}
	if h.desk.TLS {
		h.desk.Pairing = &network.Pairing{}
		h.class.Hand = &network.Hand{Web: h.desk.Hand(shell, g.lab.Title, g.lab.Program), Pairing: h.desk.Pairing,
			Cookies: h.class.Cookies, Now: now}
	}
	if room.Released {
		return h, h.debriefs(ctx)
	}
	return h, nil
}

// cookieKey signs the cookies of a lab.
func cookieKey(key term.Key, lab string) []byte {
	return []byte(draw.New(key[:], "bench cookies", lab).Letters(48))
}

func (h *house) scheme() string {
	if h.serving.certificate != "" {
		return "https"
	}
	return "http"
}

// names are those under which the class can reach this machine, the likeliest first.
func (h *house) names() []string {
	if host, _, _ := net.SplitHostPort(h.serving.address); host != "" && !h.at.Addr().IsUnspecified() {
		return []string{host}
	}
	var names []string
	for _, a := range network.Addresses() {
		names = append(names, a.String())
	}
	if len(names) == 0 {
		names = []string{"127.0.0.1"} // no network at all
	}
	return names
}

// addresses are those of the class.
func (h *house) addresses() []string {
	var all []string
	for _, n := range h.names() {
		all = append(all, h.scheme()+"://"+net.JoinHostPort(n, strconv.Itoa(int(h.at.Port()))))
	}
	return all
}

func (h *house) deskAddress() string { return "http://" + h.deskAt.String() }

// lookAgain is how soon a changed address of this machine is noticed.
const lookAgain = 2 * time.Second

// classHosts are the hosts that requests of the class may name.
func (h *house) classHosts() []string {
	h.mu.Lock()
	defer h.mu.Unlock()
	if t := now(); h.hosts == nil || t.Sub(h.seen) > lookAgain || t.Before(h.seen) {
		names := append(h.names(), h.at.Addr().Unmap().String())
		if h.at.Addr().IsUnspecified() || h.at.Addr().IsLoopback() {
			names = append(names, "localhost", "127.0.0.1")
		}
		if name, err := os.Hostname(); err == nil {
			names = append(names, name, name+".local")
		}
		usual := map[string]string{"http": "80", "https": "443"}[h.scheme()]
		h.hosts, h.seen = network.HostNames(names, strconv.Itoa(int(h.at.Port())), usual), t
	}
	return h.hosts
}

func (h *house) deskHosts() []string {
	port := strconv.Itoa(int(h.deskAt.Port()))
	return []string{"127.0.0.1:" + port, "localhost:" + port}
}

// arrived notices the first request from another machine.
func (h *house) arrived(remote string) {
	if h.reached.Load() {
		return
	}
	at, err := netip.ParseAddrPort(remote)
	if err != nil || at.Addr().Unmap().IsLoopback() {
		return
	}
	for _, own := range network.Addresses() {
		if own == at.Addr().Unmap() {
			return
		}
	}
	h.reached.Store(true)
}

// left says how much time a student has, extra time taken in.
func (h *house) left(sheet string) string {
	c := h.view.Clock(now(), sheet)
	switch {
	case c.Planned == 0 || !c.Running || c.Closed:
		return ""
	case c.Left <= 0:
		return "The planned time is over. Nothing is closed by that."
	}
	return fmt.Sprintf("%s left when this page was loaded.", wording.Count(c.Left, "minute", "minutes"))
}

// spare is the next sheet that nobody has.
func (h *house) spare() (string, bool) {
	for _, r := range h.view.Rows(now()) {
		if r.Spare && r.Where == "absent" {
			return r.Sheet, true
		}
	}
	return "", false
}

func (h *house) name(student string) string {
	for _, s := range h.g.lab.Sheets {
		if s.Student == student && student != "" {
			return s.Name
		}
	}
	return ""
}

// grade grades as the command does.
func (h *house) grade(ctx context.Context) (string, error) {
	g, err := gradeLab(ctx, h.folder, asking{false, strings.NewReader(""), io.Discard})
	if err != nil {
		return "", err
	}
	marked := 0
	for _, m := range g.result.Marks {
		if m.Status.HasMark() {
			marked++
		}
	}
	return fmt.Sprintf("Graded: %d of %d have a mark; see %s.", marked, len(g.result.Marks), h.folder+"/graded"), nil
}

// debriefs makes those of whoever has concluded.
func (h *house) debriefs(ctx context.Context) error {
	g := *h.g
	g.notes = nil
	if err := g.grade(ctx, h.folder); err != nil {
		return err
	}
	h.view.Debriefs(g.result)
	return nil
}

// links prints another link to the desk for each line that is typed at a terminal.
func (h *house) links(in io.Reader) {
	if f, ok := in.(*os.File); !ok || !xterm.IsTerminal(int(f.Fd())) {
		return
	}
	for lines := bufio.NewScanner(in); lines.Scan(); {
		h.desk.NewLink()
	}
}
