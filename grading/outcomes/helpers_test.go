package outcomes

import (
	"fmt"
	"testing"

	"nospark/grading/competency"
	"nospark/grading/evidence"
	"nospark/grading/evidence/recordtest"
)

// What the tests of this package call by short names.
var (
	rec     = recordtest.Record
	newKey  = recordtest.Key
	newTerm = recordtest.Term
	encoded = recordtest.Encoded
	find    = recordtest.Find
)

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
