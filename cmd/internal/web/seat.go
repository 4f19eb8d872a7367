package web

import (
	"html/template"
	"sync"

	"nospark/grading/attempt"
	"nospark/printouts/content"
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

// stepJSON is a step of the record.
type stepJSON struct {
	Step     int     `json:"step"`
	Test     string  `json:"test"`
	Expect   string  `json:"expect"`
	Line     int     `json:"line"`
	Letters  string  `json:"letters"`
	Reading  string  `json:"reading"`
	Beside   string  `json:"beside"`
	Minutes  float64 `json:"minutes"`
	Good     string  `json:"good"` // "", yes, no or none
	Asks     bool    `json:"asks"` // for a verdict
	RulesOut string  `json:"rules_out"`
	Void     string  `json:"void,omitempty"` // why it counts for nothing
}

// step puts a committed step and its reading together.
func (s *seat) step(n int) stepJSON {
	done, r := s.attempt.Steps[n-1], s.meter(s.attempt, n)
	return stepJSON{n, done.Test, done.Expect, r.Line, r.Letters, r.Text, r.Beside,
		minutes(s.class.tests[done.Test].Minutes),
		string(done.Good), r.Asks, done.RulesOut, done.Void}
}

// minutes of tenths.
func minutes(tenths int64) float64 { return float64(tenths) / 10 }
