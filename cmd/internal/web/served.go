package web

import (
	"html/template"

	"nospark/cmd/internal/web/http"
	"nospark/grading/attempt"
)

// enter is the page on which a sheet is claimed.
func (b *Bench) enter(r Request) Answer {
	if b.seats[r.Sheet] != nil {
		return Answer{Status: http.StatusSeeOther, Location: "/sheet"}
	}
	if b.doors.word == nil {
		return b.trouble(nil, r, http.StatusNotFound, "There is no such page.")
	}
	return b.pages.answer(http.StatusOK, "enter", struct{ frame }{b.pages.frame("Claim your sheet", nil)})
}

func (b *Bench) style(Request) Answer {
	return Answer{Status: http.StatusOK, Type: "text/css; charset=utf-8", Body: b.pages.sheets}
}

func (b *Bench) textStyle(Request) Answer {
	return Answer{Status: http.StatusOK, Type: "text/css; charset=utf-8", Body: b.pages.TextStyle()}
}

func (b *Bench) script(Request) Answer {
	return Answer{Status: http.StatusOK, Type: "text/javascript; charset=utf-8", Body: b.pages.live}
}

// Waiting is the page of a device that the desk has to admit; it asks again by itself. Word is what the student tells
// the instructor.
func (b *Bench) Waiting(word string) Answer {
	return b.pages.answer(http.StatusAccepted, "waiting", struct {
		frame
		Word string
	}{b.pages.frame("Wait for your instructor", nil), word})
}

// Problem is a page that says why something was not done, for whoever serves the bench.
func (b *Bench) Problem(status int, text string, asJSON bool) Answer {
	return b.trouble(nil, Request{JSON: asJSON}, status, text)
}

// showBooklet is the page of what few need at every step.
func (b *Bench) showBooklet(s *seat, _ Request) Answer {
	return b.pages.answer(http.StatusOK, "booklet", struct {
		frame
		About about
	}{b.pages.frame("Meters, repairs and their checks", &s.sheet), b.pages.booklet})
}

// Say gives a sheet what is said about its last step, from the next page on; "" for nothing. Where an instructor gives
// debriefs nobody says anything before.
func (b *Bench) Say(sheet string, text template.HTML) {
	if s := b.seats[sheet]; s != nil {
		s.mu.Lock()
		s.said = text
		s.mu.Unlock()
	}
}

// Attempt is what was done on a sheet so far.
func (b *Bench) Attempt(sheet string) (a attempt.Attempt) {
	b.Look(func(room *attempt.Room) { a = room.Of(sheet).Copy() })
	return a
}
