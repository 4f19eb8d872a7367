// Package adjust reads what an instructor decides beside the arithmetic of a mark.
package adjust

import (
	"fmt"
	"strings"

	"nospark/scenarios/strict"
)

// Decisions are what the instructor decided beside the arithmetic, the content of adjust.toml. Every entry has a
// reason, which is printed with the mark. The zero value changes nothing.
type Decisions struct {
	Accept  []Accept
	Drop    []Drop
	Waive   []Waive
	Excuse  []Excuse
	Mark    []SetMark
	Confirm []Confirm
	Correct []Correct
	Trust   []Trust
	Choose  []Choose
	Worked  []Worked
	Misread []Misread
	Late    []Late
}

// Accept makes a repair count as right: for one student, for one sheet, wherever the right repair is InsteadOf, or,
// with none of the three, for everybody. It earns as much of the diagnosis as the right repair would have, and takes
// away the minutes of a wrong one; evidence and the other lost minutes stay.
type Accept struct {
	Place     string // "adjust.toml:12"
	Repair    string // id or code
	Student   string
	Sheet     string
	InsteadOf string // id or code
	Reason    string
}

// Drop takes a test out of the lab as if it had not been on offer: by its line on one sheet, or by its id on one
// sheet or on all.
type Drop struct {
	Place   string
	Line    int // 0: Test is meant
	Test    string
	Student string
	Sheet   string
	Reason  string
}

// Waive takes back checks that a repair owes before it is proven: those that fit all of Repair, Test and Point that are
// given. It is for one student, for one sheet or for everybody.
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

// Correct replaces what a student wrote at a step, counted from 1, by what was meant. Of several vehicles the sheet
// must be named.
type Correct struct {
	Place, Student, Sheet string
	Step                  int
	To                    string // "214KQ+"
	Reason                string
}

// Trust lets a file speak for all students, like the instructor's own form.
type Trust struct{ Place, File, Reason string }

// Choose says which of several different rows of a student counts, by its place: "late.csv, row 2".
type Choose struct{ Place, Student, Sheet, Row, Reason string }

// Worked says which sheet a student worked on, when it is not the one that was meant for the student. Of several
// vehicles InsteadOf names the own sheet that was left unused.
type Worked struct{ Place, Student, Sheet, InsteadOf, Reason string }

// Misread says that the partner read a wrong line out at a step, counted from 1: the step counts for nothing and costs
// nothing.
type Misread struct {
	Place, Student, Sheet string
	Step                  int
	Reason                string
}

// Late says that a student handed in late. The mark stays as it is; another system's gradebook is told.
type Late struct{ Place, Student, Reason string }

// Read reads adjust.toml; file is its name for messages. The error tells everything that is wrong with it, by
// line. Whether students, sheets and tests exist is for Grade to find out.
func Read(file string, text []byte) (Decisions, error) {
	top, err := strict.Read(file, text)
	if err != nil {
		return Decisions{}, err
	}
	var a Decisions
	each(top, "accept", func(t *strict.Table, place string) {
		v := Accept{
			Place: place, Repair: t.ID("repair"), Student: t.IDOr("student", ""), Sheet: t.IDOr("sheet", ""),
			InsteadOf: t.IDOr("instead_of", ""), Reason: t.Text("reason"),
		}
		atMostOne(t, "student", "sheet", "instead_of")
		a.Accept = append(a.Accept, v)
	})
	each(top, "drop", func(t *strict.Table, place string) { a.Drop = append(a.Drop, readDrop(t, place)) })
	each(top, "waive", func(t *strict.Table, place string) { a.Waive = append(a.Waive, readWaive(t, place)) })
	each(top, "excuse", func(t *strict.Table, place string) {
		a.Excuse = append(a.Excuse, Excuse{place, t.ID("student"), t.IDOr("sheet", ""), t.Text("reason")})
	})
	each(top, "mark", func(t *strict.Table, place string) {
		a.Mark = append(a.Mark,
			SetMark{place, t.ID("student"), t.IDOr("sheet", ""), t.Number("value", "", 0, 100), t.Text("reason")})
	})
	each(top, "confirm", func(t *strict.Table, place string) {
		a.Confirm = append(a.Confirm, Confirm{place, t.ID("student"), t.IDOr("sheet", ""), t.Text("reason")})
	})
	each(top, "correct", func(t *strict.Table, place string) {
		a.Correct = append(a.Correct,
			Correct{place, t.ID("student"), t.IDOr("sheet", ""), int(t.Whole("step", 1, 200)), t.Text("to"),
				t.Text("reason")})
	})
	each(top, "trust", func(t *strict.Table, place string) {
		a.Trust = append(a.Trust, Trust{place, t.Text("file"), t.Text("reason")})
	})
	each(top, "choose", func(t *strict.Table, place string) {
		a.Choose = append(a.Choose,
			Choose{place, t.ID("student"), t.IDOr("sheet", ""), t.Text("row"), t.Text("reason")})
	})
	each(top, "worked", func(t *strict.Table, place string) {
		a.Worked = append(a.Worked,
			Worked{place, t.ID("student"), t.ID("sheet"), t.IDOr("instead_of", ""), t.Text("reason")})
	})
	each(top, "misread", func(t *strict.Table, place string) {
		a.Misread = append(a.Misread,
			Misread{place, t.ID("student"), t.IDOr("sheet", ""), int(t.Whole("step", 1, 200)), t.Text("reason")})
	})
	each(top, "late", func(t *strict.Table, place string) {
		a.Late = append(a.Late, Late{place, t.ID("student"), t.Text("reason")})
	})
	top.Finish()
	if err := top.Found.Err(); err != nil {
		return Decisions{}, err
	}
	return a, nil
}

// each reads the entries of one kind. place is where an entry begins; messages about what it names are given it.
func each(top *strict.Table, kind string, read func(t *strict.Table, place string)) {
	for _, t := range top.Tables(kind) {
		read(t, fmt.Sprintf("%s:%d", t.Found.File, t.Line("")))
		t.Finish()
	}
}

func readDrop(t *strict.Table, place string) Drop {
	v := Drop{
		Place: place, Line: int(t.WholeOr("line", 1, 999, 0)), Test: t.IDOr("test", ""),
		Student: t.IDOr("student", ""), Sheet: t.IDOr("sheet", ""), Reason: t.Text("reason"),
	}
	atMostOne(t, "student", "sheet")
	switch {
	case t.Has("line") == t.Has("test"):
		t.Fail("", "", "want either line or test")
	case v.Line > 0 && v.Student == "" && v.Sheet == "":
		t.Fail("line", "name the sheet or the student, or drop a test", "line %d is another test on every sheet",
			v.Line)
	}
	return v
}

func readWaive(t *strict.Table, place string) Waive {
	v := Waive{
		Place: place, Repair: t.IDOr("repair", ""), Test: t.IDOr("test", ""), Point: t.IDOr("point", ""),
		Student: t.IDOr("student", ""), Sheet: t.IDOr("sheet", ""), Reason: t.Text("reason"),
	}
	atMostOne(t, "student", "sheet")
	if v.Repair == "" && v.Test == "" && v.Point == "" {
		t.Fail("", "", "want repair, test or point")
	}
	return v
}

// atMostOne refuses keys that would say two different things at once.
func atMostOne(t *strict.Table, keys ...string) {
	var given []string
	for _, key := range keys {
		if t.Has(key) {
			given = append(given, key)
		}
	}
	if len(given) > 1 {
		t.Fail(given[1], "keep one of them", "%s are given at once", strings.Join(given, " and "))
	}
}
