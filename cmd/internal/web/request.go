package web

import (
	"net/url"

	"nospark/grading/attempt"
)

// Request is what a client asks.
type Request struct {
	Method, Path string
	Sheet        string // code; proven by whoever serves the bench, "" for nobody
	Device       int    // of the sheet, from 1
	Form         url.Values
	JSON         bool
	At           int64 // seconds since 1970, 0 without a clock
}

// Answer is what it gets.
type Answer struct {
	Status         int
	Location, Type string
	Body           []byte
	// with 303 the sheet that the client has from now on, with 202 the one that waits for the desk
	Claim   string
	Device  int    // with 303
	Student string // with 202: the id that was given, where no sheet is known for it
	Left    bool   // the client has no sheet any more
}

// Journal keeps events. Append returns once the event cannot be lost.
type Journal interface {
	Append(attempt.Event) error
}
