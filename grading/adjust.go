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
	Excuse  []Excuse
	Mark    []Mark
	Confirm []Confirm
	Correct []Correct
	Trust   []Trust
	Choose  []Choose
	Worked  []Worked
	Misread []Misread
}

// Accept makes a repair count as right: for one student, for one sheet, wherever the right repair is InsteadOf, or, with none of the
// three, for everybody. It gives the diagnosis part and takes away the minutes of a wrong repair; evidence and lost minutes stay.
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

// Excuse keeps a student without a mark.
type Excuse struct{ Place, Student, Reason string }

// Mark sets a student's mark, 0 to 100.
type Mark struct {
	Place, Student string
	Value          float64
	Reason         string
}

// Confirm makes a provisional mark final. Steps that prove nothing go on proving nothing; Correct repairs those.
type Confirm struct{ Place, Student, Reason string }

// Correct replaces what a student wrote at a step, counted from 1, by what was meant.
type Correct struct {
	Place, Student string
	Step           int
	To             string // "214KQ+"
	Reason         string
}

// Trust lets a file speak for all students, like the instructor's own form.
type Trust struct{ Place, File, Reason string }

// Choose says which of several different rows of a student counts, by its place: "late.csv, row 2".
type Choose struct{ Place, Student, Row, Reason string }

// Worked says which sheet a student worked on, when it is not the one that was meant for the student.
type Worked struct{ Place, Student, Sheet, Reason string }

// Misread says that the partner read a wrong line out at a step, counted from 1: the step counts for nothing and costs nothing.
type Misread struct {
	Place, Student string
	Step           int
	Reason         string
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
var kinds = []string{"accept", "drop", "excuse", "mark", "confirm", "correct", "trust", "choose", "worked", "misread"}

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
	case "excuse":
		a.Excuse = append(a.Excuse, Excuse{place, e.need("student"), e.need("reason")})
	case "mark":
		a.Mark = append(a.Mark, Mark{place, e.need("student"), e.number("value", true, 0, 100), e.need("reason")})
	case "confirm":
		a.Confirm = append(a.Confirm, Confirm{place, e.need("student"), e.need("reason")})
	case "correct":
		v := Correct{place, e.need("student"), e.whole("step", true, 1, 200), e.need("to"), e.need("reason")}
		a.Correct = append(a.Correct, v)
	case "trust":
		a.Trust = append(a.Trust, Trust{place, e.need("file"), e.need("reason")})
	case "choose":
		a.Choose = append(a.Choose, Choose{place, e.need("student"), e.need("row"), e.need("reason")})
	case "misread":
		a.Misread = append(a.Misread, Misread{place, e.need("student"), e.whole("step", true, 1, 200), e.need("reason")})
	case "worked":
		a.Worked = append(a.Worked, Worked{place, e.need("student"), e.need("sheet"), e.need("reason")})
	}
}
