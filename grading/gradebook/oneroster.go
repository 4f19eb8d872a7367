package gradebook

import (
	"archive/zip"
	"bytes"
	"cmp"
	"crypto/sha256"
	"encoding/binary"
	"encoding/hex"
	"errors"
	"fmt"
	"hash/crc32"
	"math"
	"slices"
	"strconv"
	"time"
)

// Package is the marks of one lab and one class for a system that imports
// OneRoster CSV. It holds changes only: a complete list of results would make
// the receiver delete all others.
//
// SourcedIDs are names of lines in the receiving system. Those of class, school,
// session and students come from its own export. Those of the category, the line
// item and the results are made from TermID, class, lab and student, so that a
// second export of the same lab corrects the first one.
type Package struct {
	Version string // "1.1" or "1.2"
	TermID  string // the same for all labs of a term, different from all other terms

	Lab         string // name of the lab in the term, the same in every export
	Title       string // heading of the column
	Description string // may be empty
	Category    string // what the gradebook files the lab under, such as "Labs"

	ClassSourcedID   string
	SchoolSourcedID  string // version 1.2 only
	SessionSourcedID string // grading period or term

	Assigned, Due time.Time // their dates are used
	Scored        time.Time // its date is used
	Modified      time.Time // of this export; a later one has to be later
	Max           float64   // marks go from 0 to Max

	// One without a value is sent where it says more than that nothing is decided: an excuse, a mark taken back, and in
	// version 1.2 what was not handed in or not finished.
	Marks []Mark
}

// Zip returns the package. It is the same to the last byte for the same content,
// whatever the order of the marks.
//
// The error names everything that is missing or out of range. A mark above Max
// or below 0 is an error, because it contradicts the line item it belongs to.
func (p Package) Zip() ([]byte, error) {
	if err := p.check(); err != nil {
		return nil, err
	}
	results, err := p.results()
	if err != nil {
		return nil, err
	}
	modified := p.Modified.UTC().Format("2006-01-02T15:04:05.000Z")
	category := p.sourcedID("category", p.Category)
	files := []file{
		{"manifest.csv", manifest(p.Version)},
		{"categories.csv", layout{
			columns: categoryColumns[p.Version],
			lines: []map[string]string{{
				"sourcedId": category, "status": "active", "dateLastModified": modified, "title": p.Category}},
		}.table()},
		{"lineItems.csv", layout{
			columns: lineItemColumns[p.Version],
			lines: []map[string]string{{
				"sourcedId": p.lineItemID(), "status": "active", "dateLastModified": modified,
				"title": p.Title, "description": p.Description,
				"assignDate": p.Assigned.Format(time.DateOnly), "dueDate": p.Due.Format(time.DateOnly),
				"classSourcedId": p.ClassSourcedID, "categorySourcedId": category, "schoolSourcedId": p.SchoolSourcedID,
				"academicSessionSourcedId": p.SessionSourcedID, "gradingPeriodSourcedId": p.SessionSourcedID,
				"resultValueMin": "0", "resultValueMax": strconv.FormatFloat(p.Max, 'f', -1, 64)}},
		}.table()},
		{"results.csv", layout{columns: resultColumns[p.Version], lines: results}.table()},
	}
	return pack(files)
}

// check finds all that is missing at once, so that the instructor looks into the
// other system's export only once.
func (p Package) check() error {
	var errs []error
	need := func(ok bool, format string, args ...any) {
		if !ok {
			errs = append(errs, fmt.Errorf("OneRoster package: "+format, args...))
		}
	}
	need(p.Version == "1.1" || p.Version == "1.2", "version %q, want 1.1 or 1.2", p.Version)
	need(p.TermID != "", "no term id")
	need(p.Lab != "", "no name of the lab")
	need(p.Title != "", "no title")
	need(p.Category != "", "no category")
	need(p.ClassSourcedID != "", "no sourcedId of the class; see classes.csv of the system's export")
	need(p.SessionSourcedID != "", "no sourcedId of the grading period; see termSourcedIds in classes.csv of the "+
		"system's export")
	need(p.Version != "1.2" || p.SchoolSourcedID != "", "no sourcedId of the school; see schoolSourcedId in "+
		"classes.csv of the system's export")
	need(!p.Modified.IsZero() && !p.Scored.IsZero() && !p.Assigned.IsZero() && !p.Due.IsZero(), "a date is missing")
	assigned, due := p.Assigned.Format(time.DateOnly), p.Due.Format(time.DateOnly)
	need(due >= assigned, "due %s, before it is assigned %s", due, assigned)
	need(p.Max > 0 && !math.IsInf(p.Max, 1), "highest mark %v, want a number above 0", p.Max)
	return errors.Join(errs...)
}

