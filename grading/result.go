// Package grading compares what students handed in with best play: a frozen lab and submissions go in, a Result comes
// out. It never simulates and never prints; printouts renders a Result, package evidence makes of it the record that a
// term keeps.
//
// Start at Grade. The arithmetic is explained beside each field here, so that every mark can be recomputed by hand.
package grading

import (
	"encoding/json"

	"nospark/grading/bestplay"
	"nospark/scenarios/lab"
)

// Status says how far a mark can be trusted.
type Status string

// The states of a student's mark.
const (
	Graded      Status = "graded"
	Provisional Status = "provisional" // a step's letters do not fit; the instructor confirms or corrects
	// no mark yet: no conclusion, different rows, or one of several vehicles is missing
	Incomplete Status = "incomplete"
	Blank      Status = "blank"   // nothing handed in: no mark, never zero
	Excused    Status = "excused" // by adjust.toml
)

// HasMark tells whether there is a mark.
func (s Status) HasMark() bool { return s == Graded || s == Provisional }

// Result is the grading of one lab.
type Result struct {
	Lab       string `json:"lab"`
	Title     string `json:"title"`
	Date      string `json:"date"`
	Reference int64  `json:"reference"` // mean minutes of best play over the sheets, tenths
	// in the order of the lab's sheets; a student with several vehicles has one for each
	Students []StudentResult `json:"students"`
	Marks    []StudentMark   `json:"marks"`    // one for each student
	Problems []Problem       `json:"problems"` // rows to look at; never a reason to stop
	Alike    []Alike         `json:"alike"`    // pairs of sheets to look at
	Spread   bestplay.Spread `json:"spread"`
}

// Problem is one thing in what was handed in that a person should look at.
type Problem struct {
	Place string `json:"place"` // "entry.xlsx, row 7, step 3"
	What  string `json:"what"`
	Do    string `json:"do"`
}

// Alike is a pair of sheets with improbable shared errors.
type Alike struct {
	Sheets [2]string `json:"sheets"`
	Why    string    `json:"why"`
}

// StudentMark is the one mark of a student in this lab: the mean over all vehicles that count.
type StudentMark struct {
	Student string  `json:"student"`
	Name    string  `json:"name"`
	Section string  `json:"section"`
	Status  Status  `json:"status"`
	Why     string  `json:"why"`
	Mark    float64 `json:"mark"`    // 0..100; meaningless without HasMark, and then null in JSON
	Low     float64 `json:"low"`     // lowest mark of a vehicle that counts
	High    float64 `json:"high"`    // and the highest
	Results []int   `json:"results"` // indexes into Result.Students
	Late    bool    `json:"late"`    // handed in late, by adjust.toml; the mark does not depend on it
}

// MarshalJSON writes null for a mark that there is none of.
func (m StudentMark) MarshalJSON() ([]byte, error) {
	type plain StudentMark // without this method
	if m.Status.HasMark() {
		return json.Marshal(plain(m))
	}
	return json.Marshal(struct {
		plain
		Mark *float64 `json:"mark"`
	}{plain: plain(m)})
}

// StudentResult is one student's marks on one sheet and the steps behind them.
type StudentResult struct {
	Sheet   string    `json:"sheet"`
	Student string    `json:"student"`
	Name    string    `json:"name"`
	Section string    `json:"section"`
	Index   int       `json:"index"` // into the lab's Sheets
	Status  Status    `json:"status"`
	Why     string    `json:"why"`    // of a status other than graded, or what the instructor adjusted
	Repair  int       `json:"repair"` // concluded, index into the lab's Repairs; -1 for none
	Wrote   string    `json:"wrote"`  // the code of the repair as handed in, "" for none; it may be on no list
	Right   bool      `json:"right"`  // the right repair or one no allowed test can separate from it
	Steps   []Step    `json:"steps"`
	Vehicle int       `json:"vehicle"` // which of the student's vehicles, from 1; 0 where each has but one
	Parts   lab.Parts `json:"parts"`
	Mark    float64   `json:"mark"` // 0..100; meaningless without HasMark, and then null in JSON
	Set     bool      `json:"set"`  // the mark was set in adjust.toml

	Minutes   int64   `json:"minutes"`    // spent on steps, tenths
	Best      int64   `json:"best"`       // minutes of best play to this fault, tenths
	LostSteps float64 `json:"lost_steps"` // sum of Step.Lost
	LostEarly float64 `json:"lost_early"` // V(S_end) when the conclusion was not yet proven
	LostWrong float64 `json:"lost_wrong"` // minutes of a wrong repair
	// sum of the three, tenths of a minute, rounded to a hundredth of a minute as it is printed
	Lost float64 `json:"lost"`
	// prior weight of the suspects with another repair that the readings ruled out
	RuledOut int64   `json:"ruled_out"`
	Others   int64   `json:"others"`   // prior weight of all of those
	Evidence float64 `json:"evidence"` // e, 0..1: RuledOut / Others
	// tenths that best play takes on average from this sheet's start; before labs had cases, that of the lab
	Reference int64     `json:"reference"`
	Suspects  []Suspect `json:"suspects"` // from which e and c follow; none without a mark
	Left      []int     `json:"left"`     // hypotheses still standing at the end
	Owed      []int     `json:"owed"`     // checks that their repairs still owe
	Share     float64   `json:"share"`    // c, 0..1: WeightRight / WeightLeft
	// prior weight, at the end, of the suspects whose repair counts as right
	RightWeight int64 `json:"right_weight"`
	// of those that need the concluded repair, if it is wrong; 0: the readings exclude it
	WrongWeight int64 `json:"wrong_weight"`
	// of all suspects and of all causes not on the list that an owed check stands for
	LeftWeight int64               `json:"left_weight"`
	Path       []bestplay.PathStep `json:"path"` // best play from the start to this fault
	// steps that best play to this fault would still have had to make at the end; 0 once proven
	Missing   int      `json:"missing"`
	Reasoning int      `json:"reasoning"` // instructor's column 0-4, -1 when empty
	Safe      int      `json:"safe"`      // 1 yes, 0 no, -1 when empty
	Practice  string   `json:"practise"`  // one thing to practice next
	Remarks   []string `json:"remarks"`
}

