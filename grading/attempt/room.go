package attempt

import "fmt"

// Room is what all events of a lab come to. It is not safe for use by several goroutines at once.
type Room struct {
	attempts map[string]*Attempt
	Told     []Event // lines that the desk read out
	Started  int64   // when the time began to run, 0 before
	Stopped  int64   // seconds of pauses that have ended
	Paused   int64   // when the pause began that lasts, 0 for none
	Released bool
	Closed   bool
	Last     int64 // by the clock of the journal
}

// NewRoom is a lab in which nothing has happened.
func NewRoom() *Room { return &Room{attempts: map[string]*Attempt{}} }

// Of is the attempt on a sheet.
func (r *Room) Of(sheet string) *Attempt {
	a, known := r.attempts[sheet]
	if !known {
		a = &Attempt{Sheet: sheet}
		r.attempts[sheet] = a
	}
	return a
}

// Apply takes an event over. The error says that it cannot have happened: the journal is not one of this program.
func (r *Room) Apply(e Event) error {
	if r.Closed && e.Kind != Release { // debriefs are often released the day after; it changes no mark
		return fmt.Errorf("%s after the close", e.Kind)
	}
	switch e.Kind {
	case Commit, Judge, Conclude, Claim, Leave, Void, Give, Extra:
		if e.Sheet == "" {
			return fmt.Errorf("%s without a sheet", e.Kind)
		}
		a := r.Of(e.Sheet)
		news, err := a.Check(e, nil)
		switch {
		case err != nil:
			return fmt.Errorf("%s on sheet %s: %w", e.Kind, e.Sheet, err)
		case !news:
			return fmt.Errorf("%s on sheet %s: stands twice", e.Kind, e.Sheet)
		}
		a.apply(e)
	case Told:
		r.Told = append(r.Told, e)
	case Start:
		if r.Started == 0 {
			r.Started = max(1, e.At)
		}
	case Pause:
		if r.Paused == 0 {
			r.Paused = max(1, e.At)
		}
	case Resume:
		if r.Paused != 0 {
			if r.Started != 0 { // a pause before the start takes no time from anybody
				r.Stopped += max(0, e.At-max(r.Paused, r.Started))
			}
			r.Paused = 0
		}
	case Release:
		r.Released = true
	case Close:
		r.Closed = true
	default:
		return fmt.Errorf("%q is nothing that can happen", clip(string(e.Kind)))
	}
	r.Last = e.At
	return nil
}

// After is the room that events lead to; the error names the first, counted from 1, that cannot have happened.
func After(events []Event) (*Room, error) {
	r := NewRoom()
	for i, e := range events {
		if err := r.Apply(e); err != nil {
			return nil, fmt.Errorf("event %d: %w", i+1, err)
		}
	}
	return r, nil
}
