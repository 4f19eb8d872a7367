// Package submission reads what a class handed in: the entry workbook or CSV files with one row per student. Its job
// is to keep every row that can be kept and to say of every other thing where it is and what to do; it judges
// nothing.
//
// Start at ReadFolder, or at ReadCSV and ReadWorkbook for one file. Which student or sheet a row belongs to, and what
// happens when two rows speak of the same student, is for package grading to decide, because only a lab knows its
// students.
package submission

import "strings"

// Row is what one student handed in, as written.
type Row struct {
	Place    string // "entry.xlsx, row 7"
	Student  string // id
	Name     string // as written; matters only for a spare sheet given to somebody who has no sheet of his own
	Sheet    string // code, when the form has it
	Repair   string // "12HM"
	RepairAt string // its place, "entry.xlsx, D7"
	Steps    []Step
	From     int  // the steps go on from that one of those that the bench recorded; 0: they are all
	Bench    bool // recorded by the bench
	// the student's own file that the row stands in; "" for one of the instructor's, which speaks for all
	File      string
	Reasoning int // instructor's column 0-4; -1 when empty
	Safe      int // 1 yes, 0 no, -1 when empty
}

// Empty reports a row without repair and steps.
func (r Row) Empty() bool { return r.Repair == "" && len(r.Steps) == 0 }

// Step is one entry like 214KQ+.
type Step struct {
	Place   string // "entry.xlsx, F7"
	Text    string // as written
	Line    int    // -1 when Text is no step; it keeps its place in the row, so that the instructor can correct it
	Letters string // upper case
	Judged  string // "+", "-" or ""
	Void    string // why the desk took it back; it counts for nothing and costs nothing
}

// Remark is a thing a person should look at.
type Remark struct{ Place, What, Do string }

// FileAt is the file that a place stands in: "a.csv" of "a.csv, row 7".
func FileAt(place string) string {
	if at := strings.LastIndex(place, ", "); at >= 0 {
		return place[:at]
	}
	return place
}
