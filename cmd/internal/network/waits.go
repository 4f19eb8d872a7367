package network

import (
	"crypto/rand"
	"slices"
	"sync"
	"time"
)

// Waits are the devices that ask to be let in at the desk.
type Waits struct {
	mu   sync.Mutex
	list []Waiting
}

// Waiting is one of them.
type Waiting struct {
	Word    string // that the student says
	Sheet   string // code, "" where the desk has to choose one
	Student string // the id that was given, "" where the sheet's word was
	Since   time.Time
	Device  int // once admitted

	ticket string
	taken  bool // the desk is letting it in
}

// mostWaiting bounds the list: anybody on the network can ask.
const mostWaiting = 200

// add puts a device on the list, or gives it the place that it has. Whom the desk lets in is not changed by asking
// again, and who asks for something else gets another word: the desk admits what it has seen.
func (w *Waits) add(ticket, sheet, student string, now time.Time) (Waiting, bool) {
	w.mu.Lock()
	defer w.mu.Unlock()
	if at := w.at(ticket); at >= 0 {
		if p := w.list[at]; p.taken || p.Sheet == sheet && p.Student == student {
			return p, true
		}
		w.list = slices.Delete(w.list, at, at+1)
	}
	if len(w.list) >= mostWaiting {
		return Waiting{}, false
	}
	p := Waiting{Word: spoken(), Sheet: sheet, Student: student, Since: now, ticket: rand.Text()}
	for slices.ContainsFunc(w.list, func(o Waiting) bool { return o.Word == p.Word }) {
		p.Word += spoken()
	}
	w.list = append(w.list, p)
	return p, true
}

// spoken is a short word that can be said across a room.
func spoken() string {
	const heads, tails = "bdhlmnrstv", "aiou"
	var b [4]byte
	rand.Read(b[:]) // never fails, see crypto/rand
	return string([]byte{heads[b[0]%10], tails[b[1]%4], heads[b[2]%10], tails[b[3]%4]})
}

func (w *Waits) at(ticket string) int {
	if ticket == "" {
		return -1
	}
	return slices.IndexFunc(w.list, func(p Waiting) bool { return p.ticket == ticket })
}

func (w *Waits) find(ticket string) (Waiting, bool) {
	w.mu.Lock()
	defer w.mu.Unlock()
	if at := w.at(ticket); at >= 0 {
		return w.list[at], true
	}
	return Waiting{}, false
}

func (w *Waits) drop(ticket string) {
	w.mu.Lock()
	defer w.mu.Unlock()
	if at := w.at(ticket); at >= 0 {
		w.list = slices.Delete(w.list, at, at+1)
	}
}

// List is who waits, the first first.
func (w *Waits) List() []Waiting {
	w.mu.Lock()
	defer w.mu.Unlock()
	return slices.DeleteFunc(slices.Clone(w.list), func(p Waiting) bool { return p.Device > 0 })
}

// Answer lets the device in that says a word, by admit, which gives it a sheet and its number there; or sends it away,
// where admit is nil.
func (w *Waits) Answer(word string, admit func(Waiting) (sheet string, device int, err error)) error {
	w.mu.Lock()
	at := slices.IndexFunc(w.list, func(p Waiting) bool { return p.Word == word && !p.taken })
	if at < 0 {
		w.mu.Unlock()
		return nil // answered already
	}
	p := w.list[at]
	if admit == nil {
		w.list = slices.Delete(w.list, at, at+1)
	} else {
		w.list[at].taken = true
	}
	w.mu.Unlock()
	if admit == nil {
		return nil
	}
	sheet, device, err := admit(p)
	w.mu.Lock()
	defer w.mu.Unlock()
	if at := w.at(p.ticket); at >= 0 && err == nil {
		w.list[at].Sheet, w.list[at].Device = sheet, device
	} else if at >= 0 {
		w.list[at].taken = false
	}
	return err
}
