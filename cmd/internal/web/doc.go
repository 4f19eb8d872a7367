// Package web is the bench: what students do on a telephone, as a function from a request to an answer. A test is
// committed with what it should read, and only then its reading is shown.
//
// Start at [Bench.Do] and the table of routes beside it. It owns no listener, cookies, clock or files: whoever serves
// it proves which sheet a request belongs to and gives it a [Journal]; so the same package serves a class on a network
// and one student without any.
//
// What answers a student is a seat (seat.go). It has no room for what is hidden, for another sheet or for a key; the
// one thing in it that knows readings is its meter (meter.go), which tells those of committed tests.
package web
