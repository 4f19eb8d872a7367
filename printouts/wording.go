package printouts

// The standing texts of the handouts.
const (
	howToWork = "Write the test and what it should read in the record. Only then ask your partner for that line. Copy letters and reading, " +
		"judge the reading, and write what it rules out. Stop when one repair is left."
	howToAnswer = "Wait until the test and the expected reading are written down. Then read out the one line that is asked for, letters " +
		"first, and no other. Keep this page to yourself until the conclusion is written."
)

// howToWorkSteps tells the same at length, on the class reference.
var howToWorkSteps = []string{
	"**Read** the complaint on your worksheet and follow the circuit on the diagram. Which parts can cause it?",
	"**Choose a test**: a point in the grid and where the other lead goes, or one of the other tests. Its minutes are those of the " +
		"column plus the access to the point. A test that can tell nothing new costs all its minutes.",
	"**Commit.** Write the test, what it should read, and its line number into the record, before anybody looks at the reading.",
	"**Ask your partner** for this one line. The partner holds your readings sheet and answers with two letters and the reading, and " +
		"with nothing else.",
	"**Copy** letters and reading. The letters show that this line was looked up, and that it was copied without a slip.",
	"**Judge.** Compare with the specifications: + for a good reading, - for one that is not. Write what it rules out.",
	"**Conclude** when the readings leave one repair, or when no test is left that could tell the others apart: code and letters of " +
		"the repair, and the reason in two sentences.",
}
