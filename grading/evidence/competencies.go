// Package evidence keeps what grading one lab says about each student: what a sheet gave an opportunity for, and
// whether it was met.
//
// Start at FromResult, which makes the records of a graded lab. What counts is in the table of this file;
// opportunity.go applies it. A record is frozen like a lab: what it says is not worked out again when a rule changes
// later. Everything here is evidence of diagnostic reasoning on paper, not of hands-on performance. What follows from
// the records of a term is for package competency.
package evidence

import (
	"fmt"
	"nospark/scenarios/lab"
)

// Competency is something a student can do, and how a sheet gives evidence of it: at most one opportunity per sheet, so
// that a coordinator can recount it by hand.
type Competency struct {
	ID          string
	Title       string
	Opportunity string // what makes a sheet an opportunity
	Met         string // when it is met
	Source      string // where the evidence comes from
	HandsOn     bool   // shown with the hands: never signed from paper or screen alone
	Own         bool   // of a pack that somebody wrote; the table does not know it
}

// Competencies that do not come from the tests of a pack.
const (
	Economy     = "economy"
	Proof       = "proof"
	Reasoning   = "reasoning"
	SafeWorking = "safe-working"
)

// retired is the competency "confirming the complaint" of records of format 1: everybody met it, so it told nothing.
const retired = "complaint"

// Retired tells that a competency of older records is not counted any more.
func Retired(id string) bool { return id == retired }

// Limits of the table below.
const (
	// economyShare is how much of the lab's reference time may be lost. Practice of this project, no source: students
	// who mostly choose well stay below it, and those who go from point to point in order do not.
	economyShare = 0.5
	reasoningMet = 3 // of 0 to 4 in the instructor's column
)

// What the competencies of tests have in common. The opportunity follows from the sheet alone, its complaint, its fault
// and best play from the one to the other: whoever chooses not to test has had it and not met it.
const (
	testOpportunity = "best play on this sheet needs %s, whatever the student chose to do"
	testMet         = "%s was taken that told something, or took part in proving the repair, and every verdict " +
		"on such tests agrees " +
		"with the reading"
	testSource = "steps on the worksheet: line, letters and verdict; the specification of the class reference"
)

// testKind describes the competency of a kind of test; what says what such a test is, with its article.
func testKind(id, title, what string) Competency {
	return Competency{ID: id, Title: title, Opportunity: fmt.Sprintf(testOpportunity, what),
		Met:    fmt.Sprintf(testMet, what),
		Source: testSource}
}

// Table lists the competencies that the program knows, in the order in which they are shown. The ids of the tests'
// kinds are those that the built-in packs give their tests; a pack may bring others, which are shown by their id.
func Table() []Competency {
	return []Competency{
		testKind("source-voltage", "Source voltage", "a reading of the battery or of a feed"),
		testKind("voltage-drop", "Voltage drop tests",
			"a reading of the voltage lost along a path that carries current"),
		testKind("ground-integrity", "Ground tests (integrity)", "a reading between a ground point and the "+
			"battery, or of the resistance of a ground"),
		testKind("signal-checks", "Signals", "a reading of a signal: of a sensor, a reference, or a controller's "+
			"command"),
		testKind("component-test", "Testing a part by itself", "a test of a part taken off the circuit, or by "+
			"its own test"),
		testKind("secondary-and-spark", "Secondary side and spark", "a test of the high-tension side: spark, kV, "+
			"leads, plugs, gap"),
		testKind("timing-inputs", "Timing and its inputs", "a reading of the timing or of what it is set by"),
		{
			ID: Economy, Title: "Economical reasoning", Opportunity: "every sheet that was worked on",
			Met:    "the minutes lost by steps and by concluding too early are at most half of the lab's reference time",
			Source: "lost minutes of the results workbook: columns steps and too early",
		},
		{
			ID: Proof, Title: "Proof before replacement", Opportunity: "every sheet that was worked on",
			Met: "the repair is right, and when it was concluded no test could have changed it: nothing was lost by " +
				"concluding too early",
			Source: "the readings taken and the repair concluded",
		},
		{
			ID: Reasoning, Title: "Reasoning in writing", Opportunity: "the instructor filled in the column reasoning",
			Met:    "3 or 4 of 4",
			Source: "the instructor's column, from what the student wrote under expected, rules out and reason",
		},
		{
			ID: SafeWorking, Title: "Safe working", Opportunity: "the instructor filled in the column safe", Met: "yes",
			HandsOn: true,
			Source:  "the instructor's column",
		},
	}
}

// Own describes a competency that the table does not know.
func Own(id string) Competency {
	c := testKind(id, id, "a test of this kind")
	c.Own = true
	return c
}

// ofTest gives the id under which a test counts, "" for none. A pack that happens to use one of the ids that do not
// come from tests gets one of its own, so that its tests are not counted as the instructor's judgment.
func ofTest(t lab.Test) string {
	switch t.Competency {
	case retired, Economy, Proof, Reasoning, SafeWorking:
		return "test-" + t.Competency
	}
	return t.Competency
}
