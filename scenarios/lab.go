// Package scenarios turns a plan, a roster, a pack and the term's key into a lab: one sheet per student with a hidden fault of known
// difficulty, every reading of it, and the matrix that grades it.
//
// Start at Load, which gathers what a plan needs, and at Build, which makes the lab or adds sheets to it. Circuits are computed in
// package bench and marks given in package grading, not here.
//
// A Lab is frozen when it is built. It holds all that printing and grading need, so both work from it alone years later; nothing
// outside this package and its children simulates. Handout (handout.go) is the part of a lab that students may see: its types have no
// room for a fault.
package scenarios

// LabFormat is the version of lab.json that this program writes. It refuses a higher one by name.
const LabFormat = 2

// Lab is one built lab, the content of lab.json.
type Lab struct {
	Format     int          `json:"format"`
	Term       string       `json:"term"` // random id of the term, no secret
	Program    string       `json:"program"`
	Name       string       `json:"name"` // also the folder's name
	Title      string       `json:"title"`
	Date       string       `json:"date"`  // of the lab, as in the plan: 2026-10-05
	Paper      string       `json:"paper"` // "letter" or "a4"
	Rows       int          `json:"rows"`  // lines of the record table
	Pack       PackRef      `json:"pack"`
	Points     []Point      `json:"points"`
	Columns    []Column     `json:"columns"`
	Tests      []Test       `json:"tests"`
	Repairs    []Repair     `json:"repairs"`
	Complaints []Complaint  `json:"complaints"`
	Faults     []Fault      `json:"faults"`
	Hypotheses []Hypothesis `json:"hypotheses"`
	Rubric     Rubric       `json:"rubric"`
	Technique  Technique    `json:"technique"`
	Window     [2]int64     `json:"window"`          // asked difficulty, tenths of a minute
	Scope      bool         `json:"scope,omitempty"` // the partner has oscilloscope pictures
	Sheets     []Sheet      `json:"sheets"`
	Seal       string       `json:"seal"` // keyed, over everything above
}

// PackRef names the pack and keeps its whole text, so that a later build of the same lab prints the same reference pages even when
// the pack file has moved on.
type PackRef struct {
	Name    string `json:"name"`
	Title   string `json:"title"`
	Version int    `json:"version"`
	Source  string `json:"source"`
}

// Point is a row of the grid.
type Point struct {
	Number int    `json:"number"` // printed on the diagram, from 1
	ID     string `json:"id"`
	Label  string `json:"label"`
	Role   string `json:"role"`
	Access int64  `json:"access"` // tenths of a minute
}

// Column is a column of the grid: a sweep in one condition.
type Column struct {
	Sweep      string `json:"sweep"`
	Label      string `json:"label"`      // "volts to battery -"
	Instrument string `json:"instrument"` // id
	Condition  string `json:"condition"`  // label
	Minutes    int64  `json:"minutes"`    // tenths, before access
}

// Test is a test the plan allows. Its index is the test's name everywhere in a lab.
type Test struct {
	ID         string   `json:"id"`
	Label      string   `json:"label"`
	Instrument string   `json:"instrument"` // id
	Condition  string   `json:"condition"`  // label
	Minutes    int64    `json:"minutes"`    // tenths, access included
	Column     int      `json:"column"`     // index into Columns, -1 for a test outside the grid
	Point      int      `json:"point"`      // index into Points, -1 for none
	Group      string   `json:"group"`      // heading of its small table outside the grid
	Part       string   `json:"part"`       // id of the part it examines, "" for none
	Compare    int      `json:"compare"`    // test whose reading is printed beside and banded against, -1 for none
	Spec       string   `json:"spec"`       // what a good reading is, in the words of the class reference
	Bands      []Band   `json:"bands"`
	Competency string   `json:"competency"`
	Unplugged  []string `json:"unplugged"` // labels of the parts taken off
}

// Band is a class of readings of a test.
type Band struct {
	Name   string `json:"name"`
	Normal bool   `json:"normal"`
	Silent bool   `json:"silent"` // no verdict asked
}

// Repair is a possible conclusion. Code and letters are what a student writes: 12HM.
type Repair struct {
	ID      string `json:"id"`
	Label   string `json:"label"`
	Code    string `json:"code"`    // two digits
	Letters string `json:"letters"` // two letters, a typing check
	Minutes int64  `json:"minutes"` // tenths
	Rarity  string `json:"rarity"`  // common, occasional or rare
}

// Complaint is what a customer reports.
type Complaint struct {
	ID    string `json:"id"`
	Label string `json:"label"`
}

// Fault is one fault of the pack; the vehicle with nothing wrong is the fault with id NothingWrong.
type Fault struct {
	ID     string   `json:"id"`
	Label  string   `json:"label"`
	Note   string   `json:"note"` // how it shows
	Repair int      `json:"repair"`
	Parts  []string `json:"parts"` // ids of the parts it changes
}

// NothingWrong is the id of the healthy vehicle among the faults.
const NothingWrong = "nothing-wrong"

// Hypothesis is a row of the matrix: one distinct set of bands that a fault gives over its severities.
type Hypothesis struct {
	Fault     int    `json:"fault"`
	Complaint int    `json:"complaint"` // -1: none, or every complaint for the vehicle with nothing wrong
	Weight    int64  `json:"weight"`
	Bands     string `json:"bands"` // one character per test, '0' + index into its Bands
}

// Band gives the band of test t in this row.
func (h Hypothesis) Band(t int) uint8 { return h.Bands[t] - '0' }

// Rubric holds the weights of the mark; the first four and the last two sum to 100.
type Rubric struct {
	Evidence       int `json:"evidence" toml:"evidence"`
	Diagnosis      int `json:"diagnosis" toml:"diagnosis"`
	Efficiency     int `json:"efficiency" toml:"efficiency"`
	Interpretation int `json:"interpretation" toml:"interpretation"`
	Reasoning      int `json:"reasoning" toml:"reasoning"` // the instructor's column, 0-4
	Safety         int `json:"safety" toml:"safety"`       // the instructor's column, yes or no
}

// Technique is what the plan forbids or asks for, remarked in the debrief.
type Technique struct {
	Forbid []string `json:"forbid"` // ids of instruments that the worksheet offers but the plan forbids to use
}

// Sheet is one student's copy of a lab. A spare has no student until the entry names one.
type Sheet struct {
	Code       string  `json:"code"` // printed instead of the name
	Student    string  `json:"student"`
	Name       string  `json:"name"`
	Family     string  `json:"family,omitempty"` // family name where the class list has one
	Section    string  `json:"section"`
	LargePrint bool    `json:"large_print"`
	Holder     string  `json:"holder,omitempty"` // code of the sheet whose student holds this one's readings; "": the instructor
	Complaint  int     `json:"complaint"`
	Truth      int     `json:"truth"` // index into Hypotheses
	Severity   float64 `json:"severity"`
	Minutes    int64   `json:"minutes"` // difficulty: minutes of best play to this fault, tenths
	Lines      []Line  `json:"lines"`   // aligned with Tests
	Traces     []Trace `json:"traces,omitempty"`
}

// Line is one reading of a sheet.
type Line struct {
	Number  int    `json:"n"` // three digits, under which it is looked up
	Letters string `json:"l"` // check letters
	Reading string `json:"r"` // as the instrument shows it, unit included
	Beside  string `json:"b"` // the compared reading, printed on the same line; "" for none
	Band    uint8  `json:"k"`
}