// results makes one line per mark, sorted by student.
func (p Package) results() ([]map[string]string, error) {
	marks := slices.Clone(p.Marks)
	slices.SortStableFunc(marks, func(a, b Mark) int { return cmp.Compare(a.StudentID, b.StudentID) })
	var errs []error
	var lines []map[string]string
	for i, m := range marks {
		if i > 0 && m.StudentID == marks[i-1].StudentID {
			errs = append(errs, fmt.Errorf("student %q has two marks", m.StudentID))
			continue
		}
		text, err := formatMark(m)
		if m.StudentID == "" {
			err = errors.New("a mark has no student")
		} else if err == nil && m.Has && !(0 <= m.Value && m.Value <= p.Max) {
			err = fmt.Errorf("mark of student %q is %s, want 0 to %v", m.StudentID, text, p.Max)
		}
		if err != nil {
			errs = append(errs, err)
			continue
		}
		if line := p.result(m, text); line != nil {
			lines = append(lines, line)
		}
	}
	return lines, errors.Join(errs...)
}

// result is the line of one mark, nil where there is nothing to say. The score stays empty where there is no mark: a
// zero is something else. Flags of version 1.2 are written whether set or not, so that a second export takes back what
// the first one said.
func (p Package) result(m Mark, score string) map[string]string {
	state, scoreStatus := "active", "fully graded"
	switch {
	case m.Has:
	case m.Absence == Excused:
		scoreStatus = "exempt"
	case m.Absence == Withdrawn:
		state, scoreStatus = "tobedeleted", "not submitted"
	case p.Version == "1.2" && m.Absence == NotHanded:
		scoreStatus = "not submitted"
	case p.Version == "1.2" && m.Absence == Unfinished:
		scoreStatus = "submitted"
	default:
		return nil
	}
	return map[string]string{
		"sourcedId": p.sourcedID("result", p.ClassSourcedID, p.Lab, m.StudentID),
		"status":    state, "dateLastModified": p.Modified.UTC().Format("2006-01-02T15:04:05.000Z"),
		"lineItemSourcedId": p.lineItemID(), "studentSourcedId": m.StudentID,
		"scoreStatus": scoreStatus, "score": score, "scoreDate": p.Scored.Format(time.DateOnly),
		"classSourcedId": p.ClassSourcedID,
		"inProgress":     "false",
		"incomplete":     strconv.FormatBool(!m.Has && m.Absence == Unfinished),
		"late":           strconv.FormatBool(m.Late),
		"missing":        strconv.FormatBool(!m.Has && m.Absence == NotHanded),
	}
}

// lineItemID names the column. The same lab in another class is another column;
// a new title is not.
func (p Package) lineItemID() string {
	return p.sourcedID("line item", p.ClassSourcedID, p.Lab)
}

// sourcedID makes a UUID of version 8 (RFC 9562, section 5.8: bits by a rule of
// one's own) from the SHA-256 of the term and the names, each preceded by its
// length so that no two lists of names read the same.
func (p Package) sourcedID(names ...string) string {
	var b []byte
	for _, name := range append([]string{"nospark OneRoster 1", p.TermID}, names...) {
		b = binary.BigEndian.AppendUint64(b, uint64(len(name)))
		b = append(b, name...)
	}
	sum := sha256.Sum256(b)
	sum[6] = sum[6]&0x0f | 0x80 // version 8
	sum[8] = sum[8]&0x3f | 0x80 // variant of the RFC
	text := hex.EncodeToString(sum[:16])
	return text[:8] + "-" + text[8:12] + "-" + text[12:16] + "-" + text[16:20] + "-" + text[20:]
}

// file is one file of the package. Texts stay as they are: these files are read
// by programs, and an apostrophe in front of a name would end up in the gradebook.
type file struct {
	name  string
	table [][]string
}

// pack stores the files without compression and with a fixed time, so that
// the bytes depend on nothing else. Sizes and checksums stand in front of each
// file: readers of streams cannot take them from behind an uncompressed one.
func pack(files []file) ([]byte, error) {
	var b bytes.Buffer
	w := zip.NewWriter(&b)
	for _, f := range files {
		data := encode(f.table)
		header := &zip.FileHeader{
			Name: f.name, Method: zip.Store,
			CRC32: crc32.ChecksumIEEE(data), CompressedSize64: uint64(len(data)), UncompressedSize64: uint64(len(data)),
		}
		//lint:ignore SA1019 CreateRaw takes the time from these fields alone
		header.SetModTime(time.Date(1980, 1, 1, 0, 0, 0, 0, time.UTC)) // the first that a zip can hold
		entry, err := w.CreateRaw(header)
		if err != nil {
			return nil, err
		}
		if _, err := entry.Write(data); err != nil {
			return nil, err
		}
	}
	if err := w.Close(); err != nil {
		return nil, err
	}
	return b.Bytes(), nil
}
