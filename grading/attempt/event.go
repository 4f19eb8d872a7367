package attempt

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Kind says what happened.
type Kind string

// What can happen. Those of the first group are a student's, the others the desk's.
const (
	Commit   Kind = "commit"     // a test and what it should read; its reading may be shown from here on
	Judge    Kind = "verdict"    // on the reading of a step
	Conclude Kind = "conclusion" // the repair, once

	Claim   Kind = "claim"   // a device was let in to a sheet
	Leave   Kind = "leave"   // and signed out
	Void    Kind = "void"    // a step, or with Step 0 the conclusion, counts for nothing and costs nothing
	Give    Kind = "give"    // a spare sheet to a student who has none
	Told    Kind = "told"    // the desk read a line out to a student on paper, whose row counts
	Extra   Kind = "extra"   // minutes more for one sheet
	Start   Kind = "start"   // the time begins to run
	Pause   Kind = "pause"   // nobody commits
	Resume  Kind = "resume"  // until here
	Release Kind = "release" // debriefs may be read
	Close   Kind = "close"   // nothing follows but a release
)

// Verdict is what a student says of a reading.
type Verdict string

// The verdicts: not said yet, within the specification, outside it, and said to be neither, like an empty column on
// paper.
const (
	Unsaid  Verdict = ""
	Good    Verdict = "yes"
	Bad     Verdict = "no"
	Neither Verdict = "none"
)

// Event is one thing that happened in a lab. Fields that a kind has no use for are empty.
type Event struct {
	Kind     Kind    `json:"kind"`
	At       int64   `json:"at,omitempty"`    // seconds since 1970; it orders nothing
	Sheet    string  `json:"sheet,omitempty"` // code
	Key      string  `json:"key,omitempty"`   // chosen by the client: the same request again is no second step
	Test     string  `json:"test,omitempty"`  // id
	Expect   string  `json:"expect,omitempty"`
	Step     int     `json:"step,omitempty"` // from 1
	Good     Verdict `json:"good,omitempty"`
	RulesOut string  `json:"rules_out,omitempty"`
	Repair   string  `json:"repair,omitempty"` // code with letters
	Reason   string  `json:"reason,omitempty"`
	Device   int     `json:"device,omitempty"` // from 1 on each sheet
	Student  string  `json:"student,omitempty"`
	Name     string  `json:"name,omitempty"`
	Minutes  int     `json:"minutes,omitempty"`
}

// Bounds of what a student writes, in characters.
const (
	MostExpect   = 40
	MostRulesOut = 200
	MostReason   = 1000
	MostKey      = 64
	// MostSteps is what one attempt can hold: as many as a row of an entry form.
	MostSteps = 200
)

// Tidy makes one line of what somebody typed: no control characters, no space around it.
func Tidy(text string) string {
	text = strings.Map(func(r rune) rune {
		if unicode.IsControl(r) || unicode.Is(unicode.Zl, r) || unicode.Is(unicode.Zp, r) {
			return ' '
		}
		return r
	}, strings.ToValidUTF8(text, "\uFFFD"))
	return strings.TrimSpace(text)
}

// within checks the length of a tidy text.
func within(what, text string, least, most int) error {
	n := utf8.RuneCountInString(text)
	switch {
	case n < least:
		return fmt.Errorf("%s is missing", what)
	case n > most:
		return fmt.Errorf("%s has %d characters, the most are %d", what, n, most)
	}
	return nil
}

// sound checks what a student wrote.
func (e Event) sound() error {
	switch e.Kind {
	case Commit:
		if err := within("the key", e.Key, 1, MostKey); err != nil {
			return err
		}
		if err := within("the test", e.Test, 1, MostKey); err != nil {
			return err
		}
		return within("the expected reading", e.Expect, 1, MostExpect)
	case Judge:
		if e.Good != Good && e.Good != Bad && e.Good != Neither {
			return fmt.Errorf("the verdict is %q; want yes, no or none", clip(string(e.Good)))
		}
		return within("what it rules out", e.RulesOut, 0, MostRulesOut)
	case Conclude:
		if err := within("the key", e.Key, 1, MostKey); err != nil {
			return err
		}
		if err := within("the repair", e.Repair, 1, MostKey); err != nil {
			return err
		}
		return within("the reason", e.Reason, 0, MostReason)
	}
	return nil
}

// clip shortens what a message quotes.
func clip(text string) string {
	if runes := []rune(text); len(runes) > MostExpect {
		return string(runes[:MostExpect]) + "…"
	}
	return text
}
