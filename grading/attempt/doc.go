// Package attempt is one student's work on one sheet as a value: tests that were committed before their readings were
// seen, verdicts on the readings, and one conclusion.
//
// Start at [Event], which is one thing that happened, and at [Attempt.Check], which decides whether it may. A [Room] is
// what all events of a lab come to. Whoever keeps a room writes each event to a journal first (package journal below),
// then applies it, and only then answers: what was answered is never lost.
//
// It knows no readings, no faults and no clock, and it is compiled for browsers too.
package attempt
