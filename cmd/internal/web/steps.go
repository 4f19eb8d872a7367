package web

import (
	"encoding/json"
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"nospark/cmd/internal/web/http"

	"nospark/grading/attempt"
)

// The types of answers.
const (
	htmlType = "text/html; charset=utf-8"
	jsonType = "application/json"
)

// conclusionJSON is the conclusion.
type conclusionJSON struct {
	Repair string `json:"repair"`
	Reason string `json:"reason"`
}

// refusalJSON says why something was not done.
type refusalJSON struct {
	Error      string          `json:"error"`
	Recorded   *stepJSON       `json:"recorded,omitempty"` // what stands in the record instead
	Conclusion *conclusionJSON `json:"conclusion,omitempty"`
}

// commit takes a test and what it should read, and tells the reading.
func (b *Bench) commit(s *seat, r Request) Answer {
	e := attempt.Event{Kind: attempt.Commit, At: r.At, Sheet: s.sheet.Code, Key: attempt.Tidy(r.Form.Get("key")),
		Test: attempt.Tidy(r.Form.Get("test")), Expect: attempt.Tidy(r.Form.Get("expect"))}
	if _, known := s.class.tests[e.Test]; !known {
		text := "Choose a test of the list."
		if e.Test != "" {
			text = "There is no such test; choose one of the list."
		}
		return b.trouble(s, r, http.StatusBadRequest, text)
	}
	return b.do(s, r, e, func(news bool) Answer {
		n := slices.IndexFunc(s.attempt.Steps, func(done attempt.Step) bool { return done.Key == e.Key }) + 1
		status := http.StatusOK
		if news {
			status = http.StatusCreated
		}
		return b.reply(r, status, s.step(n), "/sheet#now")
	})
}

// judge takes a verdict.
func (b *Bench) judge(s *seat, r Request) Answer {
	n, err := strconv.Atoi(r.Path)
	if err != nil {
		return b.trouble(s, r, http.StatusNotFound, "There is no such step.")
	}
	e := attempt.Event{Kind: attempt.Judge, At: r.At, Sheet: s.sheet.Code, Step: n,
		Good: attempt.Verdict(r.Form.Get("good")), RulesOut: attempt.Tidy(r.Form.Get("rules_out"))}
	return b.do(s, r, e, func(bool) Answer {
		return b.reply(r, http.StatusOK, s.step(n), "/sheet#choose")
	})
}

// conclude takes the repair.
func (b *Bench) conclude(s *seat, r Request) Answer {
	e := attempt.Event{Kind: attempt.Conclude, At: r.At, Sheet: s.sheet.Code, Key: attempt.Tidy(r.Form.Get("key")),
		Repair: s.class.repair(r.Form.Get("repair")), Reason: attempt.Tidy(r.Form.Get("reason"))}
	if e.Repair == "" {
		return b.trouble(s, r, http.StatusBadRequest, "Choose a repair of the list, by its code.")
	}
	return b.do(s, r, e, func(bool) Answer {
		return b.reply(r, http.StatusOK, conclusionJSON{e.Repair, e.Reason}, "/sheet#now")
	})
}

// repair completes the code of a repair: the letters may be left out.
func (c *class) repair(written string) string {
	written = strings.ToUpper(strings.Join(strings.Fields(attempt.Tidy(written)), ""))
	if _, known := c.repairs[written]; known {
		return written
	}
	for code, r := range c.repairs {
		if written == r.Code {
			return code
		}
	}
	return ""
}

// leave signs a device out.
func (b *Bench) leave(s *seat, r Request) Answer {
	if r.Device > 0 {
		e := attempt.Event{Kind: attempt.Leave, At: r.At, Sheet: s.sheet.Code, Device: r.Device}
		if err := b.Record(e); err != nil && !errors.Is(err, errClosed) {
			return b.trouble(s, r, http.StatusServiceUnavailable, notWritten)
		}
	}
	a := b.reply(r, http.StatusOK, struct {
		Left bool `json:"left"`
	}{true}, "/")
	a.Left = true
	return a
}

// notWritten is said when the journal fails.
const notWritten = "Nothing was recorded: the journal cannot be written. Tell your instructor."

// do records an event of a student. What it answers depends on the attempt alone.
func (b *Bench) do(s *seat, r Request, e attempt.Event, done func(news bool) Answer) Answer {
	b.gate.RLock()
	defer b.gate.RUnlock()
	s.mu.Lock()
	defer s.mu.Unlock()
	if b.paused() {
		if news, err := s.attempt.Check(e, s.asks); err == nil && !news {
			return done(false) // it was done before the pause
		}
		return b.refuse(s, r, http.StatusLocked, "The lab is paused: wait for your instructor.", 0)
	}
	news, err := b.record(s, e)
	var refusal *attempt.Refusal
	switch {
	case err == nil:
		return done(news)
	case errors.Is(err, errClosed):
		return b.refuse(s, r, http.StatusLocked, "The lab is closed.", 0)
	case errors.As(err, &refusal):
		status := http.StatusConflict
		switch refusal.Why {
		case attempt.Wrong:
			status = http.StatusBadRequest
		case attempt.NoStep:
			status = http.StatusNotFound
		}
		return b.refuse(s, r, status, sentence(refusal.Text), refusal.Step)
	}
	return b.refuse(s, r, http.StatusServiceUnavailable, notWritten, 0)
}

func (b *Bench) paused() (paused bool) {
	b.mu.Lock()
	defer b.mu.Unlock()
	return b.room.Paused != 0 && !b.room.Closed
}

// sentence makes one of what a refusal says.
func sentence(text string) string {
	if text == "" {
		return ""
	}
	return strings.ToUpper(text[:1]) + text[1:] + "."
}

// refuse says why something is not done, beside what stands in the record. The seat is held.
func (b *Bench) refuse(s *seat, r Request, status int, text string, step int) Answer {
	if !r.JSON {
		return b.pages.problem(status, text, &s.sheet)
	}
	j := refusalJSON{Error: text}
	switch {
	case step > 0:
		recorded := s.step(step)
		j.Recorded = &recorded
	case s.attempt.Conclusion.Made():
		j.Conclusion = &conclusionJSON{s.attempt.Conclusion.Repair, s.attempt.Conclusion.Reason}
	}
	return asJSON(status, j)
}

// trouble is a refusal that knows nothing of any attempt.
func (b *Bench) trouble(s *seat, r Request, status int, text string) Answer {
	if r.JSON {
		return asJSON(status, refusalJSON{Error: text})
	}
	if s == nil {
		return b.pages.problem(status, text, nil)
	}
	return b.pages.problem(status, text, &s.sheet)
}

// reply gives a program its answer and a browser the page to go on with.
func (b *Bench) reply(r Request, status int, value any, next string) Answer {
	if r.JSON {
		return asJSON(status, value)
	}
	return Answer{Status: http.StatusSeeOther, Location: next}
}

func asJSON(status int, value any) Answer {
	body, err := json.Marshal(value)
	if err != nil {
		panic(fmt.Sprintf("web: %T has no JSON: %v", value, err)) // plain values all
	}
	return Answer{Status: status, Type: jsonType, Body: append(body, '\n')}
}
