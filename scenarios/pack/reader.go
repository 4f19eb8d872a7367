package pack

import (
	"fmt"

	"nospark/scenarios/strict"
)

// MaxBytes is the greatest size of a pack, as of every file that people write.
const MaxBytes = strict.MaxBytes

// Greatest numbers. Repair codes have two digits and line numbers three, so that more repairs or tests could not be
// told apart on paper.
const (
	MaxNodes      = 200
	MaxConditions = 16
	MaxParts      = 300
	MaxTests      = 900
	MaxBands      = 12
	MaxFaults     = 200
	MaxRepairs    = 90
)

// reader holds what is read so far. The names give the ids of what the file declares, in the order of the pack's
// slices.
type reader struct {
	found *strict.Findings
	pack  *Pack

	nodes, conditions, parts, faults, repairs, complaints, sweeps, tests names

	proofs   []awaited
	declared map[string]bool // "part.parameter" given in the file
	full     bool            // the limit of tests was reached and reported
}

func newReader(found *strict.Findings) *reader {
	return &reader{
		found: found, pack: &Pack{}, declared: map[string]bool{},
		nodes: names{what: "point"}, conditions: names{what: "condition"}, parts: names{what: "part"},
		faults:  names{what: "fault"},
		repairs: names{what: "repair"}, complaints: names{what: "complaint"}, sweeps: names{what: "sweep"},
		tests: names{what: "test"},
	}
}

// list reads an array of tables within its limits. least is 1 where a pack makes no sense without any.
func (r *reader) list(top *strict.Table, key string, least, most int) []*strict.Table {
	list := top.Tables(key)
	switch {
	case len(list) < least && !top.Has(key):
		top.Fail(key, fmt.Sprintf("add one [[%s]]", key), "there is no %s", key)
	case len(list) > most:
		r.found.Fail(list[most].Line(""), "", "%s: there are %d, at most %d are allowed", key, len(list), most)
		return list[:most]
	}
	return list
}

// awaited is a repair's proof, which waits until all tests are known.
type awaited struct {
	repair int
	tables []*strict.Table
}
