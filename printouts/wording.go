package printouts

import (
	"fmt"
	"nospark/scenarios/handout"
	"strings"
)

// The standing texts of the handouts.
const (
	howToWork = "Write the test and what a good reading is in the record. Only then ask your partner for that line. Copy letters and " +
		"reading, judge the reading, and write what it rules out. Minutes count. Stop when one repair is left."
	howToAnswer = "Wait until the test and the expected reading are written down. Then read out the one line that is asked for, letters " +
		"first, and no other. “Engine does not run” is an answer too; it is not judged. Keep this page to yourself until the conclusion " +
		"is written."
	// cellsNote stands beside the heading of the grid.
	cellsNote = "The number in a cell is the line to ask for; a dash means there is no such test."
	// repairCode says what a repair's code looks like.
	repairCode = "the four characters of its code, like 12HM"
)

// pointsWithout names the points that have no row in the grid.
func pointsWithout(points string) string {
	return "Points without a row: " + points + ". What can be tested there stands under other tests."
}

// moreTests says where to go on when the record is full.
func moreTests(rows int) string {
	return fmt.Sprintf("More than %d tests: go on on a sheet of your own.", rows)
}

// forbiddenText says what must not be used, "" where everything may.
func forbiddenText(h handout.Handout) string {
	if len(h.Forbidden) == 0 {
		return ""
	}
	return "Not allowed in this lab: " + listed(h.Forbidden) + "."
}

// howToWorkSteps tells the same at length, on the class reference.
var howToWorkSteps = []string{
	"**Read** the complaint on your worksheet and follow the circuit on the diagram. Which parts can cause it?",
	"**Choose a test**: a point in the grid and where the other lead goes, or one of the other tests. Its minutes are those of the " +
		"column plus the access to the point. Ask first what each outcome would rule out: where every outcome leaves the same repairs, " +
		"the minutes are lost.",
	"**Commit.** Write the test, what a good reading is, its line number and its minutes into the record, before anybody looks at the " +
		"reading.",
	"**Ask your partner** for this one line. The partner holds your readings sheet and answers with two letters and the reading, and " +
		"with nothing else.",
	"**Copy** letters and reading. The letters show that this line was looked up, and that it was copied without a slip. A line has three " +
		"digits and two letters; the letters are never vowels: what looks like an O or an I is a digit.",
	"**Judge.** Compare with the specifications: + for a good reading, - for one that is not. Write what it rules out. Where the reading " +
		"is “engine does not run” write no sign: the test costs its minutes, but there is nothing to judge. An idle or loaded test of an " +
		"engine that does not start tells nothing new.",
	"**Conclude** when the readings leave one repair, or when no test is left that could tell the others apart: " + repairCode +
		", and the reason in two sentences.",
	"**Minutes count**, not the number of tests. What counts against you are the minutes lost against best play; a wrong repair costs its own " +
		"minutes as well, and a wrong sign costs part of the mark.",
}

// signed keeps a lone sign with the word before it: a line never begins with the minus of "battery -".
func signed(text string) string {
	words := strings.Split(text, " ")
	for i := len(words) - 1; i > 0; i-- {
		if word := strings.TrimRight(words[i], ",;:"); word == "-" || word == "+" {
			words[i-1] += "\u00a0" + words[i]
			words = append(words[:i], words[i+1:]...)
		}
	}
	return strings.Join(words, " ")
}
