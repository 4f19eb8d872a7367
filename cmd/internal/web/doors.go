package web

import (
	"sync"
	"time"

	"golang.org/x/time/rate"

	"nospark/scenarios/lab"
)

// doors know who may sit down at which sheet.
type doors struct {
	word func(sheet string) string
	own  map[string][]string // sheets by student

	mu    sync.Mutex
	again int64                    // until then who was in before is let in again
	guess map[string]*rate.Limiter // wrong words, by sheet
	shut  map[string]bool          // sheets for which the desk has to admit
}

// WrongWords is how many wrong words a minute a sheet stands before the desk has to admit.
const WrongWords = 5

func newDoors(l *lab.Lab, word func(string) string) *doors {
	d := &doors{word: word, own: map[string][]string{}, guess: map[string]*rate.Limiter{}, shut: map[string]bool{}}
	for _, s := range l.Sheets {
		if s.Student != "" {
			d.own[s.Student] = append(d.own[s.Student], s.Code)
		}
	}
	return d
}

// wrong counts a wrong word.
func (d *doors) wrong(sheet string, at int64) (tooOften bool) {
	d.mu.Lock()
	defer d.mu.Unlock()
	l := d.guess[sheet]
	if l == nil {
		l = rate.NewLimiter(rate.Every(time.Minute/WrongWords), WrongWords)
		d.guess[sheet] = l
	}
	if !l.AllowN(time.Unix(at, 0), 1) {
		d.shut[sheet] = true
	}
	return d.shut[sheet]
}

// isShut tells whether the desk has to admit to a sheet.
func (d *doors) isShut(sheet string) bool {
	d.mu.Lock()
	defer d.mu.Unlock()
	return d.shut[sheet]
}

func (d *doors) letsAgain(at int64) bool {
	d.mu.Lock()
	defer d.mu.Unlock()
	return at < d.again
}

func (d *doors) open(sheet string) {
	d.mu.Lock()
	defer d.mu.Unlock()
	delete(d.shut, sheet)
	delete(d.guess, sheet)
}
