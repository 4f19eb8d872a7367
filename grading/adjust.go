package grading

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"nospark/scenarios/lines"
)

// Adjust is what the instructor decided beside the arithmetic, the content of adjust.toml. Every entry has a reason, which is printed with
// the mark. The zero Adjust changes nothing.
type Adjust struct {
	Accept  []Accept
	Drop    []Drop
	Waive   []Waive
	Excuse  []Excuse
	Mark    []SetMark
	Confirm []Confirm
	Correct []Correct
}

// Accept makes a repair count as right: for one student, for one sheet, wherever the right repair is InsteadOf, or, with none of the
// three, for everybody. It earns as much of the diagnosis as the right repair would have, and takes away the minutes of a wrong one; evidence
// and the other lost minutes stay.
type Accept struct {
	Place     string // "adjust.toml:12"
	Repair    string // id or code
	Student   string
	Sheet     string
	InsteadOf string // id or code
	Reason    string
}

// Drop takes a test out of the lab as if it had not been on offer: by its line on one sheet, or by its id on one sheet or on all.
type Drop struct {
	Place   string
	Line    int // 0: Test is meant
	Test    string
	Student string
	Sheet   string
	Reason  string
}

// Waive takes back checks that a repair owes before it is proven: those that fit all of Repair, Test and Point that are given. It is for one
// student, for one sheet or for everybody.
type Waive struct {
	Place   string
	Repair  string // id or code: the checks of its proof
	Test    string // id: the checks that it would make
	Point   string // number or id: the checks there
	Student string
	Sheet   string
	Reason  string
}

// Excuse keeps a student without a mark, or, with a sheet, leaves one of several vehicles out.
type Excuse struct{ Place, Student, Sheet, Reason string }

// SetMark sets a student's mark, 0 to 100, or, with a sheet, that of one of several vehicles.
type SetMark struct {
	Place, Student, Sheet string
	Value                 float64
	Reason                string
}

// Confirm makes a provisional mark final. Steps that prove nothing go on proving nothing; Correct repairs those.
type Confirm struct{ Place, Student, Sheet, Reason string }

// Correct replaces what a student wrote at a step, counted from 1, by what was meant. Of several vehicles the sheet must be named.
type Correct struct {
	Place, Student, Sheet string
	Step                  int
	To                    string // "214KQ+"
	Reason                string
}

// ReadAdjust reads adjust.toml; file is its name for messages. The error tells everything that is wrong with it, by line. Whether students,
// sheets and tests exist is for Grade to find out.
func ReadAdjust(file string, text []byte) (Adjust, error) {
	values, slip := lines.Decode(string(text))
	if slip != nil {
		return Adjust{}, fmt.Errorf("%s:%d: %w", file, slip.Line, slip)
	}
	r := &adjustReader{file: file}
	place := lines.Of(string(text))
	var a Adjust
	for _, kind := range place.Order {
		items, ok := values[kind].([]map[string]any)
		if !ok && slices.Contains(kinds, kind) {
			r.fail(place.Key(kind).Line, "%s stands alone; write [[%s]], with two brackets, above each entry", kind, kind)
			continue
		}
		if !ok || !slices.Contains(kinds, kind) {
			r.fail(place.Key(kind).Line, "unknown entry %q; write tables such as [[mark]]: %s", kind, strings.Join(kinds, ", "))
			continue
		}
		for i, values := range items {
			at := place.Key(kind).Item(i)
			e := &adjustEntry{r: r, kind: kind, at: at, values: values}
			a.add(e)
			e.finish()
		}
	}
	if len(r.found) > 0 {
		slices.SortStableFunc(r.found, func(a, b finding) int { return a.line - b.line })
		var all []error
		for _, f := range r.found {
			all = append(all, f.err)
		}
		return Adjust{}, errors.Join(all...)
	}
	return a, nil
}

// kinds are the tables of adjust.toml.
var kinds = []string{"accept", "drop", "waive", "excuse", "mark", "confirm", "correct"}

// add reads one entry.
func (a *Adjust) add(e *adjustEntry) {
	place := e.place()
	switch e.kind {
	case "accept":
		v := Accept{place, e.need("repair"), e.text("student"), e.text("sheet"), e.text("instead_of"), e.need("reason")}
		e.atMostOne("student", "sheet", "instead_of")
		a.Accept = append(a.Accept, v)
	case "drop":
		v := Drop{place, e.whole("line", false, 1, 999), e.text("test"), e.text("student"), e.text("sheet"), e.need("reason")}
		e.atMostOne("student", "sheet")
		switch {
		case (v.Line == 0) == (v.Test == ""):
			e.fail("", "[[drop]] needs either line or test")
		case v.Line > 0 && v.Student == "" && v.Sheet == "":
			e.fail("line", "line %d is another test on every sheet; name the sheet or the student, or drop a test", v.Line)
		}
		a.Drop = append(a.Drop, v)
	case "waive":
		v := Waive{place, e.text("repair"), e.text("test"), e.text("point"), e.text("student"), e.text("sheet"), e.need("reason")}
		e.atMostOne("student", "sheet")
		if v.Repair == "" && v.Test == "" && v.Point == "" {
			e.fail("", "[[waive]] needs repair, test or point")
		}
		a.Waive = append(a.Waive, v)
	case "excuse":
		a.Excuse = append(a.Excuse, Excuse{place, e.need("student"), e.text("sheet"), e.need("reason")})
	case "mark":
		a.Mark = append(a.Mark, SetMark{place, e.need("student"), e.text("sheet"), e.number("value", true, 0, 100), e.need("reason")})
	case "confirm":
		a.Confirm = append(a.Confirm, Confirm{place, e.need("student"), e.text("sheet"), e.need("reason")})
	case "correct":
		v := Correct{place, e.need("student"), e.text("sheet"), e.whole("step", true, 1, 200), e.need("to"), e.need("reason")}
		a.Correct = append(a.Correct, v)
	}
}
