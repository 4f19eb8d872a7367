package outcomes

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"nospark/grading"
	"nospark/grading/competency"
	"nospark/grading/evidence"
	"nospark/scenarios/term"
)

// rec makes a record from lines like "1001 Ann: ground-integrity+ proof-".
func rec(lab, date, section string, lines ...string) *evidence.Record {
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

// gather seals records and reads them as files named 0.json, 1.json, ...
func gather(t testing.TB, o competency.Options, records ...*evidence.Record) *competency.Term {
	t.Helper()
	if o.Term.ID == "" {
		o.Term = newTerm()
	}
	key := newKey()
	o.Key = &key
	var files []competency.File
	for i, r := range records {
		if r.Term != o.Term.ID { // seals of a department's records are the subject of other tests
			o.Key = nil
		}
		files = append(files, competency.File{Name: fmt.Sprintf("%02d.json", i), Data: encoded(t, r)})
	}
	return competency.Gather(files, o)
}

// newKey is the key of the invented term.
func newKey() term.Key { return term.Key{1, 2, 3} }

// newTerm asks for one fault and one pack, since rec knows no other.
func newTerm() term.Term {
	return term.Term{ID: "test-term-1", Program: "Automotive Technology", Paper: "letter",
		Mastery: term.Mastery{Met: 4, Of: 5, Faults: 1, Packs: 1, Labs: 3, Signed: true}}
}

// encoded is the file of a record.
func encoded(t testing.TB, r *evidence.Record) []byte {
	t.Helper()
	data, err := r.Encode(newKey())
	if err != nil {
		t.Fatal(err)
	}
	return data
}

// find gives the place of an id in a list, -1 if it is not there.
func find(list []evidence.Competency, id string) int {
	return slices.IndexFunc(list, func(c evidence.Competency) bool { return c.ID == id })
}
