package network

import (
	"fmt"
	"net/http"
	"sync"
	"time"
)

// Live tells open pages that something has changed.
type Live struct {
	mu     sync.Mutex
	open   map[string]map[chan struct{}]bool // by sheet
	ending chan struct{}
}

// NewLive has no listeners yet.
func NewLive() *Live {
	return &Live{open: map[string]map[chan struct{}]bool{}, ending: make(chan struct{})}
}

const (
	heartbeat   = 15 * time.Second // keeps a quiet connection from being taken for a dead one
	mostStreams = 12               // of a sheet: a few tabs on two devices
)

// Changed wakes the pages of a sheet, or all for "".
func (l *Live) Changed(sheet string) {
	l.mu.Lock()
	defer l.mu.Unlock()
	for name, streams := range l.open {
		if sheet != "" && sheet != name {
			continue
		}
		for s := range streams {
			select {
			case s <- struct{}{}:
			default: // it is awake already
			}
		}
	}
}

// End closes all streams.
func (l *Live) End() { close(l.ending) }

func (l *Live) enter(sheet string) (chan struct{}, bool) {
	l.mu.Lock()
	defer l.mu.Unlock()
	if l.open[sheet] == nil {
		l.open[sheet] = map[chan struct{}]bool{}
	}
	if len(l.open[sheet]) >= mostStreams {
		return nil, false
	}
	s := make(chan struct{}, 1)
	l.open[sheet][s] = true
	return s, true
}

func (l *Live) leave(sheet string, s chan struct{}) {
	l.mu.Lock()
	defer l.mu.Unlock()
	delete(l.open[sheet], s)
}

// serve sends the version now, and again whenever it has changed.
func (l *Live) serve(w http.ResponseWriter, r *http.Request, sheet string, version func() string) {
	woken, ok := l.enter(sheet)
	if !ok {
		http.Error(w, "too many pages of this sheet are open", http.StatusTooManyRequests)
		return
	}
	defer l.leave(sheet, woken)
	out := http.NewResponseController(w)
	_ = out.SetWriteDeadline(time.Time{}) // without support for it the stream ends early and the browser asks again
	_ = out.SetReadDeadline(time.Time{})
	w.Header().Set("Content-Type", "text/event-stream")
	w.WriteHeader(http.StatusOK)
	beat := time.NewTicker(heartbeat)
	defer beat.Stop()
	last := r.Header.Get("Last-Event-ID")
	for {
		text := ": nothing new\n\n"
		if now := version(); now != last {
			text, last = fmt.Sprintf("id: %s\ndata: %s\n\n", now, now), now
		}
		if _, err := w.Write([]byte(text)); err != nil || out.Flush() != nil {
			return
		}
		select {
		case <-woken:
		case <-beat.C:
		case <-r.Context().Done():
			return
		case <-l.ending:
			return
		}
	}
}
