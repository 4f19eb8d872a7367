// Package evidence keeps what grading one lab says about each student: what a sheet gave an opportunity for, and whether
// it was met.
//
// Start at FromResult, which makes the records of a graded lab. What counts is in the table of this file; opportunity.go
// applies it. A record is frozen like a lab: what it says is not worked out again when a rule changes later. Everything
// here is evidence of diagnostic reasoning on paper, not of hands-on performance. What follows from the records of a term
// is for package competency.
package evidence

import (
	"nospark/scenarios"
)

// Competency is something a student can do, and how a sheet gives evidence of it: at most one opportunity per student
// and lab, so that a coordinator can recount it by hand.
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
	Complaint   = "complaint"
	Economy     = "economy"
	Proof       = "proof"
	Reasoning   = "reasoning"
	SafeWorking = "safe-working"
)

// Limits of the table below.
const (
	// economyShare is how much of the lab's reference time may be lost. Practice of this project, no source: students
	// who mostly choose well stay below it, and those who go from point to point in order do not.
	economyShare = 0.5
	reasoningMet = 3 // of 0 to 4 in the instructor's column
)

// What the competencies of tests have in common.
const (
	testOpportunity = "best play on this sheet needs a test of this kind and the repair was not proven without one, " +
		"or the student took one and a verdict was asked"
	testMet = "every verdict on these tests agrees with the reading; and where best play needs one, at least " +
		"one of them told something or the repair was proven"
	testSource = "steps on the worksheet: line, letters and verdict; the specification of the class reference"
)

func testKind(id, title string) Competency {
	return Competency{ID: id, Title: title, Opportunity: testOpportunity, Met: testMet, Source: testSource}
}

// Table lists the competencies that the program knows, in the order in which they are shown. The ids of the tests'
// kinds are those that the built-in packs give their tests; a pack may bring others, which are shown by their id.
func Table() []Competency {
	return []Competency{
		{
			ID: Complaint, Title: "Confirming the complaint", Opportunity: "the sheet has a conclusion",
			Met: "at least one reading was taken that counts, and the repair is one that can cure the complaint on " +
				"the sheet",
			Source: "the complaint on the worksheet and the repair concluded",
		},
		testKind("source-voltage", "Source voltage"),
		testKind("voltage-drop", "Voltage drop tests"),
		testKind("ground-integrity", "Ground tests (integrity)"),
		testKind("signal-checks", "Signals"),
		testKind("component-test", "Testing a part by itself"),
		testKind("secondary-and-spark", "Secondary side and spark"),
		testKind("timing-inputs", "Timing and its inputs"),
		{
			ID: Economy, Title: "Economical reasoning", Opportunity: "every sheet handed in",
			Met:    "the minutes lost by steps and by concluding too early are at most half of the lab's reference time",
			Source: "lost minutes of the results workbook: columns steps and too early",
		},
		{
			ID: Proof, Title: "Proof before replacement", Opportunity: "the sheet has a conclusion",
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
	c := testKind(id, id)
	c.Own = true
	return c
}

// ofTest gives the id under which a test counts, "" for none. A pack that happens to use one of the ids that do not
// come from tests gets one of its own, so that its tests are not counted as the instructor's judgement.
func ofTest(t scenarios.Test) string {
	switch t.Competency {
	case Complaint, Economy, Proof, Reasoning, SafeWorking:
		return "test-" + t.Competency
	}
	return t.Competency
}
