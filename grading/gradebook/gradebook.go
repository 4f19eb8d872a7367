// Package gradebook carries marks out of the program: as a table for people,
// into the export of the instructor's own gradebook, and as a OneRoster
// package.
//
// Three ways, best first. [FillTemplate] takes what the other system exported
// and fills one column. [Package.Zip] makes a OneRoster 1.1 or 1.2 package for
// systems that import those. [CSV] is for people and for everything else.
//
// All of them keep one promise: a student without a mark gets a blank or is
// left out, never a zero.
//
// The package works in memory, decides no mark and does not read class lists;
// those are the business of package roster.
package gradebook

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"math"
	"strconv"
	"unicode/utf8"

	"nospark/scenarios/tabular"
)

// Mark is what one student has earned in one lab.
type Mark struct {
	StudentID string // as in the class list; for a OneRoster package the user's sourcedId
	// finite; written in whole points, half a point up: a standard error of many points makes decimals a pretence
	Value   float64
	Has     bool // false means blank: nothing handed in, excused, or not decided yet
	Late    bool
	Absence Absence // why there is no mark; without meaning where there is one
}

// Absence is a reason for having no mark.
type Absence uint8

// Why a student has no mark. An excuse and a withdrawn mark go into the other system, because a mark that stands there
// would stay for ever; of the others only formats that have a place for it say something.
const (
	Undecided  Absence = iota // a person has to look first
	NotHanded                 // nothing was handed in
	Unfinished                // handed in without a conclusion
	Excused
	Withdrawn // an earlier grading had a mark, this one has none
)

// String gives the words for remarks.
func (a Absence) String() string {
	switch a {
	case NotHanded:
		return "nothing handed in"
	case Unfinished:
		return "incomplete"
	case Excused:
		return "excused"
	case Withdrawn:
		return "taken back, an earlier grading had a mark"
	}
	return "not decided yet"
}

// Row is a [Mark] with what people want to see beside it.
type Row struct {
	Mark
	Name, Section string
	Status        string // a word of ours, such as "provisional"
}

// Remark is something about one line of a template that a person should know.
type Remark struct {
	Line int // from 1; 0 means no line in particular
	Text string
}

func (r Remark) String() string {
	if r.Line == 0 {
		return r.Text
	}
	return fmt.Sprintf("line %d: %s", r.Line, r.Text)
}

// CSV returns the table id, name, section, mark, status in the order of rows,
// with line ends and quotes as in RFC 4180. Ids, names and sections come from
// outside and are passed through [tabular.Neutralize]; marks are numbers.
//
// If any text goes beyond ASCII the table begins with a byte order mark:
// spreadsheets otherwise take it for something else than UTF-8 and spoil the
// names.
//
// The error is about a mark that is not finite.
func CSV(rows []Row) ([]byte, error) {
	table := [][]string{{"id", "name", "section", "mark", "status"}}
	for _, r := range rows {
		mark, err := formatMark(r.Mark)
		if err != nil {
			return nil, err
		}
		table = append(table, []string{
			tabular.Neutralize(r.StudentID), tabular.Neutralize(r.Name), tabular.Neutralize(r.Section), mark, r.Status})
	}
	data := encode(table)
	if bytes.ContainsFunc(data, func(r rune) bool { return r >= utf8.RuneSelf }) {
		data = append([]byte("\ufeff"), data...)
	}
	return data, nil
}

// encode writes a table with CR LF at line ends (RFC 4180, section 2).
func encode(table [][]string) []byte {
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	w.UseCRLF = true
	w.WriteAll(table) // a buffer takes everything
	return b.Bytes()
}

// formatMark writes a mark in whole points, and a missing one as the empty text.
func formatMark(m Mark) (string, error) {
	if !m.Has {
		return "", nil
	}
	if math.IsNaN(m.Value) || math.IsInf(m.Value, 0) {
		return "", fmt.Errorf("mark of student %q is %v, want a finite number", m.StudentID, m.Value)
	}
	return strconv.FormatFloat(math.Round(m.Value)+0, 'f', 0, 64), nil // + 0 makes -0 plain
}