// MarshalJSON writes null for a mark that there is none of: a missing sheet is blank, never zero.
func (s StudentResult) MarshalJSON() ([]byte, error) {
	type plain StudentResult // without this method
	if s.Status.HasMark() {
		return json.Marshal(plain(s))
	}
	return json.Marshal(struct {
		plain
		Mark *float64 `json:"mark"`
	}{plain: plain(s)})
}

// Suspect is a row that the work order left possible, with what e and c are made of. Its checks are those that a
// repair would have to be proven by; each stands for a cause that is not on the list. Over the suspects of a sheet
//
//	e  of the weight that counts (the Weight of those not Right, the ChecksWeight of all) the share that was ruled out
//	c  of what is left (Weight of those Left, LeftChecksWeight of all) the share of those that are Right
type Suspect struct {
	Row              int   `json:"row"`           // index into the lab's Hypotheses
	Right            bool  `json:"right"`         // its repair counts as right, so it is none of the others
	Weight           int64 `json:"weight"`        // how common it is
	Checks           int   `json:"checks"`        // owed from the start
	ChecksWeight     int64 `json:"checks_weight"` // of all of them together
	Left             bool  `json:"left"`          // still possible at the end
	LeftChecks       int   `json:"left_checks"`   // still owed at the end
	LeftChecksWeight int64 `json:"left_checks_weight"`
}

// StepState says what a step is worth as evidence.
type StepState string

// The states of a step.
const (
	Counted StepState = "counted"
	Repeat  StepState = "repeat" // a line read before: costs its minutes again, tells nothing
	// letters do not fit: costs its minutes, proves nothing, makes the mark provisional
	Unproven StepState = "letters"
	Unknown  StepState = "unknown line" // no such line: costs nothing, makes the mark provisional
	Dropped  StepState = "dropped"      // by adjust.toml: neither costs nor tells anything
	NoStep   StepState = "no step"      // what was written cannot be read: costs nothing, makes the mark provisional
	Banned   StepState = "forbidden"    // an instrument that the plan forbids: costs its minutes, proves nothing
)

// Step is one reading that a student took.
type Step struct {
	Text    string    `json:"text"`    // as written
	Line    int       `json:"line"`    // -1 when the text is no step
	Letters string    `json:"letters"` // as entered
	State   StepState `json:"state"`
	Test    int       `json:"test"`    // -1 when unknown
	Reading string    `json:"reading"` // with what was printed beside it
	Normal  bool      `json:"normal"`  // what the reading is
	Judged  string    `json:"judged"`  // "+", "-" or ""
	Agrees  bool      `json:"agrees"`  // the verdict fits the reading; also true where none is asked
	Silent  bool      `json:"silent"`  // no verdict asked
	Minutes int64     `json:"minutes"` // tenths
	Lost    float64   `json:"lost"`    // Q(S,t) - V(S), tenths of a minute
	Before  int       `json:"before"`  // suspects (hypotheses) before and after
	After   int       `json:"after"`
	Value   float64   `json:"value"` // V(S) before the step, tenths of a minute
	// best test at that moment, -1 when nothing was left to test or the step was best
	Better  int    `json:"better"`
	Split   []int  `json:"split"`   // suspects per band that the better test would have left, largest first
	Pointed string `json:"pointed"` // in words, to what each reading of the better test would have pointed
	Cleared []int  `json:"cleared"` // repairs ruled out by this reading
	Checks  []int  `json:"checks"`  // checks that it made, of repairs that stayed possible
	// made where a repair that was possible has to be proven: never a mistake, whatever it lost
	Own     bool     `json:"own"`
	Remarks []string `json:"remarks"`
}

// Told reports that the reading told something: whatever it was, it could be expected to save some of the time that was
// left. A test that loses all its minutes is as if it had not been made, even if it happened to rule out a suspect.
func (s Step) Told() bool { return s.State == Counted && s.Lost < float64(s.Minutes) }
