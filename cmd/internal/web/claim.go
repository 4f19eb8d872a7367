package web

import (
	"crypto/subtle"
	"errors"
	"strings"

	"nospark/cmd/internal/web/http"

	"nospark/grading/attempt"
)

// Readmit lets whoever knows the word of a sheet in until then, although another device has claimed it: the address of
// the bench has changed, and with it the cookies of all devices are gone.
func (b *Bench) Readmit(until int64) {
	b.doors.mu.Lock()
	defer b.doors.mu.Unlock()
	b.doors.again = until
}

// claimJSON is the answer to a claim.
type claimJSON struct {
	Sheet   string `json:"sheet,omitempty"`
	Waiting bool   `json:"waiting,omitempty"` // the desk has to admit
}

// claim lets a device in to a sheet: the first that knows the word. Any other has to be admitted at the desk.
func (b *Bench) claim(r Request) Answer {
	written, word := attempt.Tidy(r.Form.Get("sheet")), foldWord(r.Form.Get("word"))
	if code, rest, both := strings.Cut(written, " "); both && word == "" { // both in one field
		written, word = code, foldWord(rest)
	}
	id := attempt.Tidy(r.Form.Get("id"))
	switch {
	case b.doors.word == nil:
		return b.trouble(nil, r, http.StatusNotFound, "There is no such page.")
	case len(written) > attempt.MostKey || len(word) > attempt.MostKey || len(id) > attempt.MostKey,
		written == "" && id == "":
		return b.trouble(nil, r, http.StatusBadRequest, "Write the code of your sheet and the word on your strip.")
	case written == "":
		a := b.wait(r, "")
		if own := b.doors.own[id]; len(own) > 0 {
			a.Claim = own[0]
		}
		a.Student = id
		return a
	}
	code, known := b.Find(written)
	want := ""
	if known {
		if b.doors.isShut(code) { // whatever the word is: who tries them all does not learn which is right
			return b.tooOften(r)
		}
		want = foldWord(b.doors.word(code))
	}
	if subtle.ConstantTimeCompare([]byte(word), []byte(want)) == 0 || want == "" {
		if known && b.doors.wrong(code, r.At) {
			return b.tooOften(r)
		}
		return b.trouble(nil, r, http.StatusForbidden, "Code and word do not fit; look at your strip again.")
	}
	device, err := b.let(code, r.At, b.doors.letsAgain(r.At))
	switch {
	case errors.Is(err, errClosed):
		return b.trouble(nil, r, http.StatusLocked, "The lab is closed.")
	case err != nil:
		return b.trouble(nil, r, http.StatusServiceUnavailable, notWritten)
	case device == 0:
		return b.wait(r, code)
	}
	return b.seated(r, code, device)
}

// tooOften is the answer to every word for a sheet that is shut.
func (b *Bench) tooOften(r Request) Answer {
	return b.trouble(nil, r, http.StatusTooManyRequests, "Too many wrong words for this sheet. Give your student id at "+
		"the start, and your instructor lets you in.")
}

// seated is the answer to a device that is let in.
func (b *Bench) seated(r Request, code string, device int) Answer {
	a := Answer{Status: http.StatusSeeOther, Location: "/sheet", Claim: code, Device: device}
	if r.JSON {
		a.Type, a.Body = jsonType, asJSON(0, claimJSON{Sheet: code}).Body
	}
	return a
}

// wait is the answer to a device that the desk has to admit.
func (b *Bench) wait(r Request, code string) Answer {
	a := Answer{Status: http.StatusAccepted, Claim: code}
	if r.JSON {
		j := asJSON(0, claimJSON{Waiting: true})
		a.Type, a.Body = j.Type, j.Body
	}
	return a
}

// Admit lets a device in to a sheet on the word of the desk, and gives its number.
func (b *Bench) Admit(sheet string, at int64) (device int, err error) {
	b.doors.open(sheet)
	return b.let(sheet, at, true)
}

// let journals a claim. Without the desk only the first device is let in; others get 0.
func (b *Bench) let(sheet string, at int64, desk bool) (device int, err error) {
	s := b.seats[sheet]
	if s == nil {
		return 0, errNoSheet
	}
	b.gate.RLock()
	defer b.gate.RUnlock()
	s.mu.Lock()
	defer s.mu.Unlock()
	if !desk && s.attempt.Signed() > 0 {
		return 0, nil
	}
	if _, err := b.record(s, attempt.Event{Kind: attempt.Claim, At: at, Sheet: sheet}); err != nil {
		return 0, err
	}
	return len(s.attempt.Devices), nil
}

// foldWord makes a word comparable.
func foldWord(word string) string {
	return strings.ToLower(strings.Join(strings.Fields(attempt.Tidy(word)), ""))
}

// Active tells whether a device is signed in to a sheet.
func (b *Bench) Active(sheet string, device int) (active bool) {
	if b.seats[sheet] == nil {
		return false
	}
	b.Look(func(room *attempt.Room) { active = room.Of(sheet).Active(device) })
	return active
}
