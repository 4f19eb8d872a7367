package web

import (
	"html/template"
	"sync"

	"nospark/grading/attempt"
	"nospark/printouts/content"
	"nospark/printouts/handouts"
	"nospark/scenarios/handout"
	"nospark/scenarios/lab"
)

// seat is everything that answers one student.
type seat struct {
	class *class
	sheet sheet
	meter meter

	mu      sync.Mutex // held from the look at the attempt until the event is part of it
	attempt *attempt.Attempt
	after   []content.Block // the debrief, nil before
	said    template.HTML   // about the last step, "" for nothing
}

// class is the same for everybody.
type class struct {
	Program, Title, Date string
	Lacks                lab.Lacks // dangers that the vehicle does not have
	Rules                []string  // what is forbidden, when a repair is proven, what need not be made today
	Reference            handout.Reference
	Groups               []group
	tests                map[string]test
	repairs              map[string]lab.Repair // by code with letters
}

// group are the tests at a point, or of one kind outside the grid.
type group struct {
	ID, Name, Note string
	Point          int // number, 0 for none
	Tests          []test
}

// test is what a student can choose.
type test struct {
	ID      string
	Short   string // below the heading of its group
	Label   string // by itself
	Meter   string // id of the instrument
	Minutes int64  // tenths
}

// sheet is the own work order.
type sheet struct {
	Code, Person, Complaint, Odometer string
	Vehicle                           int
	Known                             []handout.KnownReading
}

func newClass(l *lab.Lab, h handout.Handout) *class {
	c := &class{Program: h.Program, Title: h.Title, Date: h.Date, Lacks: h.Lacks, Reference: h.Reference,
		tests: map[string]test{}, repairs: map[string]lab.Repair{}}
	for _, text := range []string{handouts.Forbidden(h), handouts.Proven(h), handouts.NotToday(h)} {
		if text != "" {
			c.Rules = append(c.Rules, text)
		}
	}
	for _, r := range h.Reference.Repairs {
		c.repairs[r.Code+r.Letters] = r
	}
	c.Groups = groups(l)
	for _, g := range c.Groups {
		for _, t := range g.Tests {
			c.tests[t.ID] = t
		}
	}
	return c
}

func ownSheet(w handout.Worksheet) sheet {
	return sheet{Code: w.Code, Person: handouts.Person(w), Complaint: w.Complaint, Odometer: handouts.Odometer(w),
		Vehicle: w.Vehicle, Known: w.Known}
}

// asks tells whether the last reading wants a verdict.
func (s *seat) asks(string) bool {
	return s.meter(s.attempt, len(s.attempt.Steps)).Asks
}

// minutes are those of all steps that count, tenths.
func (s *seat) minutes() int64 {
	var sum int64
	for _, step := range s.attempt.Steps {
		if step.Void == "" {
			sum += s.class.tests[step.Test].Minutes
		}
	}
	return sum
}

// state names what can be done on a sheet.
func state(room *attempt.Room, a *attempt.Attempt) string {
	switch {
	case room.Closed:
		return "closed"
	case a.Conclusion.Made():
		return "concluded"
	case room.Paused != 0:
		return "paused"
	}
	return "open"
}
