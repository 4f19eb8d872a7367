// Package desk is the instructor's side of the bench: who is where, and what can be decided about it. It knows the lab
// with everything that is hidden, which package web cannot reach, and shows no word, fault or mark before the release.
//
// Start at [Desk.Rows]; the pages are values too (page.go).
package desk

import (
	"fmt"
	"sync"
	"time"

	"nospark/cmd/internal/web"
	"nospark/grading"
	"nospark/grading/attempt"
	"nospark/grading/bestplay"
	"nospark/printouts/debrief"
	"nospark/scenarios/lab"
)

// Desk is the instructor's view of a lab that is being served.
type Desk struct {
	lab     *lab.Lab
	bench   *web.Bench
	minutes int // planned, 0 for no end
	tests   map[string]int

	mu    sync.Mutex
	known map[int]*bestplay.Suspects // by complaint
}

// New is the desk of a bench. Minutes is how long the class has, 0 for no end.
func New(l *lab.Lab, b *web.Bench, minutes int) *Desk {
	d := &Desk{lab: l, bench: b, minutes: minutes, tests: map[string]int{}, known: map[int]*bestplay.Suspects{}}
	for t := range l.Tests {
		d.tests[l.Tests[t].ID] = t
	}
	return d
}

// Row is a sheet as the desk sees it.
type Row struct {
	Sheet, Student, Name, Section string
	Spare                         bool   // nobody has it
	Where                         string // phone, paper or absent
	Devices                       int    // signed in
	Steps, Left                   int    // steps that count; suspects that are left
	Minutes                       int64  // tenths
	Unjudged                      bool   // a reading waits for its verdict
	Concluded                     bool
	Silent                        int // minutes without a sign, 0 for few
	Extra                         int // minutes
}

// silent is how long a student may think before the desk remarks it.
const silent = 6 * time.Minute

// Rows are the sheets in the order of the lab; spares that nobody has come too.
func (d *Desk) Rows(now time.Time) []Row {
	var rows []Row
	var attempts []attempt.Attempt
	paper := map[string]bool{}
	d.bench.Look(func(room *attempt.Room) {
		for i := range d.lab.Sheets {
			attempts = append(attempts, room.Of(d.lab.Sheets[i].Code).Copy())
		}
		for _, e := range room.Told {
			paper[e.Sheet] = true
		}
	})
	for i := range d.lab.Sheets {
		rows = append(rows, d.row(&d.lab.Sheets[i], &attempts[i], paper[d.lab.Sheets[i].Code], now))
	}
	return rows
}

func (d *Desk) row(s *lab.Sheet, a *attempt.Attempt, paper bool, now time.Time) Row {
	r := Row{Sheet: s.Code, Student: s.Student, Name: s.Name, Section: s.Section, Devices: a.Signed(), Extra: a.Extra,
		Concluded: a.Conclusion.Made(), Where: "absent"}
	if s.Student == "" {
		r.Student, r.Name, r.Spare = a.Student, a.Name, a.Student == ""
	}
	switch {
	case paper:
		r.Where = "paper"
	case r.Devices > 0 || a.Begun():
		r.Where = "phone"
	}
	for _, step := range a.Counting() {
		r.Steps++
		r.Minutes += d.lab.Tests[d.tests[step.Test]].Minutes
	}
	if n := len(a.Steps); n > 0 && !r.Concluded {
		last := a.Steps[n-1]
		band := s.Lines[d.tests[last.Test]].Band
		r.Unjudged = last.Void == "" && last.Good == attempt.Unsaid &&
			!d.lab.Tests[d.tests[last.Test]].Bands[band].Silent
	}
	if quiet := now.Sub(time.Unix(a.Last, 0)); a.Last > 0 && !r.Concluded && quiet >= silent {
		r.Silent = int(quiet.Minutes())
	}
	r.Left = d.left(s, a)
	return r
}

// left counts the suspects that fit what a student has read.
func (d *Desk) left(sheet *lab.Sheet, a *attempt.Attempt) int {
	d.mu.Lock()
	defer d.mu.Unlock()
	s := d.known[sheet.Complaint]
	if s == nil {
		var err error
		if s, err = bestplay.NewSuspects(d.lab, sheet.Complaint, nil, nil); err != nil {
			return 0 // a lab that cannot be graded; grading says why
		}
		d.known[sheet.Complaint] = s
	}
	set := s.Start(sheet)
	for _, step := range a.Counting() {
		t := d.tests[step.Test]
		set = s.After(set, t, sheet.Lines[t].Band)
	}
	return s.Count(set)
}

// Clock tells how the time stands: minutes that are left of those planned, pauses and extra time taken in.
type Clock struct {
	Planned, Left    int
	Running, Paused  bool
	Released, Closed bool
}

// Clock of the class, or with a sheet of one student.
func (d *Desk) Clock(now time.Time, sheet string) Clock {
	c := Clock{Planned: d.minutes}
	d.bench.Look(func(room *attempt.Room) {
		c.Running, c.Paused = room.Started != 0, room.Paused != 0
		c.Released, c.Closed = room.Released, room.Closed
		spent := int64(0)
		if c.Running {
			at := now.Unix()
			if c.Paused {
				at = room.Paused
			}
			spent = max(0, at-room.Started-room.Stopped)
		}
		total := int64(d.minutes) * 60
		if sheet != "" {
			total += int64(room.Of(sheet).Extra) * 60
		}
		c.Left = int((total - spent + 59) / 60)
	})
	return c
}

// Telling reads a line out to a student on paper; the desk writes down that it did.
func (d *Desk) Telling(sheet string, line int, now time.Time) (string, error) {
	for i := range d.lab.Sheets {
		s := &d.lab.Sheets[i]
		if s.Code != sheet {
			continue
		}
		for t, l := range s.Lines {
			if l.Number != line {
				continue
			}
			e := attempt.Event{Kind: attempt.Told, At: now.Unix(), Sheet: sheet, Test: d.lab.Tests[t].ID}
			if err := d.bench.Record(e); err != nil {
				return "", err
			}
			text := fmt.Sprintf("Sheet %s, line %03d: %s, %s", sheet, l.Number, l.Letters, l.Reading)
			if l.Beside != "" {
				text += ", " + l.Beside
			}
			return text, nil
		}
		return "", fmt.Errorf("sheet %s has no line %03d", sheet, line)
	}
	return "", fmt.Errorf("there is no sheet %q", sheet)
}

// Debriefs gives every student who has concluded, or everybody once the lab is closed, what is read after the release.
func (d *Desk) Debriefs(result *grading.Result) {
	done := map[string]bool{}
	d.bench.Look(func(room *attempt.Room) {
		for i := range d.lab.Sheets {
			code := d.lab.Sheets[i].Code
			done[code] = room.Closed || room.Of(code).Conclusion.Made()
		}
	})
	for _, s := range result.Students {
		if !done[s.Sheet] {
			d.bench.Debrief(s.Sheet, nil)
			continue
		}
		d.bench.Debrief(s.Sheet, debrief.New(d.lab, result.Reference, s).Section().Blocks)
	}
}
