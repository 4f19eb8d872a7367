// Package recordtest makes records of an invented term for tests. It is no part of the program.
package recordtest

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"nospark/grading"
	"nospark/grading/evidence"
	"nospark/scenarios/term"
)

// Record makes a record from lines like "1001 Ann: ground-integrity+ proof-".
func Record(lab, date, section string, lines ...string) *evidence.Record {
	r := &evidence.Record{Format: evidence.Format, Program: "Automotive Technology", Term: "test-term-1", Lab: lab,
		Title: "Lab " + lab,
		Date:  date, Section: section, Pack: "lamp",
		Version: 1, Reference: 30, Students: []evidence.Entry{}}
	for i, line := range lines {
		who, what, _ := strings.Cut(line, ":")
		id, name, _ := strings.Cut(who, " ")
		e := evidence.Entry{Student: id, Name: name, Sheet: fmt.Sprintf("K%d-BCD", i+2), Status: grading.Graded,
			Worked: true,
			Mark:   50, Fault: "lamp-open", Repair: "replace-lamp",
			Evidence: []evidence.Item{}}
		for _, word := range strings.Fields(what) {
			switch kind, sign := word[:len(word)-1], word[len(word)-1:]; sign {
			case "+", "-":
				e.Evidence = append(e.Evidence, evidence.Item{Competency: kind, Met: sign == "+", Step: 1,
					Test: "volts",
					Why:  "because"})
			default:
				e.Status, e.Worked, e.Evidence = grading.Status(word), word == "provisional", []evidence.Item{}
			}
		}
		r.Students = append(r.Students, e)
	}
	return r
}

// Key is the key of the invented term.
func Key() term.Key { return term.Key{1, 2, 3} }

// Term asks for one fault and one pack, since Record knows no other.
func Term() term.Term {
	return term.Term{ID: "test-term-1", Program: "Automotive Technology", Paper: "letter",
		Mastery: term.Mastery{Met: 4, Of: 5, Faults: 1, Packs: 1, Labs: 3, Signed: true}}
}

// Encoded is the file of a record.
func Encoded(t testing.TB, r *evidence.Record) []byte {
	t.Helper()
	data, err := r.Encode(Key())
	if err != nil {
		t.Fatal(err)
	}
	return data
}

// Find gives the place of an id in a list, -1 if it is not there.
func Find(list []evidence.Competency, id string) int {
	return slices.IndexFunc(list, func(c evidence.Competency) bool { return c.ID == id })
}
