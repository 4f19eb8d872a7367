// Package network serves a bench to the class and a desk to the instructor, as two handlers for two listeners. It owns
// what belongs to HTTP: cookies, limits, headers, live events, and the clock that it is given.
//
// Start at [Class]. What a student may do and see is decided in package web; what the instructor sees, in package desk.
package network
