package lab

// Format is the version of lab.json that this program writes. It refuses a higher one by name. Since 2 a lab says who
// holds whose readings, since 3 how each sheet begins and which checks a repair needs, since 4 the codes of repairs are
// those of the term and the lab keeps what its booklet says; older labs are graded and printed by the rule they were
// built with.
const Format = 4

// FirstWithBooklet is the first format in which repairs have the same codes in every lab of a term with the same pack.
const FirstWithBooklet = 4

// FirstWithCases is the first format in which sheets begin with a case.
const FirstWithCases = 3

// MaxLines is the most lines of a sheet: their numbers have three digits and none begins with 0.
const MaxLines = 900

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
	Checks     []Check      `json:"checks,omitempty"`
	Booklet    *Booklet     `json:"booklet,omitempty"`  // nil before format 4
	Cases      []Case       `json:"cases,omitempty"`    // all in which a sheet may begin, used or not
	Vehicles   int          `json:"vehicles,omitempty"` // sheets a student; 0 and 1 mean one
	Period     int          `json:"period,omitempty"`   // minutes of the lesson; 0 means [UsualPeriod]
	// the list of repairs is taken to be complete: no repair needs checks
	Closed bool  `json:"closed,omitempty"`
	Lacks  Lacks `json:"lacks,omitzero"` // dangers that the vehicle does not have
	// what good temperature sensors give; none in labs that were built before it was told
	Sensors   []SensorTable `json:"sensors,omitempty"`
	Rubric    Rubric        `json:"rubric"`
	Technique Technique     `json:"technique"`
	Window    [2]int64      `json:"window"`          // asked difficulty, tenths of a minute
	Scope     bool          `json:"scope,omitempty"` // the partner has oscilloscope pictures
	Sheets    []Sheet       `json:"sheets"`
	Seal      string        `json:"seal"` // keyed, over everything above
}

// Lacks tells which dangers of an ignition system a vehicle does not have, so that its sheets need not warn of them.
// The zero value, that of every lab built before there was a choice, warns of all.
type Lacks struct {
	Secondary bool `json:"secondary,omitempty"` // no secondary voltage
	Engine    bool `json:"engine,omitempty"`    // no engine that turns, and no fuel
}

// UsualPeriod is how long a lesson takes, in minutes, where the plan does not say.
const UsualPeriod = 50

// PackRef names the pack and keeps its whole text, so that a later build of the same lab prints the same reference
// pages even when the pack file has moved on.
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
	Label      string `json:"label"`      // "volts to battery negative"
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
	Spec       string   `json:"spec"`       // what a good reading is, in the words of the booklet
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
	// indexes into Lab.Checks: what must have been looked at before its repair is proven
	Checks []int `json:"checks,omitempty"`
}

// Band gives the band of test t in this row.
func (h Hypothesis) Band(t int) uint8 { return h.Bands[t] - '0' }

// Check is something about a part that must have been looked at before its repair may be sold.
type Check struct {
	// "feed", "ground", "reference voltage", "input", "output", "own test", "end", "path" or "result"
	What  string `json:"what"`
	Part  string `json:"part"`  // id of the part
	Label string `json:"label"` // of the part
	Point int    `json:"point"` // index into Points, -1 where no lead reaches
	// indexes into Tests, ascending: any one of them makes the check; none: it cannot be made in this lab
	Tests []int `json:"tests"`
	Under []int `json:"under,omitempty"` // indexes into Complaints under which alone it is owed; none: under all
}

// Booklet is what is the same in every lab of a pack: which checks each repair needs under any complaint, with all
// tests of the pack.
type Booklet struct {
	Checks []Check `json:"checks"` // without their tests
	Proofs [][]int `json:"proofs"` // of each repair, indexes into Checks
	Never  []int   `json:"never"`  // indexes into Checks of those for which the pack has no test
}

// Case is how a sheet begins: a complaint and what somebody has measured already.
type Case struct {
	Complaint int     `json:"complaint"`
	Known     []Known `json:"known"`
	Reference float64 `json:"reference"` // V: expected minutes of best play from here, tenths
}

// Known is a reading that is given, as its band.
type Known struct {
	Test int   `json:"test"`
	Band uint8 `json:"band"`
}

// Rubric holds the weights of the mark; the first four and the last two sum to 100.
type Rubric struct {
	Evidence       int `json:"evidence" toml:"evidence"`
	Diagnosis      int `json:"diagnosis" toml:"diagnosis"`
	Efficiency     int `json:"efficiency" toml:"efficiency"`
	Interpretation int `json:"interpretation" toml:"interpretation"`
	Reasoning      int `json:"reasoning" toml:"reasoning"` // the instructor's column, 0-4
	Safety         int `json:"safety" toml:"safety"`       // the instructor's column, yes or no
}

// Sum is what all weights add up to, 100 in a sound rubric.
func (r Rubric) Sum() int {
	return r.Evidence + r.Diagnosis + r.Efficiency + r.Interpretation + r.Reasoning + r.Safety
}

// Technique is what the plan forbids or asks for, remarked in the debrief.
type Technique struct {
	Forbid []string `json:"forbid"` // ids of instruments that the worksheet offers but the plan forbids to use
}

// Sheet is one student's copy of a lab. A spare has no student until the entry names one.
type Sheet struct {
	Code       string `json:"code"` // printed instead of the name
	Student    string `json:"student"`
	Name       string `json:"name"`
	Family     string `json:"family,omitempty"` // family name where the class list has one
	Section    string `json:"section"`
	LargePrint bool   `json:"large_print"`
	// code of the sheet whose student holds this one's readings; "": the instructor
	Holder    string  `json:"holder,omitempty"`
	Complaint int     `json:"complaint"`
	Case      int     `json:"case,omitempty"`    // index into Cases
	Mileage   int     `json:"mileage,omitempty"` // as the work order has it
	Vehicle   int     `json:"vehicle,omitempty"` // of the student's vehicles, from 1; 0 where there is but one
	Truth     int     `json:"truth"`             // index into Hypotheses
	Severity  float64 `json:"severity"`
	Minutes   int64   `json:"minutes"` // difficulty: minutes of best play to this fault, tenths
	Lines     []Line  `json:"lines"`   // aligned with Tests
	Traces    []Trace `json:"traces,omitempty"`
}

// Line is one reading of a sheet.
type Line struct {
	Number  int    `json:"n"` // three digits, under which it is looked up
	Letters string `json:"l"` // check letters
	Reading string `json:"r"` // as the instrument shows it, unit included
	Beside  string `json:"b"` // the compared reading, printed on the same line; "" for none
	Band    uint8  `json:"k"`
}
